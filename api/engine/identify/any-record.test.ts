import {
  array, assert, boolean, constant, constantFrom, double, integer, oneof, option, property, record, string, subarray, tuple, type Arbitrary,
} from 'fast-check';
import { describe, expect, it } from 'vitest';
import { benchRecordSchema, identifyAnswer, PART_CLASSES, readInput, type BenchRecord, type IdentifyAnswer } from '../../../catalog-schema/index.ts';
import { identify } from './index.ts';

// Any record that reads: made of what people write, and of what nobody would.

const NAMES = ['A', 'B', 'C', 'D', 'E', 'F', 'G', 'H', '__proto__', 'constructor', 'ä b', ' 30'];
const usual = (...values: readonly number[]): Arbitrary<number> => constantFrom(...values);
const strange = oneof(double({ min: 0, max: 1e300, noNaN: true, minExcluded: true }), usual(5e-324, 1e-9, 1e9, 1e300));
const above = (...values: readonly number[]): Arbitrary<number> => oneof({ weight: 6, arbitrary: usual(...values) }, { weight: 1, arbitrary: strange });
const measured = (...values: readonly number[]) => oneof(above(...values), record({ value: above(...values), plusMinus: above(0.01, 0.05, 0.3) }));
const maybe = <T>(arbitrary: Arbitrary<T>) => option(arbitrary, { nil: undefined, freq: 2 });
const WIRES = ['battery', 'starter', 'start-switch', 'chassis', 'interlocked-return', 'cranking-feed', 'tap', 'unknown'] as const;

const terminal = (id: string) => record({
  id: constant(id), form: constantFrom('stud', 'tab', 'screw', 'lead', 'pin'),
  majorDiameterMm: maybe(measured(4.8, 5.9, 7.85, 9.8)), pitchMm: maybe(measured(0.8, 1, 1.25, 1.41)), nutAcrossFlatsMm: maybe(measured(8, 10, 12.7, 13)),
  tabWidthMm: maybe(measured(4.8, 6.3, 2.8)), tabThicknessMm: maybe(measured(0.5, 0.8)), marking: maybe(oneof(constantFrom('30', '50', '85', '86', '87', '87a'), string())),
});
const reading = (points: readonly string[]) => tuple(integer({ min: 0, max: points.length - 1 }), integer({ min: 1, max: points.length - 1 })).chain(([first, step]) => {
  const between: [string, string] = [points[first]!, points[(first + step) % points.length]!];
  return record({
    between: constant(between), ohm: oneof(constant<'open'>('open'), measured(0, 0.1, 0.4, 1.2, 4, 12, 85, 250)),
    pulledIn: maybe(boolean()), by: maybe(constantFrom('meter', 'supply')), plusOn: maybe(constantFrom(...between)),
  });
});
const bench: Arbitrary<unknown> = tuple(subarray(NAMES), boolean()).chain(([names, listed]) => record({
  partClass: maybe(constantFrom(...PART_CLASSES)), system: record({ nominalV: above(6, 12, 24) }), benchC: maybe(oneof(integer({ min: -40, max: 90 }), constant(-273))),
  marked: maybe(record({ coilV: maybe(above(6, 12, 24, 48)), text: maybe(oneof(constantFrom('12V', '24 V DC', '6/12 V', '1e999V', '0V'), string())) })),
  terminals: listed ? tuple(...names.map(terminal)) : constant(undefined),
  ohms: maybe(array(reading([...names, 'case', ...(names.length === 0 && !listed ? ['x'] : [])].length > 1 ? [...names, 'case', ...(names.length === 0 ? ['x'] : [])] : ['case', 'x']), { maxLength: 14 })),
  wires: maybe(array(record({ wasOn: constantFrom(...names, 'case'), leadsTo: maybe(constantFrom(...WIRES)) }), { maxLength: 4 })
    .map((wires) => wires.map((wire, i) => ({ tag: `W${i}`, ...wire })))),
}));

/** Without what is undefined, as JSON carries it. */
const plain = (value: unknown): unknown => JSON.parse(JSON.stringify(value)) as unknown;
const sumOf = (rows: readonly { probability: number }[]): number => rows.reduce((sum, { probability }) => sum + probability, 0);

function checkAnswer(answer: IdentifyAnswer): void {
  expect(identifyAnswer.safeParse(plain(answer)).error).toBeUndefined();
  // JSON turns what is no number into null, which the schema refuses; words could still carry it.
  expect(JSON.stringify(answer)).not.toMatch(/NaN|Infinity|undefined/);
  for (const rows of [answer.circuits, ...answer.coils.map(({ nominalV }) => nominalV), ...answer.threads.map(({ candidates }) => candidates), ...answer.tabs.map(({ candidates }) => candidates)]) {
    expect(sumOf(rows)).toBeLessThanOrEqual(1 + 1e-9);
  }
  for (const { worth } of answer.measureNext) expect(worth).toBeGreaterThan(0);
}

describe('any record that reads', () => {
  it('is answered in the strict shape, twice alike, without a number that is none, in shares of at most 1', () => {
    let read = 0;
    assert(property(bench, (drawn) => {
      const input = readInput(benchRecordSchema, plain(drawn));
      if (!input.ok) return;
      read++;
      const before = structuredClone(input.value);
      const answer = identify(input.value);
      checkAnswer(answer);
      expect(input.value).toEqual(before);
      expect(identify(structuredClone(input.value))).toEqual(answer);
    }), { numRuns: 120, seed: 20263 });
    // Most of what is drawn must get as far as the engine.
    expect(read).toBeGreaterThan(60);
  }, 60_000);
});

describe('a record that says little', () => {
  const next = (more: Partial<BenchRecord>): string[] => identify({ system: { nominalV: 12 }, ...more }).measureNext.map(({ what }) => what);

  it('of nothing asks for the terminals', () => {
    expect(next({})).toEqual(['list the terminals of the part and what each looks like']);
    expect(next({ terminals: [] })).toEqual(['list the terminals of the part and what each looks like']);
    expect(identify({ system: { nominalV: 12 } }).measureNext[0]!.why).toBe('it tells parts with 3, 4 and 5 terminals apart.');
    expect(next({ terminals: [{ id: 'A', form: 'tab' }] })).not.toContain('list the terminals of the part and what each looks like');
  });

  it('of terminals alone asks for what each is and for the ohms between them', () => {
    const asked = next({ terminals: [{ id: 'B', form: 'stud' }, { id: 'M', form: 'stud' }, { id: 'S', form: 'tab' }] });
    for (const what of ['measure the pitch of B', 'measure the width of tab S', 'read the ohms between S and case with a meter, at rest']) expect(asked).toContain(what);
  });

  it('of a starter motor asks for no ohms', () => {
    const answer = identify({ partClass: 'starter-motor', system: { nominalV: 12 } });
    checkAnswer(answer);
    expect(answer.measureNext.filter(({ what }) => what.includes('ohms'))).toEqual([]);
  });
});

describe('readings that quarrel', () => {
  const terminals: BenchRecord['terminals'] = [{ id: 'B', form: 'stud' }, { id: 'M', form: 'stud' }, { id: 'S', form: 'tab' }, { id: 'I', form: 'tab' }];
  const quarrels = (ohms: BenchRecord['ohms'], more: Partial<BenchRecord> = {}): string[][] => {
    const answer = identify({ system: { nominalV: 12 }, terminals, ohms, ...more });
    checkAnswer(answer);
    return answer.conflicts.map(({ paths }) => paths);
  };

  it('are named by path: one pair twice, open and not, at rest and held in', () => {
    expect(quarrels([{ between: ['S', 'I'], ohm: 4 }, { between: ['I', 'S'], ohm: 9 }])).toEqual([['ohms[0]', 'ohms[1]']]);
    expect(quarrels([{ between: ['S', 'I'], ohm: 'open' }, { between: ['S', 'I'], ohm: 4 }])).toEqual([['ohms[0]', 'ohms[1]']]);
    expect(quarrels([{ between: ['B', 'M'], ohm: 'open' }, { between: ['B', 'M'], ohm: 0.1, pulledIn: true }])).toEqual([]);
    expect(quarrels([{ between: ['S', 'I'], ohm: 4 }, { between: ['S', 'I'], ohm: 4.1 }])).toEqual([]);
  });

  it('are named in threes where a joint makes two windings one', () => {
    // S to I is nothing: what is 4 Ohm from S must be 4 Ohm from I.
    const [paths] = quarrels([{ between: ['S', 'I'], ohm: 0 }, { between: ['S', 'case'], ohm: 4 }, { between: ['I', 'case'], ohm: 'open' }, { between: ['B', 'M'], ohm: 'open' }]);
    expect(paths!.length).toBeGreaterThanOrEqual(1);
    for (const path of paths!) expect(path).toMatch(/^ohms\[[0-2]\]$/);
  });

  it('are named beside a thread and a tab that cannot be', () => {
    const odd: BenchRecord['terminals'] = [{ id: 'B', form: 'stud', thread: 'M8', pitchMm: 0.5 }, { id: 'S', form: 'tab', tabWidthMm: 5.5 }];
    expect(quarrels([], { terminals: odd })).toEqual([['terminals[0].thread', 'terminals[0].pitchMm'], ['terminals[1].tabWidthMm']]);
  });
});
