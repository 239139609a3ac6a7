import type { MachineSide } from './machine-side.ts';
import { BATTERY, CHASSIS, CRANKING_FEED, FIRST_PART_NODE, INTERLOCKED_RETURN, START_SWITCH, STARTER } from './machine-side.ts';
import type { HeavyPair, PartSide } from './part-side.ts';
import { joinNets, layNoWires } from './trial-circuit.ts';
import { capacityOf, LEFT_OFF, listPlaces, takesOneEnd, type WirePlace } from './wire-places.ts';

/** Every wire hung somewhere. */
export interface Placement {
  /** for each wire in record order: terminal index, the number of terminals for the case, or LEFT_OFF */
  readonly to: Int8Array;
  readonly newEnd: Uint8Array;
  readonly moved: number;
  /** moved + new ends + wires left off */
  readonly changes: number;
  /** plungers of the contact between battery and starter, as bits */
  readonly heavy: number;
  readonly nets: Uint8Array;
}

/**
 * All placements the rules allow, by their number of changes. Those that no jumper can mend (`isDoomed`) are left out.
 * Asking for one number of changes walks the placements of that many or fewer.
 */
export class Placements {
  readonly #machine: MachineSide;
  readonly #part: PartSide;
  readonly #places: readonly (readonly WirePlace[])[];
  readonly #capacity: readonly number[];
  readonly #oneEnd: readonly boolean[];
  readonly #baseNets: Uint8Array;
  readonly #caseIsApart: boolean;
  /** wires whose place is their own choice, then the least that they and all later ones cost */
  readonly #free: readonly number[];
  readonly #leastRest: readonly number[];
  readonly #countVisit: () => boolean;
  /** the cheapest placement met, doomed or not: something to explain where nothing works */
  first: Placement | undefined;
  readonly mostChanges: number;

  /** @param panelTied the case is known to be joined to chassis; @param countVisit called for each step, false stops the walk */
  constructor(machine: MachineSide, part: PartSide, panelTied: boolean, countVisit: () => boolean) {
    this.#machine = machine;
    this.#part = part;
    this.#countVisit = countVisit;
    this.#places = listPlaces(machine, part);
    this.#capacity = [...part.terminals.map(capacityOf), Infinity];
    this.#oneEnd = [...part.terminals.map(takesOneEnd), false];
    this.#baseNets = layNoWires(part);
    this.#caseIsApart = !panelTied;
    if (panelTied) joinNets(this.#baseNets, CHASSIS, part.caseNode);
    this.#free = machine.wires.flatMap((wire, w) => (isBound(wire.role) ? [] : [w]));
    const leastRest = [0];
    for (let i = this.#free.length - 1; i >= 0; i--) leastRest.unshift(leastRest[0]! + Math.min(...this.#places[this.#free[i]!]!.map(costOf)));
    this.#leastRest = leastRest;
    // A second wire on a tab may add one end each.
    this.mostChanges = this.#places.reduce((sum, places) => sum + Math.max(...places.map(costOf)) + 1, 0);
  }

  /** Placements of exactly `changes` changes. */
  list(changes: number): Placement[] {
    const found: Placement[] = [];
    const to = new Int8Array(this.#machine.wires.length);
    const load = new Int32Array(this.#part.terminals.length + 1);
    for (const pair of this.#part.heavyPairs) {
      load.fill(0);
      let cost = 0;
      let fits = true;
      this.#machine.wires.forEach((wire, w) => {
        if (!isBound(wire.role)) return;
        const terminal = (wire.role === 'starter' ? pair.starter : pair.battery) - FIRST_PART_NODE;
        to[w] = terminal;
        load[terminal]!++;
        if (load[terminal]! > this.#capacity[terminal]!) fits = false;
        cost += costOf(this.#places[w]![terminal]!);
      });
      if (fits) this.#walk(0, cost, changes, pair, to, load, found);
    }
    return found;
  }

  #walk(depth: number, cost: number, wanted: number, pair: HeavyPair, to: Int8Array, load: Int32Array, found: Placement[]): void {
    if (cost + this.#leastRest[depth]! > wanted || !this.#countVisit()) return;
    if (depth === this.#free.length) {
      const placement = this.#finish(pair, to, cost, wanted);
      if (!placement) return;
      this.first ??= placement;
      if (!isDoomed(this.#machine, this.#part, placement.nets, placement.heavy, this.#caseIsApart)) found.push(placement);
      return;
    }
    const w = this.#free[depth]!;
    for (const place of this.#places[w]!) {
      to[w] = place.to;
      if (place.to === LEFT_OFF) {
        this.#walk(depth + 1, cost + 1, wanted, pair, to, load, found);
        continue;
      }
      if (load[place.to]! >= this.#capacity[place.to]!) continue;
      load[place.to]!++;
      this.#walk(depth + 1, cost + costOf(place), wanted, pair, to, load, found);
      load[place.to]!--;
    }
  }

  #finish(pair: HeavyPair, to: Int8Array, cost: number, wanted: number): Placement | undefined {
    const crowded = listNewEnds(this.#machine, this.#places, this.#oneEnd, to);
    if (cost + crowded.added !== wanted) return undefined;
    const nets = this.#baseNets.slice();
    let moved = 0;
    for (let w = 0; w < to.length; w++) {
      const place = to[w]!;
      if (place === LEFT_OFF) continue;
      joinNets(nets, FIRST_PART_NODE + place, this.#machine.wires[w]!.leadsTo);
      if (this.#places[w]![place]!.moved) moved++;
    }
    return { to: to.slice(), newEnd: crowded.newEnd, moved, changes: wanted, heavy: pair.plungers, nets };
  }
}

/** New ends, with the one a second wire on a tab or pin needs where neither gets one anyway. */
export function listNewEnds(
  { wires }: Pick<MachineSide, 'wires'>, places: readonly (readonly WirePlace[])[], oneEnd: readonly boolean[], to: Int8Array,
): { newEnd: Uint8Array; added: number } {
  const newEnd = new Uint8Array(to.length);
  let added = 0;
  for (let w = 0; w < to.length; w++) if (to[w] !== LEFT_OFF && places[w]![to[w]!]!.newEnd) newEnd[w] = 1;
  for (let later = 1; later < to.length; later++) {
    if (to[later] === LEFT_OFF || !oneEnd[to[later]!]) continue;
    const earlier = to.indexOf(to[later]!);
    if (earlier === later || newEnd[earlier] || newEnd[later] || wires[later]!.end === undefined) continue;
    newEnd[later] = 1;
    added++;
  }
  return { newEnd, added };
}

/** Battery, tap and starter have no choice once the contact is chosen. */
function isBound(role: string): boolean {
  return role === 'battery' || role === 'tap' || role === 'starter';
}

export function costOf(place: WirePlace): number {
  return Number(place.moved) + Number(place.newEnd) + Number(place.to === LEFT_OFF);
}

/**
 * Nets that cannot be right, whatever else is joined to them: every reason here stays true when more nets are joined.
 * Battery on starter, battery on chassis or start switch, the return bridged or on the battery, the feed on the battery,
 * the interlocked return on the case, a coil of the heavy contact with both ends on one net.
 * @param caseIsApart the case is not joined by the panel in these nets
 */
export function isDoomed(machine: MachineSide, part: PartSide, nets: Uint8Array, heavy: number, caseIsApart: boolean): boolean {
  const battery = nets[BATTERY]!;
  if (battery !== BATTERY || nets[STARTER] === BATTERY || nets[START_SWITCH] === BATTERY || heavy === 0) return true;
  if (machine.has.interlockedReturn) {
    const back = nets[INTERLOCKED_RETURN]!;
    if (back === BATTERY || (caseIsApart && back === nets[part.caseNode])) return true;
    if (back === CHASSIS && machine.interlocks !== 'none') return true;
  }
  if (machine.has.crankingFeed) {
    const feed = nets[CRANKING_FEED]!;
    if (feed === BATTERY) return true;
  }
  // With one plunger and no diode a start switch on chassis only weakens the battery: what pulls in then pulls in without it.
  if (nets[START_SWITCH] === CHASSIS && part.plungers.length === 1 && part.diodes.length === 0) return true;
  for (let p = 0; p < part.plungers.length; p++) {
    if ((heavy & (1 << p)) === 0) continue;
    for (const index of part.plungers[p]!) {
      const { a, b } = part.coils[index]!;
      if (a < nets.length && b < nets.length && nets[a] === nets[b]) return true;
    }
  }
  return false;
}

/** A live body is a short as soon as it touches metal, and a shock hazard at 48 V: no jumper may make one, whatever it would mend. */
export function isCaseLive(part: PartSide, nets: Uint8Array): boolean {
  const point = nets[part.caseNode]!;
  return point === BATTERY || point === STARTER || point === START_SWITCH || point === CRANKING_FEED;
}
