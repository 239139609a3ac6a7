import type { BenchRecord, IdentifyAnswer, OhmReading, RecordTerminal } from '../../../catalog-schema/index.ts';
import { COPPER_ALPHA_20C } from '../../../catalog-schema/reference/index.ts';
import { readThread } from '../../../catalog-schema/thread/index.ts';
import { describeSetting, settingOf } from '../settings.ts';
import type { Said } from './said.ts';
import { readMeasured, showNumber } from './read-measured.ts';

/**
 * Coils that were read at rest between two small terminals (no stud, or a thin one), or one and the case, with their resistance at 20 C:
 * R20 = R / (1 + 0.00393 (T - 20)) (IEC 60028). Two readings of one pair that cannot both be true are a conflict, never averaged.
 */
export function findCoils(record: BenchRecord, said: Said): IdentifyAnswer['coils'] {
  const { nominalV } = record.system;
  const small = new Set((record.terminals ?? []).filter((terminal) => isSmall(terminal, said)).map(({ id }) => id));
  const readings = (record.ohms ?? []).map((reading, index) => ({ reading, index }))
    .filter(({ reading }) => reading.pulledIn !== true && isSmallPair(reading, small, record.terminals === undefined));
  noteContradictions(readings, said);

  const seen = new Set<string>();
  return readings.flatMap(({ reading }) => {
    const key = pairKey(reading);
    if (seen.has(key)) return [];
    if (reading.ohm === 'open') {
      const other = readings.some((each) => each.reading !== reading && pairKey(each.reading) === key && each.reading.ohm !== 'open');
      if (!other && readings.every((each) => each.reading.ohm === 'open')) {
        said.cautions.add(`Open between ${reading.between.join(' and ')}: if the coil lies there, it is burnt through.`);
      }
      return [];
    }
    const { value, low } = readMeasured(reading.ohm, 'ohmmeter', said.assumptions);
    if (value < settingOf('leastCoilOhm')) return [];
    seen.add(key);
    if (record.benchC === undefined) said.assumptions.add('20 C: temperature of the coil when measured, since benchC is not given');
    const ohmAt20C = value / (1 + COPPER_ALPHA_20C * ((record.benchC ?? 20) - 20));
    if (low <= 0) said.cautions.add(`${showNumber(value)} Ohm between ${reading.between.join(' and ')} is within the error of the meter: use volts over amps.`);
    return [{
      between: [...reading.between] as [string, string], ohmAt20C: round(ohmAt20C), nominalV: nominalOf(record, said),
      amps: round(nominalV / ohmAt20C), watts: round((nominalV * nominalV) / ohmAt20C),
    }];
  });
}

/** The marked voltage is known; without it nothing is claimed, since ohms alone leave several open. */
function nominalOf(record: BenchRecord, said: Said): { volts: number; probability: number }[] {
  const marked = record.marked?.coilV;
  if (marked !== undefined) return [{ volts: marked, probability: 1 }];
  said.assumptions.add("the coil's nominal voltage is not marked: it is not inferred from its ohms yet");
  return [];
}

/** A control terminal: no stud, or one that is known to be thin. */
function isSmall(terminal: RecordTerminal, said: Said): boolean {
  if (terminal.form !== 'stud') return true;
  const { thread, majorDiameterMm } = terminal;
  const majorMm = (thread === undefined ? undefined : readThread(thread)?.majorMm)
    ?? (majorDiameterMm === undefined ? undefined : readMeasured(majorDiameterMm, 'caliper', said.assumptions).value);
  const thin = majorMm !== undefined && majorMm < settingOf('heavyStudMm');
  if (thin) said.assumptions.add(describeSetting('heavyStudMm'));
  return thin;
}

function isSmallPair({ between }: OhmReading, small: ReadonlySet<string>, noTerminals: boolean): boolean {
  return between.every((node) => node === 'case' || noTerminals || small.has(node)) && between.some((node) => node !== 'case');
}

function noteContradictions(readings: readonly { reading: OhmReading; index: number }[], said: Said): void {
  for (const [i, a] of readings.entries()) {
    for (const b of readings.slice(i + 1)) {
      if (pairKey(a.reading) !== pairKey(b.reading)) continue;
      // A diode makes the two directions differ: only readings taken the same way round contradict.
      if (a.reading.plusOn !== b.reading.plusOn) continue;
      if (contradict(a.reading, b.reading, said)) {
        said.conflicts.push({ paths: [`ohms[${a.index}]`, `ohms[${b.index}]`], why: `two readings between ${a.reading.between.join(' and ')} that cannot both be true` });
      }
    }
  }
}

function contradict(a: OhmReading, b: OhmReading, said: Said): boolean {
  if (a.ohm === 'open' || b.ohm === 'open') return a.ohm !== b.ohm;
  const one = readMeasured(a.ohm, 'ohmmeter', said.assumptions);
  const two = readMeasured(b.ohm, 'ohmmeter', said.assumptions);
  return one.high < two.low || two.high < one.low;
}

function pairKey({ between }: OhmReading): string {
  return JSON.stringify([...between].toSorted());
}

function round(value: number): number {
  return Math.round(value * 1e6) / 1e6;
}
