import type { Part } from '../../../catalog-schema/index.ts';
import type { MachineSide } from './machine-side.ts';
import type { NeedsLug, StepCosts } from './rewire-options.ts';
import { findSamePlace, LEFT_OFF, listPlaces } from './wire-places.ts';

/**
 * What any wiring comes to at least on a list of terminals, whatever lies between them: each wire goes where it asks for least. A chassis wire may
 * also go to the case, or be left off.
 */
export function findLeastOnTerminals(machine: MachineSide, terminals: Part['terminals'], ways: readonly StepCosts[], needsLug: NeedsLug): number[] {
  const same = machine.wires.map((wire) => findSamePlace(wire, terminals));
  const shapes = terminals.map(({ form, tabWidthMm }) => ({ form, tabWidthMm: form === 'tab' ? tabWidthMm : undefined }));
  const places = listPlaces(machine, { terminals: shapes, same });
  return ways.map(({ move, newEnd, leaveOff, lug }) => machine.wires.reduce((sum, { tag }, w) => {
    let least = Number.POSITIVE_INFINITY;
    for (const place of places[w]!) {
      const terminal = terminals[place.to];
      const end = place.newEnd ? newEnd : terminal && needsLug(tag, terminal) ? lug : 0;
      least = Math.min(least, place.to === LEFT_OFF ? leaveOff : (place.moved ? move : 0) + end);
    }
    return sum + least;
  }, 0));
}
