import { identify, warmUpIdentify } from '../../api/engine/index.ts';
import type { BenchRecord, IdentifyAnswer } from '../../catalog-schema/index.ts';
import { AnswerTime } from './answer-time.ts';
import { readProbe } from './next-probe.ts';
import { drawPart, FORMS, groupOf, listProbes, takeReading, type Form, type Reading, type SimulatedPart } from './part-world.ts';
import { Draws } from './random.ts';
import { Reliability } from './reliability.ts';

export const FORM_BOUNDS = { wrongAbove90: 0.05, wrongAbove99: 0.005, meanReadings: 6, answerMs: 50 };
/** A chain of readings is given up here and counts as so many. */
const MOST_READINGS = 15;
const CLAIM = 0.9;

interface Failure { what: string; form: Form; record: BenchRecord; said: string }
export interface FormFigures { lines: string[]; held: boolean; failures: Failure[]; partsWrong: number; wrongAbove90: number; wrongAbove99: number; meanReadings: number; clearedDiodes: number; worstMs: number; slowest: unknown }

/** Draws parts, reads them in full, in part and as the answers ask, and compares with the truth. */
export function measureForms(count: number, seed: number): FormFigures {
  // As the browser's worker and the server's thread do once they have loaded.
  warmUpIdentify();
  const time = new AnswerTime(FORM_BOUNDS.answerMs);
  const reliability = new Reliability();
  const brier = { 'every reading': { answers: 0, sum: 0 }, 'a few readings': { answers: 0, sum: 0 }, 'readings as asked': { answers: 0, sum: 0 } };
  const failures: Failure[] = [];
  const over = { 0.9: { claims: 0, wrong: 0 }, 0.99: { claims: 0, wrong: 0 } };
  const perForm = new Map(FORMS.map((form) => [form, { parts: 0, right: 0, chains: 0, readings: 0, stuck: 0 }]));
  let clearedDiodes = 0;
  let diodesAsked = 0;

  for (let i = 0; i < count; i++) {
    // Each part has a stream of its own, so that what one part is asked does not change the next.
    const draws = new Draws(Math.imul(seed, 7919) + i * 104729);
    const part = drawPart(draws);
    const row = perForm.get(part.form)!;
    const claim = (kind: keyof typeof brier, what: string, record: BenchRecord): { group: string; probability: number; measureNext: IdentifyAnswer['measureNext'] } => {
      const answer = time.ask(identify, record);
      const top = topGroup(answer);
      const right = top.group === groupOf(part.form);
      reliability.add(top.probability, right);
      brier[kind].answers++;
      brier[kind].sum += brierOf(answer, part.form);
      for (const bound of [0.9, 0.99] as const) {
        if (top.probability <= bound) continue;
        over[bound].claims++;
        if (!right) over[bound].wrong++;
      }
      if (!right && top.probability > CLAIM) failures.push({ what, form: part.form, record, said: `${top.group} ${top.probability}` });
      return { ...top, measureNext: answer.measureNext };
    };

    const every = listProbes(part).map((probe) => takeReading(part, probe, draws));
    const withClass = draws.chance(0.5);
    row.parts++;
    const full = claim('every reading', 'every reading', recordOf(part, every, withClass));
    if (full.group === groupOf(part.form)) row.right++;
    else failures.push({ what: 'every reading: true form not on top', form: part.form, record: recordOf(part, every, withClass), said: `${full.group} ${full.probability}` });

    const some = draws.shuffle(every).slice(0, 1 + Math.floor(draws.unit() * 14));
    claim('a few readings', `${some.length} readings`, recordOf(part, some, withClass));

    if (part.form === 'isolated-diode' || part.form === 'isolated') {
      diodesAsked++;
      const record = clearsDiode(part, every);
      if (record) {
        clearedDiodes++;
        failures.push({ what: 'equal meter readings clear a diode', form: part.form, record, said: 'less likely than with one direction' });
      }
    }

    // Following the list from nothing: no class, no ohms.
    const taken: Reading[] = [];
    let stuck = false;
    for (;;) {
      const record = recordOf(part, taken, false);
      const top = claim('readings as asked', `${taken.length} readings as asked`, record);
      if (top.probability > CLAIM) break;
      const next = top.measureNext.map(({ what }) => readProbe(what)).find((probe) => probe !== null);
      if (!next || taken.length >= MOST_READINGS) {
        stuck = true;
        failures.push({ what: next ? 'no claim after the most readings' : 'nothing more is asked, nothing claimed', form: part.form, record, said: `${top.group} ${top.probability}` });
        break;
      }
      taken.push(takeReading(part, next, draws));
    }
    row.chains++;
    row.readings += stuck ? MOST_READINGS : taken.length;
    if (stuck) row.stuck++;
  }

  const percent = (share: number): string => `${(100 * share).toFixed(2)} %`;
  const rows = [...perForm];
  const lines = [`${count} parts, seed ${seed}; each read in full, by a few readings at random, and as asked from nothing`];
  for (const [form, { parts, right, chains, readings, stuck }] of rows) {
    lines.push(`${form.padEnd(20)} ${String(parts).padStart(5)} parts, on top with every reading ${String(right).padStart(5)}; readings as asked ${(readings / Math.max(1, chains)).toFixed(2).padStart(6)}, given up ${stuck}`);
  }
  lines.push('reliability, the most likely group of each answer:', ...reliability.describe());
  for (const [kind, { answers, sum }] of Object.entries(brier)) lines.push(`Brier score over the groups, ${kind.padEnd(17)} ${(sum / Math.max(1, answers)).toFixed(4)} of ${answers} answers`);
  const partsWrong = rows.reduce((sum, [, { parts, right }]) => sum + parts - right, 0);
  const shareWrong = (bound: 0.9 | 0.99): number => over[bound].claims === 0 ? 0 : over[bound].wrong / over[bound].claims;
  for (const bound of [0.9, 0.99] as const) lines.push(`claims above ${bound}: ${over[bound].claims}, wrong ${over[bound].wrong} (${percent(shareWrong(bound))})`);
  const four = rows.filter(([form]) => form.startsWith('isolated') || form === 'cranking-feed').map(([, row]) => row);
  const chains = four.reduce((sum, row) => sum + row.chains, 0);
  const meanReadings = chains === 0 ? 0 : four.reduce((sum, row) => sum + row.readings, 0) / chains;
  lines.push(`diodes: ${diodesAsked} coils read by meter in both directions, ${clearedDiodes} times that spoke against a diode`, time.describe());
  const figures = { partsWrong, wrongAbove90: shareWrong(0.9), wrongAbove99: shareWrong(0.99), meanReadings, clearedDiodes, worstMs: time.worstMs, slowest: time.slowest };
  // Nothing claimed is nothing shown.
  const held = partsWrong === 0 && over[0.99].claims > 0 && figures.wrongAbove90 <= FORM_BOUNDS.wrongAbove90 && figures.wrongAbove99 <= FORM_BOUNDS.wrongAbove99
    && meanReadings <= FORM_BOUNDS.meanReadings && clearedDiodes === 0 && time.held;
  lines.push(`forms: on top in ${percent(1 - partsWrong / count)} (bound 100 %), wrong above 0.9 ${percent(figures.wrongAbove90)} (bound 5 %), above 0.99 ${percent(figures.wrongAbove99)} (bound 0.5 %),`
    + ` four terminals ${meanReadings.toFixed(2)} readings (bound 6), slowest answer ${time.worstMs.toFixed(1)} ms (bound 50 ms), seed ${seed}: ${held ? 'held' : 'not held'}`);
  return { lines, held, failures, ...figures };
}

function recordOf(part: SimulatedPart, readings: readonly Reading[], withClass: boolean): BenchRecord {
  return {
    ...(withClass && { partClass: part.partClass }), system: { nominalV: part.nominalV }, benchC: part.benchC, terminals: [...part.terminals],
    ohms: readings.map(({ probe, ohm }) => ({ between: [probe.plus, probe.minus], ohm, by: probe.by, plusOn: probe.plus, ...(probe.pulledIn && { pulledIn: true }) })),
  };
}

/** A group's probability is the sum over its forms and the ways their roles can be placed. */
function sumGroups({ circuits }: IdentifyAnswer): Map<string, number> {
  const sums = new Map<string, number>();
  for (const { form, probability } of circuits) sums.set(groupOf(form), (sums.get(groupOf(form)) ?? 0) + probability);
  return sums;
}

/** Brier's score over all the groups: 0 for a sure and right answer, 2 for a sure and wrong one. */
function brierOf(answer: IdentifyAnswer, truth: Form): number {
  const sums = sumGroups(answer);
  return [...new Set([...sums.keys(), groupOf(truth)])].reduce((sum, group) => sum + ((sums.get(group) ?? 0) - (group === groupOf(truth) ? 1 : 0)) ** 2, 0);
}

/** The likeliest group of forms. */
function topGroup(answer: IdentifyAnswer): { group: string; probability: number } {
  return [...sumGroups(answer)].map(([group, probability]) => ({ group, probability: Math.min(1, probability) }))
    .reduce((top, each) => (each.probability > top.probability ? each : top), { group: 'none', probability: 0 });
}

/** The record where reading the coil by meter the other way round, and finding the same, made a diode less likely; null when it did not. */
function clearsDiode(part: SimulatedPart, every: readonly Reading[]): BenchRecord | null {
  const meter = every.filter(({ probe }) => probe.by === 'meter' && !probe.pulledIn);
  const oneWay = meter.filter(({ probe }) => probe.plus < probe.minus);
  // The other direction shows the very same, as a bench often does.
  const mirrored = oneWay.map(({ probe, ohm }): Reading => ({ probe: { ...probe, plus: probe.minus, minus: probe.plus }, ohm }));
  const both = recordOf(part, [...oneWay, ...mirrored], false);
  const ratioOf = (record: BenchRecord): number => {
    const shareOf = (form: Form) => identify(record).circuits.filter((each) => each.form === form).reduce((sum, { probability }) => sum + probability, 0);
    return shareOf('isolated-diode') / Math.max(1e-9, shareOf('isolated') + shareOf('isolated-resistor'));
  };
  const before = ratioOf(recordOf(part, oneWay, false));
  // Nothing said of a diode at all is a diode cleared, too. A tenth is left for rounding.
  return before > 0 && ratioOf(both) >= 0.9 * before ? null : both;
}
