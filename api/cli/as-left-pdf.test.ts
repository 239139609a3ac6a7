import { describe, expect, it } from 'vitest';
import type { AsLeftAnswer } from '../../catalog-schema/index.ts';
import { documentRecordOf, type BenchRecord, type Part, type Plan } from '../../catalog-schema/index.ts';
import { answerAsLeft, type AsLeftBasis } from '../engine/index.ts';
import { spell } from '../services/index.ts';
import { drawAsLeftPdf } from './as-left-pdf.ts';
import { readPdfWords } from '../services/documents/read-pdf-words.ts';

/** A job of so many wires, all to be moved, with three interlocks: more than a sheet usually has to take. */
function makeAnswer(wires: number): AsLeftAnswer {
  const roles = ['battery', 'starter', 'start-switch', 'interlocked-return', 'tap', 'cranking-feed'] as const;
  const record: BenchRecord = {
    partClass: 'start-relay',
    system: { nominalV: 12, interlocks: 'both', interlockList: [{ name: 'Seat', acts: 'return' }, { name: 'Neutral', acts: 'feed' }, { name: 'Bonnet lid', acts: 'stops-engine' }] },
    terminals: Array.from({ length: wires }, (_, n) => ({ id: `T${n}`, form: 'stud' as const, marking: `M${n}` })),
    wires: Array.from({ length: wires }, (_, n) => ({ tag: `W${n + 1}`, colour: 'YE/GN', areaMm2: 16, end: { form: 'ring' as const, holeMm: 8.4 }, wasOn: `T${n}`, leadsTo: roles[n % roles.length]! })),
  };
  const part: Part = {
    id: 'p1', partClass: 'start-relay', title: 'Start relay, isolated coil, two studs',
    terminals: Array.from({ length: wires }, (_, n) => ({ id: `N${n}`, form: 'stud' as const, thread: n % 2 === 0 ? 'M8x1.25' : 'M6x1' })),
    circuit: [{ kind: 'coil', id: 'c', between: ['N2', 'N3'], nominalV: 12, ohmAt20C: 4, pullInV: 8 }, { kind: 'contact', id: 'k', between: ['N0', 'N1'], form: 'NO', coils: ['c'], inrushA: 600 }],
  };
  const state = { startSwitch: false, interlocks: true, engineRuns: true, pulledIn: false, starterLive: false, controlA: 0 };
  const plan: Plan = {
    wires: record.wires!.map((wire, n) => ({ tag: wire.tag, from: wire.wasOn, to: `N${n}`, moved: true, newEnd: true })), jumpers: [{ from: 'N2', to: 'chassis' }], leftOff: [],
    bareTerminals: [], changes: 2 * wires + 1, states: [state],
  };
  const basis: AsLeftBasis = {
    partId: 'p1', verdict: 'adapt', plan, plans: [plan], placement: { rotationDeg: 90, flipped: false, shiftMm: [0, 0], newHoles: [{ xMm: 25, yMm: 0, diameterMm: 6.5, in: 'panel' }] },
    kit: [{ item: 'ring lug', qty: wires, detail: 'hole 8.4 mm for M8x1.25, cable 16 mm2' }],
  };
  return answerAsLeft({
    document: { title: 'Quay sweeper, does not crank', machine: 'Sweeper 3', customer: 'Harbour', record: documentRecordOf(record), chosen: { partId: 'p1', plan } },
    record, part, basis, conflicts: 0, unit: 'mm',
  });
}

async function readPdf(answer: AsLeftAnswer, paper: 'a4' | 'letter'): Promise<string> {
  const chunks: Buffer[] = [];
  for await (const chunk of drawAsLeftPdf(answer, paper, { compress: false })) chunks.push(chunk as Buffer);
  return Buffer.concat(chunks).toString('latin1');
}

/** Without the spaces: a line may be broken at any of them, and behind a hyphen. */
const close = (words: string): string => words.replace(/\s+/g, '');

describe.each(['a4', 'letter'] as const)('the as-left sheet as PDF on %s', (paper) => {
  it('is one page of that paper for a job of six wires', async () => {
    const boxes = [...(await readPdf(makeAnswer(6), paper)).matchAll(/\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/g)];
    expect(boxes).toHaveLength(1);
    // 1 in = 72 pt (ISO 32000-1): A4 is 595.28 x 841.89 pt, letter 612 x 792 pt
    expect(Number(boxes[0]![1])).toBeCloseTo(paper === 'a4' ? 595.276 : 612, 2);
    expect(Number(boxes[0]![2])).toBeCloseTo(paper === 'a4' ? 841.89 : 792, 2);
  });

  it('reads back every wire, step, limit, torque and caution', async () => {
    const answer = makeAnswer(6);
    const words = close(readPdfWords(await readPdf(answer, paper)));
    const want = [
      answer.title, answer.part!.title, ...answer.wiring.flatMap(({ wire, was, now, end }) => [wire, was, now, end]), ...answer.steps.map(({ says }) => says),
      ...answer.steps.flatMap(({ limit, details }) => (limit === null ? [] : [details[0]!])), ...answer.notes, 'Signed off by ____',
    ];
    for (const line of want) expect(words).toContain(close(spell(line)));
  });

  it('draws nothing outside its margins, nor one step over another', async () => {
    const pdf = await readPdf(makeAnswer(6), paper);
    const [width, height] = paper === 'a4' ? [595.276, 841.89] : [612, 792];
    const places = [...pdf.matchAll(/^1 0 0 1 ([\d.]+) ([\d.]+) Tm$/gm)].map(([, x, y]) => [Number(x), Number(y)] as const);
    expect(places.length).toBeGreaterThan(60);
    for (const [x, y] of places) {
      expect(x).toBeGreaterThanOrEqual(34);
      expect(x).toBeLessThan(width! - 34);
      expect(y).toBeGreaterThan(34);
      expect(y).toBeLessThan(height! - 34);
    }
    expect(new Set(places.map(([x, y]) => `${x},${y}`)).size).toBe(places.length);
  });
});

it('says of a tick who made it, when and what the meter showed, and goes over the page where it must', async () => {
  const answer = makeAnswer(6);
  const ticked = {
    ...answer, steps: answer.steps.map((step) => ({ ...step, mark: 'done' as const, tick: { at: '2026-11-25T10:00:00Z', by: 'J. Doe', reading: step.limit === null ? null : 0.12, outcome: null } })),
    signOff: { ...answer.signOff, state: 'stands' as const, by: 'J. Doe', at: '2026-11-25T11:00:00Z' },
  };
  const words = close(readPdfWords(await readPdf(ticked, 'a4')));
  expect(words).toContain(close('0.12 V; J. Doe, 2026-11-25'));
  expect(words).toContain(close('Signed off by J. Doe, 2026-11-25'));
  const long = await readPdf(makeAnswer(32), 'a4');
  expect([...long.matchAll(/\/MediaBox/g)].length).toBeGreaterThan(1);
  const read = close(readPdfWords(long));
  for (const { says } of makeAnswer(32).steps) expect(read).toContain(close(spell(says)));
});

it('spells what the typeface has no sign for', () => {
  expect(spell('3.2 Ω, Zoë’s “A–B” × 2')).toBe('3.2 ohm, Zoë’s “A–B” × 2');
  expect(spell('Ж\n✓')).toBe('???');
});
