import type { CircuitElement, Part, Terminal } from '../../../catalog-schema/index.ts';
import { createRandom, generateCase } from './case-generator.ts';

// Catalogues of near twins, for the comparison of remembered answers with fresh ones: one part with its names changed, its lists shuffled, values
// changed that do not matter to the wiring, and now and then one that does.

/** Parts drawn about the part of the seed's case; some share its circuit, some only seem to. */
export function drawNearTwins(seed: number, count: number): Part[] {
  const random = createRandom(seed ^ 0x5bd1e995);
  const { part } = generateCase(seed);
  const twins = Array.from({ length: count }, (_, index) => {
    let twin: Part = { ...structuredClone(part), id: `twin-${index}`, title: `twin ${index}` };
    if (random() < 0.6) twin = rename(twin, random);
    if (random() < 0.5) twin = { ...twin, terminals: shuffle(twin.terminals, random) };
    if (random() < 0.5) twin = { ...twin, circuit: shuffle(twin.circuit, random), ...(twin.inside ? { inside: shuffle(twin.inside, random) } : {}) };
    if (random() < 0.7) twin = changeIdly(twin, random);
    if (random() < 0.4) twin = changeOne(twin, random);
    return twin;
  });
  // Now and then two that differ by nothing but the class that gives their coils the ohms.
  if (count < 3 || random() < 0.7) return twins;
  const classes = ['start-relay', 'contactor'] as const;
  return [...twins.slice(0, -2), ...classes.map((partClass) => ({ ...leaveOhmsOut(part), partClass, id: `of class ${partClass}` }))];
}

function leaveOhmsOut(part: Part): Part {
  const bare = structuredClone(part);
  for (const element of bare.circuit) if (element.kind === 'coil') delete element.ohmAt20C;
  return bare;
}

/** Other ids for terminals, joints, coils and contacts. Half the time in the same order, else in any. */
function rename(part: Part, random: () => number): Part {
  const ids = part.terminals.map(({ id }) => id);
  const fresh = pick([
    ['1', '2', '3', '4', '5'], ['A', 'B', 'C', 'D', 'E'], ['b', 'bat', 'c', 'ch', 'd'], ['casa', 'case1', 'chassis-', 'd', 'e'],
    ['a b', 'a!', 'a"', 'a\\', 'a'], ['\u00e4', 'z', '\u{1f50b}', '\uffee', '30'],
  ], random).slice(0, ids.length);
  const inOrder = random() < 0.5;
  const sorted = inOrder ? fresh.toSorted((a, b) => (a < b ? -1 : 1)) : shuffle(fresh, random);
  const rank = ids.toSorted((a, b) => (a < b ? -1 : 1));
  const names = new Map<string, string>(rank.map((id, index) => [id, sorted[index]!]));
  for (const joint of part.inside ?? []) names.set(joint, `inner ${joint}`);
  const at = (node: string): string => names.get(node) ?? node;
  const coilId = (id: string): string => `${id}-${part.id}`;
  return {
    ...part,
    terminals: part.terminals.map((terminal) => ({ ...terminal, id: at(terminal.id) })),
    ...(part.inside ? { inside: part.inside.map(at) } : {}),
    circuit: part.circuit.map((element): CircuitElement => {
      switch (element.kind) {
        case 'coil': return { ...element, id: coilId(element.id), between: [at(element.between[0]), at(element.between[1])] };
        case 'contact':
          return { ...element, id: `${element.id}*`, coils: element.coils.map(coilId), between: [at(element.between[0]), at(element.between[1])] };
        case 'resistor': case 'motor': return { ...element, between: [at(element.between[0]), at(element.between[1])] };
        case 'diode': return { ...element, from: at(element.from), to: at(element.to) };
      }
    }),
  };
}

/** Values that no wiring hangs on. */
function changeIdly(part: Part, random: () => number): Part {
  const factor = pick([0.5, 1.25, 3], random);
  return {
    ...part,
    numbers: [{ issuer: 'Invented', number: `N${Math.floor(random() * 1000)}` }],
    body: { lengthMm: 40 + 10 * random(), widthMm: 40, heightMm: 30 },
    ...(part.mounting ? { mounting: { ...part.mounting, holes: [{ xMm: 0, yMm: 0, diameterMm: 6 + random() }], drillable: random() < 0.5 } } : {}),
    terminals: part.terminals.map((terminal): Terminal => (terminal.form === 'stud' ? { ...terminal, thread: pick(['M6', 'M8', '5/16-18'], random) } : terminal)),
    circuit: part.circuit.map((element): CircuitElement => {
      switch (element.kind) {
        case 'coil': return { ...element, duty: random() < 0.5 ? { type: 'continuous' } : { type: 'intermittent', maxOnS: 20 } };
        case 'contact': return {
          ...element, dropMvPer100A: 100 * random() + 1,
          ...(element.inrushA === undefined ? {} : { inrushA: element.inrushA * factor }),
          ...(element.continuousA === undefined ? {} : { continuousA: element.continuousA * factor }),
        };
        case 'resistor': case 'motor': case 'diode': return element;
      }
    }),
  };
}

/** One value that a wiring may hang on. */
function changeOne(part: Part, random: () => number): Part {
  const index = Math.floor(random() * part.terminals.length);
  const changeTerminal = (change: (terminal: Terminal) => Terminal): Part => ({ ...part, terminals: part.terminals.map((t, i) => (i === index ? change(t) : t)) });
  const changeCoil = (change: Partial<Extract<CircuitElement, { kind: 'coil' }>>): Part =>
    ({ ...part, circuit: part.circuit.map((element) => (element.kind === 'coil' ? { ...element, ...change } : element)) });
  switch (Math.floor(random() * 8)) {
    case 0: return changeTerminal((terminal) => ({ ...terminal, form: pick(['tab', 'stud', 'lead'], random) }));
    case 1: return changeTerminal((terminal) => ({ ...terminal, tabWidthMm: pick([4.8, 6.3, 9.5], random) }));
    case 2: return changeTerminal((terminal) => ({ ...terminal, marking: pick(['BAT', 'MOT', 'IGN', 'x'], random) }));
    case 3: return changeTerminal((terminal) => ({ ...terminal, at: { xMm: Math.round(40 * random()) - 20, yMm: 20 } }));
    case 4: return changeCoil({ ohmAt20C: 1 + Math.round(9 * random()) });
    case 5: return { ...leaveOhmsOut(part), partClass: pick(['start-relay', 'contactor'], random) };
    case 6: return { ...part, mounting: { holes: [], conductive: random() < 0.5 } };
    default: return { ...part, circuit: part.circuit.map((element) => (element.kind === 'contact' && random() < 0.5 ? { ...element, inrushA: 100 } : element)) };
  }
}

function pick<T>(list: readonly T[], random: () => number): T {
  return list[Math.floor(random() * list.length)]!;
}

function shuffle<T>(list: readonly T[], random: () => number): T[] {
  return list.map((value) => ({ value, key: random() })).sort((a, b) => a.key - b.key).map(({ value }) => value);
}
