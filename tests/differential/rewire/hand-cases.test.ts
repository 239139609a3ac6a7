import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { rewire } from '../../../api/engine/rewire/index.ts';
import { benchRecordSchema, partSchema, type SwitchState } from '../../../catalog-schema/index.ts';
import { compareAnswers } from './compare-answers.ts';
import { rewirePlainly } from './plain-rewire.ts';

// Cases worked out by hand or with ngspice, run against the engine and against the plain search: two programs that
// agree can still be wrong together.

interface HandCase {
  why: string; source: string; record: unknown; part: unknown
  expect: { plans?: number; fewestChanges?: number; obviousCodes: string[]; firstLeftOff?: string[]; crankingControlA?: number }
}

const folder = join(import.meta.dirname, 'hand-cases');
const cases = readdirSync(folder).filter((name) => name.endsWith('.json')).sort()
  .map((name) => [name.replace('.json', '').replaceAll('-', ' '), JSON.parse(readFileSync(join(folder, name), 'utf8')) as HandCase] as const);

function findControlA(states: readonly SwitchState[] | undefined): number | undefined {
  return states?.find((state) => state.startSwitch && state.interlocks)?.controlA;
}

/** Within 3 parts in 100,000: a start switch of nought ohms is a few micro-ohms here. */
function expectNear(found: number | undefined, want: number): void {
  expect(Math.abs((found ?? Number.NaN) - want) / want).toBeLessThan(3e-5);
}

describe.each(cases)('%s', (_, { record: givenRecord, part: givenPart, expect: want }) => {
  const record = benchRecordSchema.parse(givenRecord);
  const part = partSchema.parse(givenPart);
  const plain = rewirePlainly(record, part);

  it('comes out of the plain search as worked out by hand', () => {
    if (want.plans !== undefined) expect(plain.plans).toHaveLength(want.plans);
    expect(plain.plans[0]?.changes).toBe(want.fewestChanges);
    expect(plain.obviousCodes).toEqual(want.obviousCodes);
    if (want.firstLeftOff) expect(plain.plans[0]?.leftOff).toEqual(want.firstLeftOff);
    if (want.crankingControlA !== undefined) expectNear(findControlA(plain.plans[0]?.statesByWay[0]), want.crankingControlA);
  });

  it('comes out of the engine as worked out by hand, and as out of the plain search', () => {
    const answer = rewire(record, part);
    if (want.plans !== undefined) expect(answer.plans).toHaveLength(want.plans);
    expect(answer.plans[0]?.changes).toBe(want.fewestChanges);
    expect(answer.refusals.map((refusal) => refusal.code)).toEqual(expect.arrayContaining(want.obviousCodes));
    if (want.firstLeftOff) expect(answer.plans[0]?.leftOff).toEqual(want.firstLeftOff);
    if (want.crankingControlA !== undefined) expectNear(findControlA(answer.plans[0]?.states), want.crankingControlA);
    expect(compareAnswers(answer, plain)).toEqual([]);
  });
});
