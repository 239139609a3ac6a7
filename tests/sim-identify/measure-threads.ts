import { identify } from '../../api/engine/index.ts';
import type { BenchRecord } from '../../catalog-schema/index.ts';
import { AnswerTime } from './answer-time.ts';
import { weighIdeally } from './ideal-threads.ts';
import { Draws } from './random.ts';
import { Reliability } from './reliability.ts';
import { drawStud, INSTRUMENTS, TRUE_THREADS, type Instrument, type StudReadings } from './stud-world.ts';

export const THREAD_BOUNDS = { behindIdeal: 0.01, withPitch: 0.97, answerMs: 50 };

/** What is at hand on a bench: always a caliper. The issue's own set, all three, is the last. */
const SETS: readonly (readonly Instrument[])[] = [['caliper'], ['caliper', 'nut'], ['caliper', 'pitch'], ['caliper', 'pitch', 'nut']];
const KEYS = { caliper: 'majorDiameterMm', pitch: 'pitchMm', nut: 'nutAcrossFlatsMm' } as const satisfies Record<Instrument, string>;

interface Score { studs: number; right: number; ideal: number; brier: number; idealBrier: number }
export interface ThreadFigures {
  lines: string[];
  held: boolean;
  /** top-1 accuracy, of the answer and of the ideal, by the instruments used */
  sets: { instruments: string; accuracy: number; ideal: number }[];
  /** records of which the ideal tells the thread and the answer does not */
  missed: { record: BenchRecord; truth: string; answered: string }[];
}

/** Reads every stud with each set of instruments and compares the answers with the truth and with the ideal. */
export function measureThreads(count: number, seed: number): ThreadFigures {
  const draws = new Draws(seed);
  const time = new AnswerTime(THREAD_BOUNDS.answerMs);
  const tops = new Reliability();
  const all = new Reliability();
  const missed: ThreadFigures['missed'] = [];
  const scores = SETS.map((): Score => ({ studs: 0, right: 0, ideal: 0, brier: 0, idealBrier: 0 }));
  for (let i = 0; i < count; i++) {
    const stud = drawStud(draws);
    SETS.forEach((set, index) => {
      const score = scores[index]!;
      const readings: StudReadings = Object.fromEntries(set.map((instrument) => [instrument, stud.readings[instrument]]));
      const record = recordOf(readings);
      const said = new Map((time.ask(identify, record).threads[0]?.candidates ?? []).map(({ thread, probability }) => [thread, probability]));
      const answered = TRUE_THREADS.map(({ name }) => said.get(name) ?? 0);
      const ideal = weighIdeally(readings);
      const truth = TRUE_THREADS.indexOf(stud.thread);
      const [top, idealTop] = [topOf(answered), topOf(ideal)];
      score.studs++;
      if (top === truth) score.right++;
      if (idealTop === truth) score.ideal++;
      score.brier += brierOf(answered, truth);
      score.idealBrier += brierOf(ideal, truth);
      tops.add(answered[top]!, top === truth);
      answered.forEach((probability, which) => { if (probability > 0) all.add(probability, which === truth); });
      if (top !== truth && idealTop === truth) missed.push({ record, truth: stud.thread.name, answered: TRUE_THREADS[top]!.name });
    });
  }

  const percent = (share: number): string => `${(100 * share).toFixed(2)} %`;
  const lines = [`${count} studs, seed ${seed}, ${TRUE_THREADS.length} threads, each stud read with ${SETS.length} sets of instruments`];
  const sets = scores.map(({ studs, right, ideal, brier, idealBrier }, index) => {
    const instruments = SETS[index]!.map((instrument) => `${instrument} +-${INSTRUMENTS[instrument].claimedMm}`).join(', ');
    const [accuracy, best] = [right / studs, ideal / studs];
    lines.push(`${instruments.padEnd(46)} top-1 ${percent(accuracy)}, ideal ${percent(best)}, behind ${percent(best - accuracy)}; Brier ${(brier / studs).toFixed(4)}, ideal ${(idealBrier / studs).toFixed(4)}`);
    return { instruments, accuracy, ideal: best };
  });
  lines.push('reliability, the most likely thread of each answer:', ...tops.describe(), 'reliability, every thread named:', ...all.describe());
  const behind = Math.max(...sets.map(({ accuracy, ideal }) => ideal - accuracy));
  const withPitch = Math.min(...sets.filter((_, index) => SETS[index]!.includes('pitch')).map(({ accuracy }) => accuracy));
  lines.push(time.describe());
  const held = behind <= THREAD_BOUNDS.behindIdeal && withPitch >= THREAD_BOUNDS.withPitch && time.held;
  lines.push(`threads: at most ${percent(behind)} behind the ideal (bound 1 %), with pitch at least ${percent(withPitch)} (bound 97 %),`
    + ` slowest answer ${time.worstMs.toFixed(1)} ms (bound ${THREAD_BOUNDS.answerMs} ms), seed ${seed}: ${held ? 'held' : 'not held'}`);
  return { lines, held, sets, missed };
}

function recordOf(readings: StudReadings): BenchRecord {
  const measured = Object.fromEntries(Object.entries(readings).map(([instrument, value]) => [
    KEYS[instrument as Instrument], { value, plusMinus: INSTRUMENTS[instrument as Instrument].claimedMm }]));
  return { system: { nominalV: 12 }, terminals: [{ id: 'A', form: 'stud', ...measured }] };
}

function topOf(shares: readonly number[]): number {
  return shares.reduce((top, share, index) => share > shares[top]! ? index : top, 0);
}

/** Brier's score over all the threads: 0 for a sure and right answer, 2 for a sure and wrong one. */
function brierOf(shares: readonly number[], truth: number): number {
  return shares.reduce((sum, share, index) => sum + (share - (index === truth ? 1 : 0)) ** 2, 0);
}
