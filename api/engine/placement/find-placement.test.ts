import { describe, expect, it } from 'vitest';
import type { MachineMounting, Mounting, MountingHole, Placement } from '../../../catalog-schema/index.ts';
import { findPlacement } from './index.ts';

const round = (xMm: number, yMm: number, diameterMm = 6.5): MountingHole => ({ xMm, yMm, diameterMm });
const machine = (holes: MountingHole[], more: Partial<MachineMounting> = {}): MachineMounting => ({ holes, boltMm: 6, ...more });
const part = (holes: MountingHole[], more: Partial<Mounting> = {}): Mounting => ({ holes, ...more });

/** machine = shift + R(rotation) * F * part, written out anew. */
function lay(hole: MountingHole, placement: Placement): { x: number; y: number; ux: number; uy: number } {
  const angle = (placement.rotationDeg * Math.PI) / 180;
  const slot = ((hole.slotAngleDeg ?? 0) * Math.PI) / 180;
  const sign = placement.flipped ? -1 : 1;
  const turn = (x: number, y: number): [number, number] => [Math.cos(angle) * sign * x - Math.sin(angle) * y, Math.sin(angle) * sign * x + Math.cos(angle) * y];
  const [x, y] = turn(hole.xMm, hole.yMm);
  const [ux, uy] = turn(((hole.slotMm ?? 0) / 2) * Math.cos(slot), ((hole.slotMm ?? 0) / 2) * Math.sin(slot));
  return { x: x + placement.shiftMm[0], y: y + placement.shiftMm[1], ux, uy };
}

/** How many bolts pass a hole of their own in this placement: by trying every way to share out the holes. */
function countPassing(bolts: MachineMounting, holes: readonly MountingHole[], placement: Placement, slackMm = 1e-4): number {
  const passes = bolts.holes.map((bolt) => holes.map((hole) => {
    const { x, y, ux, uy } = lay(hole, placement);
    const length = ux * ux + uy * uy;
    const t = length === 0 ? 0 : Math.max(-1, Math.min(1, ((bolt.xMm - x) * ux + (bolt.yMm - y) * uy) / length));
    return Math.hypot(bolt.xMm - x - t * ux, bolt.yMm - y - t * uy) <= (hole.diameterMm - bolts.boltMm!) / 2 + slackMm;
  }));
  const most = (bolt: number, used: ReadonlySet<number>): number => (bolt === passes.length ? 0 : Math.max(most(bolt + 1, used),
    ...passes[bolt]!.map((goes, hole) => (goes && !used.has(hole) ? 1 + most(bolt + 1, new Set([...used, hole])) : 0))));
  return most(0, new Set());
}

describe('a part on its bolts', () => {
  it('goes on as it is where the holes are the same', () => {
    const holes = [round(-25, -15), round(25, -15)];
    expect(findPlacement(machine(holes), part(holes))).toMatchObject({
      outcome: 'pass', marginMm: 0.25, placement: { rotationDeg: 0, flipped: false, shiftMm: [0, 0], newHoles: [] },
    });
  });

  it('is shifted where its drawing starts elsewhere', () => {
    const { outcome, placement } = findPlacement(machine([round(10, 5), round(70, 5)]), part([round(0, 0), round(60, 0)]));
    expect(outcome).toBe('pass');
    expect(placement!.rotationDeg).toBe(0);
    expect(placement!.shiftMm[0]).toBeCloseTo(10, 6);
    expect(placement!.shiftMm[1]).toBeCloseTo(5, 6);
  });

  it('turns counter-clockwise about the origin before it shifts', () => {
    const { placement } = findPlacement(machine([round(10, 20), round(10, 70), round(30, 70)]), part([round(0, 0), round(50, 0), round(50, -20)]));
    expect(placement).toMatchObject({ flipped: false });
    expect(placement!.rotationDeg).toBeCloseTo(90, 5);
    expect(placement!.shiftMm[0]).toBeCloseTo(10, 5);
    expect(placement!.shiftMm[1]).toBeCloseTo(20, 5);
  });

  it('takes no turn where none is needed, although a turned one centres better', () => {
    expect(findPlacement(machine([round(0, 0), round(50, 0.3)]), part([round(0, 0), round(50, 0)])).placement!.rotationDeg).toBe(0);
  });

  it('prefers the least turn of a pattern that repeats', () => {
    const square = [round(20, 20), round(-20, 20), round(-20, -20), round(20, -20)];
    const turned = square.map(({ xMm, yMm }) => round(xMm * Math.cos(0.6) - yMm * Math.sin(0.6), xMm * Math.sin(0.6) + yMm * Math.cos(0.6)));
    expect(findPlacement(machine(turned), part(square)).placement!.rotationDeg).toBeCloseTo((0.6 * 180) / Math.PI, 4);
  });

  it.each([[0.4999, 'pass'], [0.5, 'pass'], [0.5001, 'fail']])('two holes that are %s mm closer than the bolts: %s', (gap, outcome) => {
    expect(findPlacement(machine([round(0, 0), round(50 + gap, 0)]), part([round(0, 0), round(50, 0)])).outcome).toBe(outcome);
  });

  it('is not fooled by a spacing that is right between the wrong holes', () => {
    const ell = [round(0, 0), round(60, 0), round(0, 30)];
    const other = [round(0, 0), round(60, 0), round(30, 30)];
    expect(findPlacement(machine(ell), part(other)).outcome).toBe('fail');
  });

  it('turns a part over where only its mirror image fits: that is work', () => {
    const bolts = [round(0, 0), round(60, 0), round(10, 30)];
    const mirrored = bolts.map(({ xMm, yMm }) => round(-xMm, yMm));
    expect(findPlacement(machine(bolts), part(mirrored))).toMatchObject({ outcome: 'work', placement: { flipped: true, newHoles: [] } });
  });

  it('lets a bolt sit anywhere along a slot, and not beyond its end', () => {
    const slotted = part([round(0, 0), { ...round(50, 0), slotMm: 8, slotAngleDeg: 0 }]);
    expect(findPlacement(machine([round(0, 0), round(54.4, 0)]), slotted).outcome).toBe('pass');
    expect(findPlacement(machine([round(0, 0), round(54.51, 0)]), slotted).outcome).toBe('fail');
    expect(findPlacement(machine([round(0, 0), round(45.6, 0)]), slotted).outcome).toBe('pass');
  });

  it('knows that a slot across the line of the bolts gives little: it turns the part', () => {
    const across = part([round(0, 0), { ...round(50, 0), slotMm: 8, slotAngleDeg: 90 }]);
    // The far end of the slot is hypot(50, 4) = 50.16 mm away; with 0.25 mm of room at each bolt 50.66 mm is the limit.
    expect(findPlacement(machine([round(0, 0), round(50.65, 0)]), across).outcome).toBe('pass');
    expect(findPlacement(machine([round(0, 0), round(50.67, 0)]), across).outcome).toBe('fail');
  });

  it('lets the bolt of a slotted machine hole travel', () => {
    const bolts = machine([round(0, 0), { ...round(50, 0), slotMm: 6, slotAngleDeg: 0 }]);
    expect(findPlacement(bolts, part([round(0, 0), round(53, 0)])).outcome).toBe('pass');
    expect(findPlacement(bolts, part([round(0, 0), round(54, 0)])).outcome).toBe('fail');
  });

  it('gives each bolt a hole of its own', () => {
    expect(findPlacement(machine([round(0, 0), round(0.2, 0)]), part([round(0, 0, 8)])).outcome).toBe('fail');
  });

  it('does not mind spare holes', () => {
    const spare = [round(-40, 9), round(-25, -15), round(3, 3), round(25, -15)];
    expect(findPlacement(machine([round(-25, -15), round(25, -15)]), part(spare)).outcome).toBe('pass');
  });

  it('refuses holes that are smaller than the bolt, at whatever spacing', () => {
    expect(findPlacement(machine([round(0, 0)]), part([round(0, 0, 5.9)])).outcome).toBe('fail');
    expect(findPlacement(machine([round(0, 0)]), part([round(0, 0, 6)])).outcome).toBe('pass');
  });

  it('handles twelve bolts on a circle', () => {
    const circle = (start: number): MountingHole[] => Array.from({ length: 12 }, (_, i) => round(60 * Math.cos(start + (i * Math.PI) / 6), 60 * Math.sin(start + (i * Math.PI) / 6)));
    const answer = findPlacement(machine(circle(0.2)), part(circle(0).toReversed()));
    expect(answer.outcome).toBe('pass');
    expect(Math.abs(answer.placement!.rotationDeg)).toBeLessThan(15.01);
    expect(countPassing(machine(circle(0.2)), circle(0), answer.placement!)).toBe(12);
  });

  it('does not change what it is given', () => {
    const bolts = machine([round(1, 2), round(50, 2)]);
    const mounting = part([round(0, 0), round(49, 0)]);
    const before = JSON.stringify([bolts, mounting]);
    findPlacement(bolts, mounting);
    expect(JSON.stringify([bolts, mounting])).toBe(before);
  });
});

describe('bolts that were measured roughly', () => {
  const holes = [round(0, 0), round(50, 0)];
  it.each([
    [50.1, 0.1, 'pass'], [50.1, 0.3, 'unknown'], [50.4, 0.05, 'pass'], [50.4, 0.1, 'unknown'],
    [50.6, 0.1, 'unknown'], [50.6, 0.04, 'fail'], [50.7, 0.1, 'unknown'], [50.72, 0.1, 'fail'],
  ])('bolts %s mm apart, each known to %s mm: %s', (apart, plusMinusMm, outcome) => {
    expect(findPlacement(machine([round(0, 0), round(apart, 0)], { plusMinusMm }), part(holes)).outcome).toBe(outcome);
  });

  it('asks nothing of a lone bolt: it is where it is', () => {
    expect(findPlacement(machine([round(3, 3)], { plusMinusMm: 5 }), part([round(0, 0)])).outcome).toBe('pass');
  });

  it('takes the thickest bolt that goes through the machine\'s hole where none is given, and says so', () => {
    const answer = findPlacement({ holes: [round(0, 0, 6.6)] }, part([round(0, 0, 6)]));
    expect(answer.outcome).toBe('pass');
    expect(answer.assumptions).toHaveLength(1);
    expect(answer.assumptions[0]).toMatch(/bolt 6 mm/);
    expect(findPlacement({ holes: [round(0, 0, 9)] }, part([round(0, 0, 7.9)])).outcome).toBe('fail');
  });
});

describe('new holes', () => {
  it('are not drilled where neither side is known to be drillable', () => {
    expect(findPlacement(machine([round(0, 0), round(60, 0)]), part([round(0, 0), round(80, 0)])).outcome).toBe('fail');
  });

  it('go into the bracket over the bolt that passes nothing', () => {
    const answer = findPlacement(machine([round(0, 0), round(60, 0)]), part([round(0, 0), round(80, 0)], { drillable: true }));
    expect(answer).toMatchObject({ outcome: 'work', placement: { rotationDeg: 0, flipped: false } });
    expect(answer.placement!.newHoles).toEqual([{ xMm: 60, yMm: 0, diameterMm: 6.6, in: 'bracket' }]);
  });

  it('go into the panel under the part\'s hole where only the panel may be drilled', () => {
    const answer = findPlacement(machine([round(0, 0), round(60, 0)], { drillable: true }), part([round(0, 0), round(80, 0)]));
    expect(answer.placement!.newHoles).toEqual([{ xMm: 80, yMm: 0, diameterMm: 6.6, in: 'panel' }]);
  });

  it('go into the bracket first where both may be drilled', () => {
    const answer = findPlacement(machine([round(0, 0), round(60, 0)], { drillable: true }), part([round(0, 0), round(80, 0)], { drillable: true }));
    expect(answer.placement!.newHoles.map((hole) => hole.in)).toEqual(['bracket']);
  });

  it('keep 1.5 times the larger diameter from other holes: the part turns as far as that takes', () => {
    const bolts = machine([round(0, 0), round(60, 0)]);
    const mounting = part([round(0, 0), round(64, 0)], { drillable: true });
    const { placement } = findPlacement(bolts, mounting);
    expect(placement!.newHoles).toHaveLength(1);
    const other = lay(mounting.holes[1]!, placement!);
    const apart = Math.hypot(other.x - placement!.newHoles[0]!.xMm, other.y - placement!.newHoles[0]!.yMm);
    expect(apart).toBeCloseTo(1.5 * 6.6, 4);
    expect(countPassing(bolts, mounting.holes, placement!)).toBe(1);
  });

  it('are as few as can be', () => {
    const bolts = machine([round(0, 0), round(60, 0), round(60, 40), round(0, 40)]);
    const three = part([round(0, 0), round(60, 0), round(60, 40)], { drillable: true });
    expect(findPlacement(bolts, three).placement!.newHoles).toEqual([{ xMm: 0, yMm: 40, diameterMm: 6.6, in: 'bracket' }]);
    expect(findPlacement(bolts, part([], { drillable: true })).placement!.newHoles).toHaveLength(4);
  });

  it('cannot stand in for holes that the part lacks where only the panel may be drilled', () => {
    expect(findPlacement(machine([round(0, 0), round(60, 0)], { drillable: true }), part([round(0, 0)])).outcome).toBe('fail');
  });
});

/** A seeded generator (mulberry32): the same patterns in every run. */
function createRandom(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Plain: every flip, every way to share out the holes, every half degree, a fifth of a millimetre of shift. */
function findOnGrid(bolts: MachineMounting, holes: readonly MountingHole[], slackMm: number): boolean {
  const orders = permute(holes.map((_, index) => index), bolts.holes.length);
  for (const flipped of [false, true]) {
    for (let rotationDeg = -180; rotationDeg < 180; rotationDeg += 0.5) {
      const laid = holes.map((hole) => lay(hole, { rotationDeg, flipped, shiftMm: [0, 0], newHoles: [] }));
      for (const order of orders) if (hasShift(bolts, holes, laid, order, slackMm)) return true;
    }
  }
  return false;
}

function hasShift(bolts: MachineMounting, holes: readonly MountingHole[], laid: readonly ReturnType<typeof lay>[], order: readonly number[], slackMm: number): boolean {
  const wanted = order.map((hole, bolt) => {
    const { x, y, ux, uy } = laid[hole]!;
    const room = (holes[hole]!.diameterMm - bolts.boltMm!) / 2 + slackMm;
    return { x: bolts.holes[bolt]!.xMm - x, y: bolts.holes[bolt]!.yMm - y, ux, uy, room, reach: Math.hypot(ux, uy) + room };
  });
  const [first] = wanted;
  // Two sets of shifts that far apart share none.
  if (wanted.some((other) => Math.hypot(other.x - first!.x, other.y - first!.y) > other.reach + first!.reach)) return false;
  const steps = Math.ceil(first!.reach / 0.2);
  for (let i = -steps; i <= steps; i++) {
    for (let j = -steps; j <= steps; j++) {
      const passes = wanted.every(({ x, y, ux, uy, room }) => {
        const dx = first!.x + i * 0.2 - x;
        const dy = first!.y + j * 0.2 - y;
        const length = ux * ux + uy * uy;
        const t = length === 0 ? 0 : Math.max(-1, Math.min(1, (dx * ux + dy * uy) / length));
        return Math.hypot(dx - t * ux, dy - t * uy) <= room;
      });
      if (passes) return true;
    }
  }
  return false;
}

function permute(from: readonly number[], size: number): number[][] {
  return size === 0 ? [[]] : from.flatMap((first) => permute(from.filter((each) => each !== first), size - 1).map((rest) => [first, ...rest]));
}

describe('against a grid of every turn and shift', () => {
  // Half a grid step of turn (0.25 degrees on at most 35 mm) and of shift (0.14 mm): what the grid may miss.
  const gridMm = 0.15 + 0.15;
  it('agrees on seeded patterns of two and three bolts, slots and flips among them', { timeout: 60_000 }, () => {
    const random = createRandom(20_261);
    const seen = { pass: 0, work: 0, fail: 0, unknown: 0 };
    for (let count = 0; count < 300; count++) {
      const spread = (): number => Math.round((random() * 50 - 25) * 10) / 10;
      const holes = Array.from({ length: 2 + Math.floor(random() * 2) }, (): MountingHole => ({
        xMm: spread(), yMm: spread(), diameterMm: 7 + Math.round(random() * 10) / 10,
        ...(random() < 0.3 && { slotMm: 4, slotAngleDeg: Math.floor(random() * 180) }),
      }));
      const angle = random() * 2 * Math.PI;
      const sign = random() < 0.3 ? -1 : 1;
      const wobble = random() < 0.5 ? 0.2 : 2.5;
      const bolts = machine(holes.map(({ xMm, yMm }) => round(
        Math.cos(angle) * sign * xMm - Math.sin(angle) * yMm + 12 + (random() - 0.5) * 2 * wobble,
        Math.sin(angle) * sign * xMm + Math.cos(angle) * yMm - 7 + (random() - 0.5) * 2 * wobble,
      )));
      const { outcome, placement } = findPlacement(bolts, part(holes));
      seen[outcome]++;
      if (placement) {
        expect(countPassing(bolts, holes, placement)).toBe(bolts.holes.length);
        expect(findOnGrid(bolts, holes, gridMm)).toBe(true);
      } else expect(findOnGrid(bolts, holes, 0)).toBe(false);
    }
    expect(seen.pass).toBeGreaterThan(80);
    expect(seen.work).toBeGreaterThan(10);
    expect(seen.fail).toBeGreaterThan(40);
  });
});
