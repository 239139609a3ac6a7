import type { CircuitElement, LeadsTo, Part } from '../../catalog-schema/index.ts';
import { heavyContactOf, judgeWiring, type Hung, type Outside, type Tie } from './judge-wiring.ts';

// Every way to wire a part, tried one by one. What a wiring does hangs on how things are joined far more than on ohms: the search runs once
// for each distinct way of being joined, on ordinary values, and what it finds is judged again with the true ones.

const ORDINARY = { nominalV: 12, coilOhm: 4, pullIn: 8, dropOut: 1.2, limitA: 20, windings: [0.4, 1.2] } as const;

const found = new Map<string, Hung[]>();

/** Wirings that are right for a part of ordinary values, joined like this one: with no jumper and one, or, where those give none, with two. */
export function findWirings(part: Part, outside: Outside): readonly Hung[] {
  const plain = simplify(part);
  const key = JSON.stringify([plain, outside.interlocks, outside.caseTied, outside.wires.map(({ goal }) => goal)]);
  let hungs = found.get(key);
  if (!hungs) found.set(key, hungs = search(plain, { ...outside, nominalV: ORDINARY.nominalV, controlOhm: 0, limitA: ORDINARY.limitA, wires: outside.wires.map(({ goal }, i) => ({ tag: String(i), goal })) }));
  const nameOf = (plainName: string): string => part.terminals[Number(plainName)]?.id ?? plainName;
  return hungs.map(({ places, jumpers }) => ({
    places: new Map(outside.wires.map(({ tag }, i) => {
      const to = places.get(String(i))!;
      return [tag, to === null ? null : nameOf(to)];
    })),
    jumpers: jumpers.map(({ from, to }) => ({ from: nameOf(from), to: nameOf(to) })),
  }));
}

/** The part with its terminals named by number and every coil an ordinary one. */
function simplify(part: Part): Part {
  const numbers = new Map(part.terminals.map(({ id }, i) => [id, String(i)]));
  const rename = (name: string): string => numbers.get(name) ?? name;
  const shift = part.partClass === 'shift-solenoid';
  const heavy = heavyContactOf(part);
  let windings = 0;
  const circuit = part.circuit.map((element): CircuitElement => {
    switch (element.kind) {
      case 'coil': return {
        kind: 'coil', id: element.id, between: [rename(element.between[0]), rename(element.between[1])], nominalV: ORDINARY.nominalV,
        ohmAt20C: shift ? ORDINARY.windings[windings++]! : ORDINARY.coilOhm, pullInV: ORDINARY.pullIn, dropOutV: ORDINARY.dropOut,
      };
      case 'contact': return {
        kind: 'contact', id: element.id, between: [rename(element.between[0]), rename(element.between[1])], form: element.form, coils: element.coils, inrushA: element === heavy ? 400 : 10,
      };
      case 'diode': return { kind: 'diode', from: rename(element.from), to: rename(element.to) };
      case 'resistor': return { kind: 'resistor', between: [rename(element.between[0]), rename(element.between[1])], ohm: 47 };
      case 'motor': return { kind: 'motor', between: [rename(element.between[0]), rename(element.between[1])] };
      default: throw new Error(`element ${String(element satisfies never)} is not known`);
    }
  });
  return {
    id: 'p', partClass: part.partClass, title: 'p', ...(part.inside && { inside: part.inside }), circuit,
    terminals: part.terminals.map(({ form }, i) => ({ id: String(i), form: form === 'tab' || form === 'pin' ? 'tab' as const : 'stud' as const })),
  };
}

function search(part: Part, outside: Outside): Hung[] {
  const hangings = listHangings(part, outside);
  const right: Hung[] = [];
  const ties = listTies(part);
  const take = (jumpers: Tie[]): void => {
    for (const places of hangings) {
      const hung = { places, jumpers };
      if (judgeWiring(part, outside, hung, true).size === 0) right.push(hung);
    }
  };
  take([]);
  for (const tie of ties) take([tie]);
  if (right.length === 0) {
    for (const [i, first] of ties.entries()) for (const second of ties.slice(i + 1)) take([first, second]);
  }
  return right;
}

function listTies(part: Part): Tie[] {
  const names = [...part.terminals.map(({ id }) => id), 'case'];
  return names.flatMap((from, i) => [...names.slice(i + 1), 'chassis'].map((to) => ({ from, to })));
}

function listHangings(part: Part, outside: Outside): Map<string, string | null>[] {
  const heavy = heavyContactOf(part);
  if (!heavy) return [];
  const ids = part.terminals.map(({ id }) => id);
  const feedsStarter = outside.wires.some(({ goal }) => goal === 'starter');
  const hangings: Map<string, string | null>[] = [];
  for (const [battery, starter] of [heavy.between, [heavy.between[1], heavy.between[0]]] as const) {
    if (!ids.includes(battery) || ids.includes(starter) !== feedsStarter) continue;
    const placesFor = (goal: LeadsTo): (string | null)[] => {
      switch (goal) {
        case 'battery': case 'tap': return [battery];
        case 'starter': return [starter];
        case 'chassis': return [...ids, 'case', null];
        case 'start-switch': case 'interlocked-return': case 'cranking-feed': return ids;
        case 'unknown': return [];
        default: throw new Error(`goal ${String(goal satisfies never)} is not known`);
      }
    };
    let open: Map<string, string | null>[] = [new Map()];
    for (const { tag, goal } of outside.wires) open = open.flatMap((hanging) => placesFor(goal).map((to) => new Map(hanging).set(tag, to)));
    hangings.push(...open.filter((hanging) => part.terminals.every(({ id, form }) => [...hanging.values()].filter((to) => to === id).length <= (form === 'tab' ? 2 : 4))));
  }
  return hangings;
}
