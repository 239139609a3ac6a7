import type { Part } from '../../../catalog-schema/index.ts';
import type { MachineSide } from './machine-side.ts';
import type { NeedsLug, StepCosts } from './rewire-options.ts';
import { findSamePlace, needsNewEnd, needsNewEndOnCase } from './wire-places.ts';

/**
 * What any wiring comes to at least on a list of terminals, whatever lies between them: each wire goes where it asks for least. A chassis wire may
 * also go to the case, or be left off.
 */
export function findLeastOnTerminals(machine: Pick<MachineSide, 'wires'>, terminals: Part['terminals'], ways: readonly StepCosts[], needsLug: NeedsLug): number[] {
  const sums = ways.map(() => 0);
  const least = new Float64Array(ways.length);
  const take = (moved: boolean, end: 'as it is' | 'new' | 'lug'): void => {
    for (let which = 0; which < ways.length; which++) {
      const { move, newEnd, lug } = ways[which]!;
      const cost = (moved ? move : 0) + (end === 'new' ? newEnd : end === 'lug' ? lug : 0);
      if (cost < least[which]!) least[which] = cost;
    }
  };
  for (const wire of machine.wires) {
    const same = findSamePlace(wire, terminals);
    least.fill(Number.POSITIVE_INFINITY);
    for (let to = 0; to < terminals.length; to++) {
      const terminal = terminals[to]!;
      take(to !== same, needsNewEnd(wire, terminal) ? 'new' : needsLug(wire.tag, terminal) ? 'lug' : 'as it is');
    }
    if (wire.role === 'chassis') {
      take(same !== terminals.length, needsNewEndOnCase(wire) ? 'new' : 'as it is');
      for (let which = 0; which < ways.length; which++) least[which] = Math.min(least[which]!, ways[which]!.leaveOff);
    }
    for (let which = 0; which < ways.length; which++) sums[which]! += least[which]!;
  }
  return sums;
}
