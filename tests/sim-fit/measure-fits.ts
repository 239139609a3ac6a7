import type { BenchRecord, FitAnswer } from '../../catalog-schema/index.ts';
import { Draws } from '../sim-identify/random.ts';
import { Calibration } from './calibration.ts';
import { drawMachine } from './draw-machine.ts';
import { drawWorld } from './draw-world.ts';
import { Oracle } from './oracle.ts';
import { askAsAsked, type Retaken } from './retake-record.ts';
import { Tally, type CaseFound } from './tally.ts';
import { KINDS, LEVELS, takeRecord, type Kind, type Level } from './take-record.ts';
import { SAFETY_TRAPS, type World } from './truth.ts';

/** Answers one record against a world's catalogue: the product, or anything that shall be held against it. */
export type AskFit = (record: BenchRecord, world: World) => FitAnswer;

export interface FitFigures {
  readonly lines: readonly string[];
  readonly held: boolean;
  /** false direct and adapt on a safety criterion that the answer judged, or that a stray reading made really unsafe */
  readonly falseSafety: number;
  readonly trapsAccepted: number;
  readonly sureOfWhole: number;
  readonly found: readonly CaseFound[];
}

/** What the issue of accuracy is held to. */
export const FIT_BOUNDS = { sureOfWhole: 0.9, fiveFull: 0.99, fiveHalf: 0.9, skill: 0.3, error: 0.02 } as const;

/** Few machines of many worlds: the parts of one world are alike, and a handful of worlds would tell of themselves. */
const MACHINES_A_WORLD = 4;
const LEVEL_NAMES = Object.keys(LEVELS) as Level[];
/** one machine in so many is asked again without each kind of reading */
const ABLATED = 10;

/** What one run counted, or several as one. */
export interface FitCounts {
  readonly tallies: Readonly<Record<Level, Tally>>;
  /** full readings, after those that do not decide were taken once more with something finer, where the answer asks for it */
  readonly asked: Tally;
  readonly retaken: Map<Retaken, number>;
  readonly ablation: ReadonlyMap<Kind | 'none', Tally>;
  readonly run: { readonly cases: number; readonly seed: number; readonly worlds: number; readonly parts: number };
}

/** Runs `cases` records through the product and the oracle; each machine is recorded in full (and asked for once more as the answer asks), with half of the readings, with half of readings and facts, and with few. */
export function measureFits(cases: number, seed: number, ask: AskFit, ablate = true): FitFigures {
  return writeFigures(countFits(cases, seed, ask, ablate));
}

export function countFits(cases: number, seed: number, ask: AskFit, ablate = true): FitCounts {
  const { tallies, asked, retaken, ablation } = startCounts();
  let worlds = 0;
  let parts = 0;
  for (let done = 0, machines = 0; done < cases; worlds++) {
    const world = drawWorld(seed + worlds);
    parts += world.parts.length;
    const draws = new Draws((seed + worlds) * 104_729 + 5);
    for (let i = 0; i < MACHINES_A_WORLD && done < cases; i++, machines++) {
      const machine = drawMachine(world, draws);
      const oracle = new Oracle(machine, world.prices);
      const recordSeed = Math.floor(draws.unit() * 2 ** 31);
      for (const level of LEVEL_NAMES) {
        if (done++ >= cases) break;
        const record = takeRecord(machine, LEVELS[level], new Draws(recordSeed));
        const answer = ask(record, world);
        tallies[level].add(world, oracle, record, answer);
        if (level !== 'full') continue;
        const finer = askAsAsked(machine, { record, answer }, new Draws(recordSeed + 1), (again) => ask(again, world));
        asked.add(world, oracle, finer.record, finer.answer);
        for (const each of finer.retaken) retaken.set(each, (retaken.get(each) ?? 0) + 1);
      }
      if (!ablate || machines % ABLATED !== 0) continue;
      for (const kind of ['none', ...KINDS] as const) {
        const record = takeRecord(machine, LEVELS.full, new Draws(recordSeed), new Set(kind === 'none' ? [] : [kind]));
        if (!ablation.has(kind)) ablation.set(kind, new Tally());
        ablation.get(kind)!.add(world, oracle, record, ask(record, world));
      }
    }
  }
  return { tallies, asked, retaken, ablation, run: { cases, seed, worlds, parts } };
}

export function startCounts(): Omit<FitCounts, 'run'> & { ablation: Map<Kind | 'none', Tally> } {
  return { tallies: Object.fromEntries(LEVEL_NAMES.map((level) => [level, new Tally()])) as Record<Level, Tally>, asked: new Tally(), retaken: new Map(), ablation: new Map() };
}

export function writeFigures({ tallies, asked, retaken, ablation, run }: FitCounts): FitFigures {
  const all = LEVEL_NAMES.map((level) => tallies[level]);
  const sum = (count: (tally: Tally) => number): number => [...all, asked].reduce((total, tally) => total + count(tally), 0);
  const judged = sum((tally) => tally.countSafety(['judged'], true));
  const byReading = sum((tally) => tally.countSafety(['reading'], false));
  const withinGuarantee = sum((tally) => tally.countSafety(['reading'], true)) - byReading;
  const byDefault = sum((tally) => tally.countSafety(['default'], true));
  const notAsked = sum((tally) => tally.countSafety(['not-asked'], true));
  const falseSafety = judged + byReading;
  const trapsAccepted = sum((tally) => [...tally.traps].reduce((total, [trap, row]) => total + (SAFETY_TRAPS.has(trap) ? row.accepted : 0), 0));

  const lines = [`fits: ${run.cases} records of ${Math.ceil(run.cases / LEVEL_NAMES.length)} machines in ${run.worlds} worlds, ${Math.round(run.parts / run.worlds)} parts each, seed ${run.seed}`];
  for (const level of LEVEL_NAMES) {
    lines.push(...describeLevel(level, tallies[level]));
    if (level === 'full') lines.push(...describeLevel('full, what does not decide taken finer as the answer asks,', asked, retaken));
  }
  lines.push(...describeAblation(ablation));
  const calibration = Calibration.pool(all.map((tally) => tally.calibration));
  const onlyJudged = Calibration.pool(all.map((tally) => tally.calibrationJudged));
  const five = (level: Level): number => tallies[level].firstFive / tallies[level].sold;
  // Full readings leave nothing unread on either side: a part whose values the catalogue leaves out is unproven, whatever it costs.
  const fiveWhole = (tally: Tally): number => tally.firstFiveWhole / tally.soldWhole;
  const shareSure = (tally: Tally): number => tally.wholeSure / tally.whole;
  // A reading that straddles a limit is not yet a full one: the answer names it, and whoever takes it finer has them all.
  const [fiveFull, sureOfWhole] = [fiveWhole(asked), shareSure(asked)];
  const held = falseSafety === 0 && trapsAccepted === 0 && sureOfWhole >= FIT_BOUNDS.sureOfWhole && fiveFull >= FIT_BOUNDS.fiveFull && five('half measured') >= FIT_BOUNDS.fiveHalf
    && calibration.claims > 0 && calibration.skill >= FIT_BOUNDS.skill && calibration.error <= FIT_BOUNDS.error;
  lines.push(
    `fitProbability of all listed fits against what works, all levels together: ${calibration.claims} claims, base rate ${percent(calibration.baseRate)}, Brier ${calibration.brier.toFixed(4)}`,
    ...calibration.describe(),
    `  skill ${calibration.skill.toFixed(3)}, calibration error ${calibration.error.toFixed(4)}; on criteria the answer judged alone: skill ${onlyJudged.skill.toFixed(3)}, error ${onlyJudged.error.toFixed(4)}`,
    `safety: false direct or adapt where the answer judged the criterion ${judged}, really unsafe by a reading further off than it swears ${byReading} (within the guarantee of the rating ${withinGuarantee}),`
      + ` on a default of the contract ${byDefault}, on a demand nobody recorded ${notAsked}`,
    `fits: false on safety ${falseSafety} (bound 0), traps accepted ${trapsAccepted} (bound 0), full readings, once what does not decide was taken finer as asked: true fits found sure ${percent(sureOfWhole)} (bound 90 %, as first read ${percent(shareSure(tallies.full))}), least cost in five ${percent(fiveFull)} (bound 99 %, as first read ${percent(fiveWhole(tallies.full))},`
      + ` ${percent(five('full'))} counting parts the catalogue does not write up), half of the readings missing ${percent(five('half measured'))} (bound 90 %) and ${percent(five('half'))} with half of the plain facts missing too, Brier skill ${calibration.skill.toFixed(3)} (bound 0.3), calibration error ${calibration.error.toFixed(3)} (bound 0.02),`
      + ` seed ${run.seed}: ${held ? 'held' : 'not held'}`,
  );
  return { lines, held, falseSafety, trapsAccepted, sureOfWhole, found: [...all, asked].flatMap(({ found }) => found) };
}

function describeLevel(level: string, tally: Tally, retaken?: ReadonlyMap<Retaken, number>): string[] {
  const { calibration, calibrationJudged: onlyJudged } = tally;
  return [
    `${level} readings: ${tally.cases} records; ${(tally.accepted / tally.cases).toFixed(1)} direct or adapt each; none at all in ${percent(tally.nothingSure / tally.cases)}, not even an unproven one in ${percent(tally.nothing / tally.cases)}`,
    `  hit in first place ${percent(tally.first / tally.sold)}, in the first five ${percent(tally.firstFive / tally.sold)} of ${tally.sold} records where something that works is for sale`,
    `  against the least of those written up in full: first ${percent(tally.firstWhole / tally.soldWhole)}, in the first five ${percent(tally.firstFiveWhole / tally.soldWhole)} of ${tally.soldWhole}`,
    `  why not: ${[...tally.missed].toSorted((x, y) => y[1] - x[1]).map(([why, count]) => `${why} ${percent(count / tally.soldWhole, 2)}`).join(', ') || 'nothing'}`,
    `  parts that work and come out direct or adapt: ${percent(tally.wholeSure / tally.whole)} of ${tally.whole} written up in full (${tally.wholeRefused} refused), ${percent(tally.worksSure / tally.works)} of all ${tally.works}`,
    ...(retaken ? [`  taken once more, of ${tally.cases} records: ${[...retaken].map(([which, count]) => `${which} ${percent(count / tally.cases)}`).join(', ') || 'nothing'}`] : []),
    ...(level.startsWith('full') ? [`  kept back by what is not certain even so: ${[...tally.keptBack].toSorted((a, b) => b[1] - a[1]).map(([criterion, count]) => `${criterion} ${percent(count / tally.whole)}`).join(', ') || 'nothing'}`] : []),
    ...(tally.safety.size === 0 ? ['  false direct or adapt on a safety criterion: none'] : ['  false direct or adapt on a safety criterion (who is to blame, how far over the rating):', ...tally.describeSafety().map((line) => `  ${line}`)]),
    `  false direct or adapt on other criteria, of ${tally.accepted} so called: ${[...tally.other].toSorted((a, b) => b[1] - a[1]).map(([key, count]) => `${key} ${percent(count / tally.accepted, 2)}`).join('; ') || 'none'}`,
    '  planted beside the removed part:', ...tally.describeTraps().map((line) => `  ${line}`),
    ...(calibration.claims === 0 ? ['  fitProbability: none given'] : [
      `  fitProbability against what works: base rate ${percent(calibration.baseRate)}, Brier ${calibration.brier.toFixed(4)}, skill ${calibration.skill.toFixed(3)}, calibration error ${calibration.error.toFixed(4)};`
        + ` on judged criteria alone: skill ${onlyJudged.skill.toFixed(3)}, error ${onlyJudged.error.toFixed(4)}`,
      ...calibration.describe().map((line) => `  ${line}`), '  what is unknown, and how it truly is:', ...tally.describeUnknowns().map((line) => `  ${line}`)]),
  ];
}

function describeAblation(ablation: ReadonlyMap<Kind | 'none', Tally>): string[] {
  const whole = ablation.get('none');
  if (!whole) return [];
  return [
    `what each kind of reading brings, ${whole.cases} fully recorded machines asked again without it:`,
    ...[...ablation].map(([kind, tally]) => `  ${kind === 'none' ? 'with all' : `without ${kind}`}`.padEnd(24)
      + `first ${percent(tally.firstWhole / tally.soldWhole)}, in five ${percent(tally.firstFiveWhole / tally.soldWhole)} of those written up, direct or adapt ${(tally.accepted / tally.cases).toFixed(1)} a record, nothing sure in ${percent(tally.nothingSure / tally.cases)}`),
  ];
}

function percent(share: number, places = 1): string {
  return `${(100 * share).toFixed(places)} %`;
}
