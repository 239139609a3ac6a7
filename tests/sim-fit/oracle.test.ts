import { describe, expect, it } from 'vitest';
import { generateCase } from '../differential/rewire/case-generator.ts';
import { interlocksOf, judgeWiring as judgePlainly } from '../differential/rewire/plain-judge.ts';
import { Draws } from '../sim-identify/random.ts';
import { heavyContactOf, judgeWiring } from './judge-wiring.ts';
import { placeBracket } from './place-bolts.ts';
import { landOne } from './true-cost.ts';

// The oracle itself, against a second judge of wirings written apart from it and against sums by hand.

describe('the oracle\'s judge of wirings', () => {
  it('finds right what the plain judge finds right, on 1,500 wirings drawn at random', () => {
    let judged = 0;
    let right = 0;
    for (let seed = 1; judged < 1500; seed++) {
      const { record, part } = generateCase(seed);
      const wires = record.wires!.map(({ tag, leadsTo }) => ({ tag, goal: leadsTo ?? 'unknown' }));
      const heavy = heavyContactOf(part);
      const ids = part.terminals.map(({ id }) => id);
      const limitA = record.demand?.controlFuseA;
      // The limit of an unfused wire hangs on the wiring: the machines of the oracle all have a fuse.
      if (!heavy || limitA === undefined || wires.some(({ goal }) => goal === 'unknown') || !heavy.between.every((end) => ids.includes(end))) continue;
      if (!(['battery', 'starter', 'start-switch'] as const).every((goal) => wires.some((wire) => wire.goal === goal))) continue;
      const given = record.demand?.controlOhm ?? 0;
      const draws = new Draws(seed);
      for (let i = 0; i < 60; i++) {
        const [battery, starter] = draws.chance(0.5) ? heavy.between : [heavy.between[1], heavy.between[0]];
        const places = new Map(wires.map(({ tag, goal }): [string, string | null] => [tag, goal === 'battery' || goal === 'tap' ? battery : goal === 'starter' ? starter
          : draws.pick(goal === 'chassis' ? [...ids, 'case', null] : ids)]));
        const jumpers = draws.chance(0.6) ? [] : [{ from: draws.pick(ids), to: draws.pick(['case', 'chassis']) }];
        const caseTied = draws.chance(0.5);
        const mine = judgeWiring(part, {
          nominalV: record.system.nominalV, interlocks: interlocksOf(record), controlOhm: typeof given === 'number' ? given : given.value, limitA, caseTied, wires,
        }, { places, jumpers });
        // What may not be hung so at all is not solved; the plain judge leaves that to the search.
        if (mine.has('live-case') || mine.has('return-on-case')) continue;
        const plain = judgePlainly(record, part, { hanging: places, jumpers, caseTied, heavy, load: undefined });
        expect(mine.size === 0, `seed ${seed}, ${JSON.stringify([...places])} ${JSON.stringify(jumpers)}: ${[...mine].join()} against ${[...plain.codes].join()}`).toBe(plain.codes.size === 0);
        judged++;
        if (mine.size === 0) right++;
      }
    }
    expect(right).toBeGreaterThan(10);
  });
});

describe('the oracle\'s geometry', () => {
  const round = (xMm: number, yMm: number) => ({ xMm, yMm, diameterMm: 6.5 });
  const machine = { bolts: [{ x: 3, y: 4 }, { x: 3, y: 54 }], boltMm: 6, panelHoleMm: 6.5, panelDrillable: false };

  it('lets two bolts pass as long as their spacing differs by no more than both holes give', () => {
    // each bolt may sit 0.25 mm off: 50.5 mm between the holes is the limit for 50 mm between the bolts
    expect(placeBracket(machine, { holes: [round(0, 0), round(50.5, 0)] })).toEqual({ flipped: false, newHoles: 0 });
    expect(placeBracket(machine, { holes: [round(0, 0), round(50.51, 0)] })).toBeUndefined();
    expect(placeBracket(machine, { holes: [round(0, 0), { ...round(53, 0), slotMm: 5, slotAngleDeg: 0 }] })).toEqual({ flipped: false, newHoles: 0 });
  });

  it('turns a bracket over where three bolts ask for it, and drills where it may', () => {
    const bolts = [{ x: 0, y: 0 }, { x: 50, y: 0 }, { x: 15, y: 30 }];
    const mirrored = { holes: [round(0, 0), round(-50, 0), round(-15, 30)] };
    expect(placeBracket({ ...machine, bolts }, mirrored)).toEqual({ flipped: true, newHoles: 0 });
    expect(placeBracket({ ...machine, bolts }, { holes: mirrored.holes.map((hole) => ({ ...hole, xMm: -hole.xMm })) })).toEqual({ flipped: false, newHoles: 0 });
    expect(placeBracket(machine, { holes: [round(0, 0), round(40, 0)], drillable: true })).toEqual({ flipped: false, newHoles: 1 });
    // 9 mm is nearer to the next hole than 1.5 x 6.6 mm, whichever way it lies about the first
    expect(placeBracket({ ...machine, bolts: [{ x: 0, y: 0 }, { x: 0, y: 9 }] }, { holes: [round(0, 0)], drillable: true })).toBeUndefined();
  });
});

describe('the oracle\'s landed price', () => {
  it('buys more where that spares the freight, and waits where that is cheaper', () => {
    const prices = {
      currency: 'EUR', today: '2031-03-10', waitCostPerDay: 2, shelf: [], suppliers: [{ id: 'a', freight: 12, freeFreightFrom: 40 }, { id: 'b', freight: 4 }],
      offers: [{ supplierId: 'a', partId: 'p', price: 20, leadDays: 1, breaks: [{ minQty: 2, price: 11 }] }, { supplierId: 'b', partId: 'p', price: 22, leadDays: 4 }],
    };
    // a: one 20 + 12 + 2 = 34; two 22 + 12 + 2 = 36; four 44 + 0 + 2 = 46. b: 22 + 4 + 8 = 34
    expect(landOne('p', prices)).toBe(34);
    expect(landOne('p', { ...prices, waitCostPerDay: 0 })).toBe(26);
    expect(landOne('q', prices)).toBeUndefined();
  });
});
