import type { BenchRecord, IdentifyAnswer, RecordTerminal } from '../../../catalog-schema/index.ts';
import { THREADS, type ThreadRow } from '../../../catalog-schema/reference/index.ts';
import { readThread } from '../../../catalog-schema/thread/index.ts';
import { describeSetting, settingOf } from '../settings.ts';
import { expectBits } from './expected-bits.ts';
import { pushOpen } from './open-reading.ts';
import { normaliseLogs, roundShares } from './posterior.ts';
import { readMeasured, showNumber } from './read-measured.ts';
import type { Said } from './said.ts';
import { STUD_INSTRUMENTS, STUD_KEYS, studShowings, threadDensity, threadDistance, threadPrior, type StudKey } from './thread-likelihood.ts';

interface StudReading { readonly key: StudKey; readonly value: number; readonly sigma: number }

const WORDS: Readonly<Record<StudKey, string>> = { pitchMm: 'pitch', majorDiameterMm: 'major diameter', nutAcrossFlatsMm: 'nut' };

/** What a measurement tells while nothing is known of the thread. */
const UNKNOWN: Readonly<Record<StudKey, string>> = {
  pitchMm: 'it tells metric threads from inch ones', majorDiameterMm: 'it tells the sizes from M3 and #4 to M12 and 1/2 in apart', nutAcrossFlatsMm: 'it tells the sizes apart by the nut',
};

/**
 * How likely each thread of the standard table is on each stud and screw: how common it is, times the likelihood of the major diameter
 * (anywhere in the tolerance zone of ISO 965-1 6g or ASME B1.1 2A), the pitch and the nut (ISO 4032 and the small series,
 * ASME B18.2.2), each read with its instrument's error. A thread given by name stands; measurements that deny it are a conflict.
 */
export function findThreads(record: BenchRecord, said: Said): IdentifyAnswer['threads'] {
  return (record.terminals ?? []).flatMap((terminal, index) => {
    const named = terminal.thread === undefined ? undefined : readThread(terminal.thread);
    const path = `terminals[${index}]`;
    const readings = readStud(terminal, said);
    const paths = readings.map(({ key }) => `${path}.${key}`);
    if (named) {
      const known = THREADS.find((row) => row.name === named.name);
      if (known && denies(known, readings)) {
        said.conflicts.push({
          paths: [`${path}.thread`, ...paths],
          why: `${known.name} has a major diameter of ${showNumber(known.majorMinMm)} to ${showNumber(known.majorMaxMm)} mm and a pitch of ${showNumber(known.pitchMm)} mm: what was measured denies it`,
        });
      }
      if (named.pitchAssumed) said.assumptions.add(`${terminal.thread} was written without threads per inch: taken as ${named.name}`);
      return [{ terminal: terminal.id, candidates: [{ thread: named.name, series: named.series, probability: 1 }] }];
    }
    if (readings.length === 0 && terminal.form !== 'stud' && terminal.form !== 'screw') return [];
    if (readings.length > 0 && THREADS.every((row) => denies(row, readings))) {
      said.conflicts.push({ paths, why: `no thread of the table (M3 to M12, #4 to 1/2 in) has what was measured on ${terminal.id}` });
      return [{ terminal: terminal.id, candidates: [] }];
    }
    const shares = normaliseLogs(THREADS.map((row) => readings.reduce(
      (log, { key, value, sigma }) => log + Math.log(threadDensity(row, key, value, sigma)), Math.log(threadPrior(row)))));
    const weighed = THREADS.map((of, i) => ({ of, share: shares[i]! })).toSorted((a, b) => b.share - a.share || (a.of.name < b.of.name ? -1 : 1));
    noteOpen(terminal, weighed, shares, said);
    if (readings.length === 0) return [];
    said.assumptions.add(describeSetting('fineMetricShare')).add(describeSetting('unfShare')).add(describeSetting('secondChoiceShare'));
    const rounded = roundShares(weighed.map(({ share }) => share));
    return [{
      terminal: terminal.id,
      candidates: weighed.map(({ of }, i) => ({ thread: of.name, series: of.series, probability: rounded[i]! })).filter(({ probability }) => probability > 0),
    }];
  });
}

function readStud(terminal: RecordTerminal, said: Said): StudReading[] {
  return STUD_KEYS.flatMap((key) => {
    const measured = terminal[key];
    if (measured === undefined) return [];
    if (key === 'nutAcrossFlatsMm') {
      for (const name of ['plainNutWeight', 'strayNutShare', 'nutLeastOfNominal'] as const) said.assumptions.add(describeSetting(name));
    }
    const { value, sigma } = readMeasured(measured, STUD_INSTRUMENTS[key], said.assumptions);
    return [{ key, value, sigma }];
  });
}

/** Whether some measurement lies too far outside what the thread allows for both to be true. */
function denies(row: ThreadRow, readings: readonly StudReading[]): boolean {
  return readings.some(({ key, value, sigma }) => threadDistance(row, key, value, sigma) > settingOf('beyondSigma'));
}

function noteOpen(terminal: RecordTerminal, weighed: readonly { of: ThreadRow; share: number }[], shares: readonly number[], said: Said): void {
  const likely = weighed.filter(({ share }) => share >= 0.02).map(({ of }) => of.name);
  if (likely.length < 2) return;
  const told = STUD_KEYS.some((key) => terminal[key] !== undefined) ? `it tells ${sayFrom(likely)}` : undefined;
  for (const key of STUD_KEYS) {
    if (terminal[key] !== undefined) continue;
    pushOpen(said, `measure the ${WORDS[key]} of ${terminal.id}`, told ?? UNKNOWN[key], expectBits(shares, studShowings()[key]), key === 'nutAcrossFlatsMm' ? 'botherOfNut' : key === 'pitchMm' ? 'botherOfPitch' : 'botherOfCaliper');
  }
}

/** 'A from B', 'A from B and C', 'A from B and 3 others' */
function sayFrom([first = '', second = '', ...others]: readonly string[]): string {
  const rest = others.length === 0 ? '' : others.length === 1 ? ` and ${others[0]}` : ` and ${others.length} others`;
  return `${first} from ${second}${rest}`;
}
