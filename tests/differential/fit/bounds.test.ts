import { describe, expect, it } from 'vitest';
import { evaluatePart } from '../../../api/engine/fit/evaluate-part.ts';
import { gatesOf } from '../../../api/engine/fit/gates-of.ts';
import { indexSnapshot } from '../../../api/engine/fit/index.ts';
import { createMachine } from '../../../api/engine/fit/machine.ts';
import { Prospects } from '../../../api/engine/fit/prospects.ts';
import { createSlotJudge, slotOf, SlotScan } from '../../../api/engine/retrieve/index.ts';
import { openSnapshot, writeSnapshot } from '../../../api/engine/snapshot/index.ts';
import { generateParts } from '../../bench/fit/generate-catalogue.ts';
import { generatePrices } from '../../bench/fit/generate-prices.ts';
import { drawRecord } from './draw-record.ts';

// Not whether the list comes out right, but whether each step before it says the truth of every part.

describe.each([{ unfriendly: false, first: 4000 }, { unfriendly: true, first: 5000 }])('the bounds on a part, unfriendly $unfriendly', ({ unfriendly, first }) => {
  const facts = { count: 700, seed: 105, unfriendly };
  const parts = [...generateParts(facts)];
  const opened = openSnapshot(writeSnapshot(parts));
  if (!opened.ok) throw new Error('the snapshot does not open');
  const priced = indexSnapshot(opened.value, generatePrices(parts, { seed: 105, unfriendly }));
  const unpriced = indexSnapshot(opened.value, undefined, priced);

  it.each([0, 1, 2, 3])('lie before its place, and whoever is left out fails a check (records from %i)', (round) => {
    for (const [offset, { snapshot, sample, prices, index }] of [priced, unpriced, priced].entries()) {
      const seed = first + round * 3 + offset;
      const machine = createMachine(drawRecord(seed, facts), sample, { prices }, index.supply);
      const gates = gatesOf(machine, snapshot);
      const judge = createSlotJudge(index, gates);
      const prospects = new Prospects(machine, index, gates, judge);
      const byProfile = new Map(gates.profiles.map((profile) => [profile.profile, profile]));
      for (const partition of index.partitions) {
        const profile = byProfile.get(partition.profile);
        const walked = { sure: new Set<number>(), possible: new Set<number>() };
        if (profile) {
          for (const wanted of ['sure', 'possible'] as const) {
            for (const scan = new SlotScan(index, partition, profile, gates, wanted); scan.slot >= 0; scan.next()) walked[wanted].add(scan.slot);
          }
        }
        for (let slot = partition.start; slot < partition.start + partition.count; slot++) {
          const row = index.rows[slot]!;
          expect(slotOf(index, row)).toBe(slot);
          const id = snapshot.idAt(row);
          if (machine.numbers.has(id)) continue;
          const name = `seed ${seed}, part ${id}`;
          const found = evaluatePart(machine, snapshot.partAt(row));
          const fate = profile ? judge.judge(slot, profile) : 'out';
          if (fate === 'out' || !profile) {
            expect(found, name).toBeUndefined();
            continue;
          }
          expect(walked.possible.has(slot), name).toBe(true);
          if (fate === 'sure') expect(walked.sure.has(slot), name).toBe(true);
          const doubt = fate === 'doubt' || profile.doubt;
          const bounds = prospects.boundsOf(profile, doubt);
          const keys = [
            bounds.keyAt(slot), prospects.closerKey(slot, profile, doubt, false), prospects.closerKey(slot, profile, doubt, true),
            prospects.fullKey(slot, profile, false), prospects.fullKey(slot, profile, true),
          ];
          if (!found) continue;
          for (const [stage, key] of [bounds.floorAt(slot), ...keys].entries()) {
            expect(key, `${name}, stage ${stage}`).toBeDefined();
            expect(key, `${name}, stage ${stage}`).toBeLessThanOrEqual(found.key);
          }
          expect(bounds.floorAt(slot), name).toBeLessThanOrEqual(keys[0]!);
        }
      }
    }
  }, 60_000);
});
