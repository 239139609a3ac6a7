import type { BenchRecord, ContactElement, LeadsTo, Part, Plan, RefusalCode, SwitchState, Wire } from '../../../catalog-schema/index.ts';
import { judgeWiring, nameLayout, type Hanging, type Jumper, type Wiring } from './plain-judge.ts';
import { capacityOf, findSamePlace, listNewEnds } from './plain-places.ts';

// Every way to hang every wire, every set of up to two jumpers, each judged by itself. Nothing is pruned but what the
// contract forbids outright. Meant for at most four wires on parts of at most four terminals.

/** A right plan; `waysRight` says with which readings of the case (tied to chassis or not) it is right. */
export interface PlainPlan extends Omit<Plan, 'states'> { waysRight: boolean[]; statesByWay: SwitchState[][]; text: string }

export interface PlainAnswer {
  plans: PlainPlan[]                      // all of them, in the contract's order
  obvious: 'right' | 'wrong' | 'none' | 'untraced'
  obviousCodes: RefusalCode[]             // of the obvious plan where it is wrong, sorted
  samePlaceMissing: boolean
}

/** Plans in order and the obvious plan's codes. Shapes as in the contract; every coil must say its ohms. */
export function rewirePlainly(record: BenchRecord, part: Part): PlainAnswer {
  const wires = record.wires ?? [];
  const untraced = wires.some((wire) => wire.leadsTo === undefined || wire.leadsTo === 'unknown')
    || (['battery', 'start-switch'] as const).some((goal) => !hasGoal(wires, goal))
    || (!hasGoal(wires, 'starter') && !listHeavyContacts(part).some((contact) => listSides(wires, part, contact).length > 0));
  if (untraced) return { plans: [], obvious: 'untraced', obviousCodes: ['wire-not-traced'], samePlaceMissing: false };

  const ways = listCaseWays(record, part);
  const plans: PlainPlan[] = [];
  const judged = new Map<string, boolean>();
  const isRight = (wiring: Wiring): boolean => {
    const layout = nameLayout(record, part, wiring);
    const mayBeRight = judged.get(layout) ?? judgeWiring(record, part, wiring, { firstOnly: true, mergeTies: true }).codes.size === 0;
    judged.set(layout, mayBeRight);
    return mayBeRight && judgeWiring(record, part, wiring, { firstOnly: true }).codes.size === 0;
  };
  for (const { hanging, heavy, load } of listHangings(wires, part)) {
    const rightWays = new Map<string, boolean[]>();
    for (const jumpers of listJumperSets(part, wires, hanging, ways)) {
      if (reachesCase(wires, hanging, jumpers)) continue;
      const waysRight = ways.map((caseTied) => !makesCaseLive(wires, hanging, jumpers, caseTied) && isRight({ hanging, jumpers, caseTied, heavy, load }));
      rightWays.set(JSON.stringify(jumpers), waysRight);
      if (!waysRight.includes(true)) continue;
      const idle = jumpers.some((jumper) => {
        const without = rightWays.get(JSON.stringify(jumpers.filter((other) => other !== jumper)));
        return without !== undefined && waysRight.every((right, way) => !right || without[way]);
      });
      if (idle) continue;
      const text = writeText(hanging, jumpers);
      if (plans.some((plan) => plan.text === text)) continue;
      plans.push(describePlan(record, part, { hanging, jumpers, heavy, load }, ways, waysRight));
    }
  }
  plans.sort((a, b) => a.changes - b.changes || countMoved(a) - countMoved(b) || (a.text < b.text ? -1 : a.text > b.text ? 1 : 0));
  return { plans, ...judgeObvious(record, part, ways, plans) };
}

/** Is the case joined to chassis? [true] or [false] where both sides are known, both where not. */
function listCaseWays(record: BenchRecord, part: Part): boolean[] {
  const conductive = part.mounting?.conductive;
  const grounded = record.mounting?.panelGrounded;
  if (conductive === false || grounded === false) return [false];
  return conductive && grounded ? [true] : [true, false];
}

/** The contacts that battery and starter may sit on: the best rated ones. */
function listHeavyContacts(part: Part): ContactElement[] {
  const contacts = part.circuit.filter((element): element is ContactElement => element.kind === 'contact');
  for (const rating of ['inrushA', 'continuousA'] as const) {
    const rated = contacts.map((contact) => contact[rating]).filter((amps) => amps !== undefined);
    if (rated.length > 0) return contacts.filter((contact) => contact[rating] === Math.max(...rated));
  }
  return contacts;
}

function hasGoal(wires: readonly Wire[], goal: LeadsTo): boolean {
  return wires.some((wire) => wire.leadsTo === goal);
}

/**
 * The ways round for battery and starter on one contact. Where no wire leads to a starter the load is the part's own
 * motor, which must hang on one end of the contact.
 */
function listSides(wires: readonly Wire[], part: Part, contact: ContactElement): { battery: string; starter: string; load: string | undefined }[] {
  const [a, b] = contact.between;
  const isTerminal = (end: string) => part.terminals.some((terminal) => terminal.id === end);
  const hasMotor = (end: string) => part.circuit.some((element) => element.kind === 'motor' && element.between.includes(end));
  return ([[a, b], [b, a]] as const).filter(([battery, starter]) => (
    isTerminal(battery) && (hasGoal(wires, 'starter') ? isTerminal(starter) : hasMotor(starter))
  )).map(([battery, starter]) => ({ battery, starter, load: hasGoal(wires, 'starter') ? undefined : starter }));
}

function listHangings(wires: readonly Wire[], part: Part): Pick<Wiring, 'hanging' | 'heavy' | 'load'>[] {
  const list: Pick<Wiring, 'hanging' | 'heavy' | 'load'>[] = [];
  for (const heavy of listHeavyContacts(part)) {
    for (const { battery, starter, load } of listSides(wires, part, heavy)) {
      let hangings: Map<string, string | null>[] = [new Map()];
      for (const wire of wires) {
        const places = listPlaces(wire.leadsTo!, part, battery, starter);
        hangings = hangings.flatMap((hanging) => places.map((to) => new Map(hanging).set(wire.tag, to)));
      }
      for (const hanging of hangings) {
        if (fitsCapacity(part, hanging)) list.push({ hanging, heavy, load });
      }
    }
  }
  return list;
}

function listPlaces(goal: LeadsTo, part: Part, battery: string, starter: string): (string | null)[] {
  const terminals = part.terminals.map((terminal) => terminal.id);
  switch (goal) {
    case 'battery': case 'tap': return [battery];
    case 'starter': return [starter];
    case 'chassis': return [...terminals, 'case', null];
    case 'start-switch': case 'interlocked-return': case 'cranking-feed': return terminals;
    case 'unknown': return [];
  }
}

function fitsCapacity(part: Part, hanging: Hanging): boolean {
  return part.terminals.every((terminal) => {
    const count = [...hanging.values()].filter((to) => to === terminal.id).length;
    return count <= capacityOf(part, terminal.id);
  });
}

/** No jumper first, then one, then two; never between nodes that are tied already. */
function listJumperSets(part: Part, wires: readonly Wire[], hanging: Hanging, ways: readonly boolean[]): Jumper[][] {
  const nodes = [...part.terminals.map((terminal) => terminal.id), 'case'].sort((a, b) => (a < b ? -1 : 1));
  const single: Jumper[] = [];
  for (const from of nodes) {
    for (const to of [...nodes.filter((node) => node > from), 'chassis']) single.push({ from, to });
  }
  single.sort((a, b) => (a.from === b.from ? (a.to < b.to ? -1 : 1) : (a.from < b.from ? -1 : 1)));
  const chassisPlaces = wires.filter((wire) => wire.leadsTo === 'chassis').map((wire) => hanging.get(wire.tag))
    .filter((to): to is string => typeof to === 'string');
  const given: Jumper[] = chassisPlaces.map((place) => ({ from: place, to: 'chassis' }));
  if (!ways.includes(false)) given.push({ from: 'case', to: 'chassis' });
  const sets: Jumper[][] = [[], ...single.map((jumper) => [jumper])];
  single.forEach((first, index) => {
    for (const second of single.slice(index + 1)) sets.push([first, second]);
  });
  return sets.filter((set) => set.every((jumper, index) => !areTied([...given, ...set.slice(0, index)], jumper.from, jumper.to)));
}

function areTied(ties: readonly Jumper[], a: string, b: string): boolean {
  const reached = new Set([a]);
  for (let before = 0; before !== reached.size;) {
    before = reached.size;
    for (const tie of ties) {
      if (reached.has(tie.from)) reached.add(tie.to);
      if (reached.has(tie.to)) reached.add(tie.from);
    }
  }
  return reached.has(b);
}

/** An interlocked return never reaches the metal case, by wire or jumper. */
function reachesCase(wires: readonly Wire[], hanging: Hanging, jumpers: readonly Jumper[]): boolean {
  return wires.some((wire) => {
    const to = hanging.get(wire.tag);
    return wire.leadsTo === 'interlocked-return' && typeof to === 'string' && areTied(jumpers, to, 'case');
  });
}

/** No jumper puts a live wire on the case; where the case is on chassis too, the short of it is judged as such. */
function makesCaseLive(wires: readonly Wire[], hanging: Hanging, jumpers: readonly Jumper[], caseTied: boolean): boolean {
  const grounds = wires.filter((wire) => wire.leadsTo === 'chassis').map((wire) => hanging.get(wire.tag))
    .filter((to): to is string => typeof to === 'string').map((to) => ({ from: to, to: 'chassis' }));
  const ties: Jumper[] = [...jumpers, ...grounds, ...(caseTied ? [{ from: 'case', to: 'chassis' }] : [])];
  return !areTied(ties, 'case', 'chassis') && wires.some((wire) => {
    const to = hanging.get(wire.tag);
    return isLive(wire.leadsTo) && typeof to === 'string' && areTied(jumpers, to, 'case');
  });
}

function isLive(goal: LeadsTo | undefined): boolean {
  return goal === 'battery' || goal === 'tap' || goal === 'starter' || goal === 'start-switch' || goal === 'cranking-feed';
}

function describePlan(
  record: BenchRecord, part: Part, wiring: Omit<Wiring, 'caseTied'>, ways: readonly boolean[], waysRight: boolean[],
): PlainPlan {
  const { hanging, jumpers } = wiring;
  const all = record.wires ?? [];
  const newEnds = listNewEnds(all, part, hanging);
  const wires: Plan['wires'] = [];
  const leftOff: string[] = [];
  for (const wire of all) {
    const to = hanging.get(wire.tag);
    if (typeof to !== 'string') { leftOff.push(wire.tag); continue; }
    const moved = findSamePlace(record, part, wire.wasOn) !== to;
    wires.push({ tag: wire.tag, from: wire.wasOn, to, moved, newEnd: newEnds.get(wire.tag)! });
  }
  const used = new Set([...wires.map((wire) => wire.to), ...jumpers.flatMap((jumper) => [jumper.from, jumper.to])]);
  const changes = wires.filter((wire) => wire.moved).length + wires.filter((wire) => wire.newEnd).length + jumpers.length + leftOff.length;
  const statesByWay = ways.filter((_, way) => waysRight[way])
    .map((caseTied) => judgeWiring(record, part, { ...wiring, caseTied }).states);
  return {
    wires, jumpers: [...jumpers], leftOff, bareTerminals: part.terminals.map((t) => t.id).filter((id) => !used.has(id)),
    changes, waysRight, statesByWay, text: writeText(hanging, jumpers),
  };
}

/** The plan as one text: wires by tag, jumpers, wires left off. */
function writeText(hanging: Hanging, jumpers: readonly Jumper[]): string {
  const tags = [...hanging.keys()].sort((a, b) => (a < b ? -1 : 1));
  const hung = tags.filter((tag) => hanging.get(tag) !== null).map((tag) => `${tag}>${hanging.get(tag)}`);
  return JSON.stringify([hung, jumpers, tags.filter((tag) => hanging.get(tag) === null)]);
}

function countMoved(plan: PlainPlan): number {
  return plan.wires.filter((wire) => wire.moved).length;
}

function judgeObvious(
  record: BenchRecord, part: Part, ways: readonly boolean[], plans: readonly PlainPlan[],
): Omit<PlainAnswer, 'plans'> {
  const wires = record.wires ?? [];
  const hanging = new Map<string, string>();
  for (const wire of wires) {
    const place = findSamePlace(record, part, wire.wasOn);
    if (place === undefined) return { obvious: 'none', obviousCodes: [], samePlaceMissing: true };
    hanging.set(wire.tag, place);
  }
  if (plans.some((plan) => plan.text === writeText(hanging, []))) return { obvious: 'right', obviousCodes: [], samePlaceMissing: false };
  const candidates = listHeavyContacts(part);
  const onGoal = (end: string, goal: LeadsTo) => wires.some((wire) => wire.leadsTo === goal && hanging.get(wire.tag) === end);
  const sides = candidates.flatMap((heavy) => listSides(wires, part, heavy).map((side) => ({ ...side, heavy })));
  const spanned = sides.find((side) => onGoal(side.battery, 'battery') && (side.load !== undefined || onGoal(side.starter, 'starter')));
  const heavy = spanned?.heavy ?? candidates[0];
  const load = spanned?.load ?? sides[0]?.load;
  if (!heavy) return { obvious: 'wrong', obviousCodes: ['no-terminal'], samePlaceMissing: false };
  const codes = new Set<RefusalCode>();
  for (const caseTied of ways) {
    for (const code of judgeWiring(record, part, { hanging, jumpers: [], caseTied, heavy, load }).codes) codes.add(code);
  }
  return { obvious: 'wrong', obviousCodes: codes.size > 0 ? [...codes].sort() : ['no-terminal'], samePlaceMissing: false };
}
