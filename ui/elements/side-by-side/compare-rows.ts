import { CRITERIA, type BenchRecord, type Check, type CoilElement, type Fit, type IdentifyAnswer, type MountingHole, type Part, type RecordTerminal, type Terminal } from '../../../catalog-schema/index.ts';
import type { LengthUnit } from '../../client/index.ts';
import { formatLength, formatMeasuredLength, formatMoney, formatNumber } from '../../format.ts';
import { sayWhatItTakes } from '../../screens/fits/fit-words.ts';
import { words } from '../../words.ts';
import { fitsWords } from '../../words/fits.ts';

/** One candidate: the part and its fit. */
export interface Beside { readonly part: Part; readonly fit: Fit }

/** What one part offers in a row; an outcome where a check judged it. */
export interface Cell { readonly said: string; readonly outcome?: Check['outcome'] }

/** One thing compared: what came off or what the machine asks, and each candidate's. */
export interface CompareRow { readonly key: string; readonly name: string; readonly old: string; readonly cells: readonly Cell[]; readonly differs: boolean }

export interface CompareInput {
  readonly record: BenchRecord;
  readonly identify: IdentifyAnswer | undefined;
  readonly unit: LengthUnit;
  readonly beside: readonly Beside[];
  /** where a fit's part is, in words */
  readonly sayWhere: (fit: Fit) => string;
}

/** Every row of the comparison in a fixed order; a row that says nothing of any part is left out. */
export function compareParts(input: CompareInput): CompareRow[] {
  const { record, unit, beside } = input;
  const names = fitsWords.besideRows;
  const row = (key: string, name: string, old: string, cellOf: (each: Beside) => Cell): CompareRow => {
    const cells = beside.map(cellOf);
    return { key, name, old, cells, differs: cells.some((cell) => cell.said !== cells[0]!.said || cell.outcome !== cells[0]!.outcome) };
  };
  const plain = (say: (each: Beside) => string) => (each: Beside): Cell => ({ said: say(each) });
  return [
    row('verdict', names.verdict, '', plain(({ fit }) => fitsWords.verdicts[fit.verdict])),
    row('cost', names.cost, '', plain(({ fit: { expectedCost } }) => (expectedCost === null ? fitsWords.noPrice : formatMoney(expectedCost.total, expectedCost.currency)))),
    row('works', names.works, '', plain(({ fit }) => (fit.verdict === 'no' || fit.fitProbability === null ? '' : fitsWords.likely(fit.fitProbability)))),
    row('learned', names.learned, '', plain(({ fit: { learned } }) => (learned === undefined ? '' : fitsWords.learned(learned.held, learned.cameBack)))),
    row('where', names.where, '', plain(({ fit }) => input.sayWhere(fit))),
    row('takes', names.takes, '', plain(({ fit }) => (fit.verdict === 'no' ? '' : sayWhatItTakes(fit)))),
    row('changes', names.changes, '', plain(({ fit }) => (fit.rewire === null ? '' : String(fit.rewire.changes)))),
    row('ohms', names.ohms, sayOldCoils(input.identify), plain(({ part }) => part.circuit.filter((each): each is CoilElement => each.kind === 'coil').map(sayCoil).join('; '))),
    row('studs', names.studs, sayTerminals(record.terminals ?? [], 'stud', unit), plain(({ part }) => sayTerminals(part.terminals, 'stud', unit))),
    row('tabs', names.tabs, sayTerminals(record.terminals ?? [], 'tab', unit), plain(({ part }) => sayTerminals(part.terminals, 'tab', unit))),
    row('holes', names.holes, sayHoles(record.mounting?.holes ?? [], unit), plain(({ part }) => sayHoles(part.mounting?.holes ?? [], unit))),
    ...CRITERIA.map((criterion) => {
      const checks = beside.map(({ fit }) => fit.checks.find((check) => check.criterion === criterion));
      return row(criterion, words.criteria[criterion], checks.find((check) => check !== undefined)?.needed ?? '', (each) => {
        const check = checks[beside.indexOf(each)];
        return check === undefined ? { said: '' } : { said: check.offered, outcome: check.outcome };
      });
    }),
  ].filter(({ cells }) => cells.some(({ said }) => said !== ''));
}

function sayOldCoils(identify: IdentifyAnswer | undefined): string {
  return (identify?.coils ?? []).map(({ ohmAt20C }) => `${formatNumber(ohmAt20C, 2)} Ω`).join('; ');
}

function sayCoil({ nominalV, ohmAt20C }: CoilElement): string {
  return fitsWords.coilOhms(formatNumber(nominalV), ohmAt20C === undefined ? fitsWords.ohmsNotSaid : `${formatNumber(ohmAt20C, 2)} Ω`);
}

/** The sizes of terminals of one form, alike ones said once: '2 × M8x1.25'. */
function sayTerminals(terminals: readonly (Terminal | RecordTerminal)[], form: 'stud' | 'tab', unit: LengthUnit): string {
  const sizes = new Map<string, number>();
  for (const terminal of terminals.filter((each) => each.form === form)) {
    const measured = 'majorDiameterMm' in terminal ? terminal.majorDiameterMm : undefined;
    const size = form === 'tab'
      ? terminal.tabWidthMm === undefined ? fitsWords.notKnownOf : formatMeasuredLength(terminal.tabWidthMm, unit)
      : terminal.thread ?? (measured === undefined ? fitsWords.notKnownOf : formatMeasuredLength(measured, unit));
    sizes.set(size, (sizes.get(size) ?? 0) + 1);
  }
  return [...sizes].map(([size, count]) => `${count} × ${size}`).join(', ');
}

function sayHoles(holes: readonly MountingHole[], unit: LengthUnit): string {
  if (holes.length === 0) return '';
  const sizes = [...new Set(holes.map(({ diameterMm, slotMm = 0 }) => {
    const size = `Ø ${formatLength(diameterMm, unit)}`;
    return slotMm > 0 ? fitsWords.slotted(size, formatLength(slotMm, unit)) : size;
  }))].join(', ');
  const [a, b] = holes;
  return fitsWords.holesOf(holes.length, sizes, holes.length === 2 ? formatLength(Math.round(Math.hypot(b!.xMm - a!.xMm, b!.yMm - a!.yMm) * 10) / 10, unit) : '');
}
