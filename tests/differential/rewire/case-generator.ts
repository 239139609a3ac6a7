import type { BenchRecord, CircuitElement, LeadsTo, Part, RecordTerminal, Terminal, TerminalForm, Wire } from '../../../catalog-schema/index.ts';

// Seeded cases for the comparison: at most four wires on a part of at most four terminals. An old part of some form is
// imagined, the machine's wires are hung on it as a machine would, and a new part of another (or the same) form is
// offered, with its terminals elsewhere, otherwise named or otherwise made. A few cases are odd on purpose.

export interface RewireCase { seed: number; form: string; record: BenchRecord; part: Part }

/** Numbers from 0 up to but not including 1, the same for the same seed (xorshift, 32 bits). */
export function createRandom(seed: number): () => number {
  let state = (Math.imul(seed ^ 0x9e3779b9, 0x85ebca6b) ^ (seed << 7)) | 0;
  if (state === 0) state = 1;
  const next = () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) / 2 ** 32;
  };
  for (let warm = 0; warm < 8; warm++) next();
  return next;
}

/** Draws from one seed, by name. */
class Draw {
  #random: () => number;
  constructor(seed: number) { this.#random = createRandom(seed); }
  chance(probability: number): boolean { return this.#random() < probability; }
  pick<T>(list: readonly T[]): T { return list[Math.floor(this.#random() * list.length)]!; }
  /** between two values, three significant figures */
  between(low: number, high: number): number { return Number((low + (high - low) * this.#random()).toPrecision(3)); }
  shuffle<T>(list: readonly T[]): T[] {
    const copy = [...list];
    for (let i = copy.length - 1; i > 0; i--) {
      const j = Math.floor(this.#random() * (i + 1));
      [copy[i], copy[j]] = [copy[j]!, copy[i]!];
    }
    return copy;
  }
}

export const FORMS = [
  'case-return', 'isolated', 'isolated-diode', 'isolated-series-diode', 'isolated-resistor', 'cranking-feed', 'shift-solenoid',
  'changeover', 'starter-motor', 'odd',
] as const;
type Form = (typeof FORMS)[number];
type Role = 'battery' | 'starter' | 'first' | 'second';

interface Built { part: Part; places: Record<Role, string> }

/** The case of one seed. */
export function generateCase(seed: number): RewireCase {
  const draw = new Draw(seed);
  const nominalV = draw.pick([12, 12, 12, 24, 6, 48]);
  const newForm: Form = draw.pick([...FORMS, 'isolated', 'case-return', 'cranking-feed', 'odd', 'odd', 'odd']);
  const likely = newForm === 'starter-motor' || draw.chance(0.1) ? FORMS : FORMS.filter((form) => form !== 'starter-motor');
  const oldForm: Form = draw.chance(newForm === 'starter-motor' ? 0.9 : 0.4) ? newForm : draw.pick(likely);
  const look = drawLook(draw);
  const old = buildPart(draw, oldForm, nominalV, 'old', look);
  const fresh = buildPart(draw, newForm, nominalV, 'new', draw.chance(0.65) ? look : drawLook(draw));
  if (draw.chance(0.25)) fresh.part.terminals = shiftFaces(draw, fresh.part.terminals);
  return { seed, form: newForm, record: describeRecord(draw, old, oldForm, nominalV), part: fresh.part };
}

const STUD_IDS: readonly (readonly [string, string])[] = [['B', 'M'], ['30', '87'], ['T1', 'T2'], ['M', 'B'], ['A', 'C']];
const SMALL_IDS: readonly (readonly [string, string])[] = [['S', 'I'], ['86', '85'], ['I', 'S'], ['p', 'q']];

/** How the terminals are named, made and drawn; two parts of one look are near twins outside. */
interface Look { studs: readonly [string, string]; small: readonly [string, string]; heavyForm: TerminalForm; smallForm: TerminalForm; faced: boolean; marked: boolean }

function drawLook(draw: Draw): Look {
  return {
    studs: draw.pick(STUD_IDS), small: draw.pick(SMALL_IDS),
    heavyForm: draw.pick(['stud', 'stud', 'stud', 'stud', 'screw', 'tab']),
    smallForm: draw.pick(['tab', 'tab', 'tab', 'screw', 'pin', 'lead', 'stud']),
    faced: draw.chance(0.6), marked: draw.chance(0.5),
  };
}

function buildPart(draw: Draw, form: Form, nominalV: number, id: string, look: Look): Built {
  const [battery, starter] = look.studs;
  const [first, second] = look.small;
  const { heavyForm, smallForm, faced, marked } = look;
  const places: Record<Role, string> = { battery, starter, first, second };
  const spots: Record<Role, [number, number]> = { battery: [-20, 10], starter: [20, 10], first: [-8, 30], second: [8, 30] };
  const build = (role: Role, terminalForm: TerminalForm): Terminal => ({
    id: places[role], form: terminalForm,
    ...(terminalForm === 'tab' && draw.chance(0.8) ? { tabWidthMm: draw.pick([6.3, 6.3, 4.8]) } : {}),
    ...(marked ? { marking: { battery: 'BAT', starter: 'MOT', first: 'START', second: draw.pick(['IGN', 'RET']) }[role] } : {}),
    ...(faced ? { at: { xMm: spots[role][0] + Math.round(draw.between(-3, 3)), yMm: spots[role][1] + Math.round(draw.between(-3, 3)) } } : {}),
  });
  const own = form === 'starter-motor';
  const twoSmall = !(form === 'shift-solenoid' || (form === 'case-return' && draw.chance(0.6)));
  const all: Role[] = twoSmall ? ['battery', 'starter', 'first', 'second'] : ['battery', 'starter', 'first'];
  // a starter with its own solenoid: the motor hangs on the contact inside; a fourth terminal is its ground, if any
  const roles = own ? all.filter((role) => role !== 'starter' && (role !== 'second' || draw.chance(0.5))) : all;
  const terminals = roles.map((role) => build(role, role === 'battery' || role === 'starter' ? heavyForm : smallForm));
  const { circuit, inside } = wireInside(draw, form, nominalV, places, roles.includes('second'));
  const conductive = draw.pick([true, true, false, undefined]);
  return {
    places,
    part: {
      id, partClass: own ? 'starter-motor' : form === 'shift-solenoid' ? 'shift-solenoid' : form === 'changeover' ? 'plug-in-relay' : 'start-relay', title: `invented ${form}`,
      terminals: draw.chance(0.3) ? draw.shuffle(terminals) : terminals,
      ...(inside.length > 0 ? { inside } : {}), circuit,
      ...(conductive === undefined ? {} : { mounting: { holes: [], conductive } }),
    },
  };
}

function wireInside(draw: Draw, form: Form, nominalV: number, at: Record<Role, string>, hasSecond: boolean): { circuit: CircuitElement[]; inside: string[] } {
  const { battery, starter, first, second } = at;
  const coilV = draw.chance(0.1) ? draw.pick([6, 12, 24]) : nominalV;
  const ends = (a: string, b: string): [string, string] => (draw.chance(0.5) ? [a, b] : [b, a]);
  const coil = (a: string, b: string, id = 'K', ohm = draw.between(0.8, 6) * nominalV / 6): CircuitElement => ({
    kind: 'coil', id, between: ends(a, b), nominalV: coilV, ohmAt20C: Number(ohm.toPrecision(3)),
    ...(draw.chance(0.5) ? { pullInV: Number((coilV * draw.between(0.5, 0.75)).toPrecision(3)) } : {}),
    ...(draw.chance(0.5) ? { dropOutV: Number((coilV * draw.between(0.05, 0.3)).toPrecision(3)) } : {}),
  });
  const rating = draw.pick(['both', 'inrush', 'continuous', 'none'] as const);
  const contact = (a: string, b: string, coils: string[], id = 'X', contactForm: 'NO' | 'NC' = 'NO', heavy = true): CircuitElement => ({
    kind: 'contact', id, between: ends(a, b), form: contactForm, coils,
    ...(rating === 'both' || rating === 'inrush' ? { inrushA: heavy ? 400 : 10 } : {}),
    ...(rating === 'both' || rating === 'continuous' ? { continuousA: heavy ? 80 : 5 } : {}),
  });
  const heavy = contact(battery, starter, ['K']);
  const isolated = (): CircuitElement[] => [coil(first, second), heavy];
  switch (form) {
    case 'case-return': return { circuit: [coil(first, 'case'), heavy], inside: [] };
    case 'isolated': return { circuit: isolated(), inside: [] };
    case 'isolated-diode': {
      const [from, to] = ends(first, second);
      return { circuit: [...isolated(), { kind: 'diode', from, to }], inside: [] };
    }
    case 'isolated-series-diode': {
      const circuit: CircuitElement[] = draw.chance(0.5)
        ? [{ kind: 'diode', from: first, to: 'j' }, coil('j', second), heavy]
        : [coil(first, 'j'), { kind: 'diode', from: 'j', to: second }, heavy];
      return { circuit, inside: ['j'] };
    }
    case 'isolated-resistor':
      return { circuit: [...isolated(), { kind: 'resistor', between: ends(first, second), ohm: draw.pick([47, 100, 220, 3.3]) }], inside: [] };
    case 'cranking-feed':
      return { circuit: [coil(first, 'case'), heavy, contact(battery, second, ['K'], 'Y', 'NO', false)], inside: [] };
    case 'shift-solenoid': {
      const pullIn = coil(first, starter, 'P', draw.between(0.25, 0.6) * nominalV / 12);
      const holdIn = coil(first, 'case', 'H', draw.between(0.8, 1.6) * nominalV / 12);
      for (const winding of [pullIn, holdIn]) if (winding.kind === 'coil') winding.between = winding.id === 'P' ? [first, starter] : [first, 'case'];
      return { circuit: [pullIn, holdIn, contact(battery, starter, ['P', 'H'])], inside: [] };
    }
    case 'changeover': {
      // a coil to the case leaves the fourth terminal for the normally closed contact
      const circuit = [coil(first, 'case'), heavy, contact(battery, second, ['K'], 'Y', 'NC', false)];
      return { circuit, inside: [] };
    }
    case 'starter-motor': {
      const ground = hasSecond ? second : 'case';
      const motor: CircuitElement = { kind: 'motor', between: ends('m', ground), ...(draw.chance(0.5) ? { ohm: 0.06 } : {}) };
      const solenoid = draw.chance(0.5) ? [coil(first, 'case')] : [coil(first, ground)];
      return { circuit: [...solenoid, contact(battery, 'm', ['K']), motor], inside: ['m'] };
    }
    case 'odd': return wireOddly(draw, at, isolated, coil, contact);
  }
}

function wireOddly(
  draw: Draw, at: Record<Role, string>, isolated: () => CircuitElement[],
  coil: (a: string, b: string, id?: string, ohm?: number) => CircuitElement,
  contact: (a: string, b: string, coils: string[], id?: string, form?: 'NO' | 'NC', heavy?: boolean) => CircuitElement,
): { circuit: CircuitElement[]; inside: string[] } {
  const { battery, starter, first, second } = at;
  switch (draw.pick(['fed-inside', 'self-holding', 'buzzer', 'leak', 'normally-closed', 'no-coil', 'two-coils', 'two-contacts', 'motor', 'series-resistor', 'case-diode', 'low-coil', 'link'] as const)) {
    case 'fed-inside': return { circuit: [coil(battery, second), contact(battery, starter, ['K'])], inside: [] };
    case 'self-holding': return { circuit: [...isolated(), { kind: 'diode', from: starter, to: first }], inside: [] };
    case 'buzzer':
      return { circuit: [contact(first, 'j', ['K'], 'Y', 'NC', false), coil('j', second), contact(battery, starter, ['K'])], inside: ['j'] };
    case 'leak': return { circuit: [...isolated(), { kind: 'resistor', between: [battery, first], ohm: draw.pick([0.2, 1.5, 10]) }], inside: [] };
    case 'normally-closed': return { circuit: [coil(first, second), contact(battery, starter, ['K'], 'X', 'NC')], inside: [] };
    case 'no-coil': return { circuit: [coil(first, second), contact(battery, starter, [], 'X', draw.pick(['NO', 'NC']))], inside: [] };
    case 'two-coils':
      return { circuit: [coil(first, 'case', 'K'), coil(first, second, 'L'), contact(battery, starter, ['K', 'L'])], inside: [] };
    case 'two-contacts': return { circuit: [coil(first, 'case'), contact(battery, starter, ['K']), contact(battery, second, ['K'], 'Y')], inside: [] };
    case 'motor': return { circuit: [...isolated(), { kind: 'motor', between: [starter, 'case'], ...(draw.chance(0.5) ? { ohm: 0.06 } : {}) }], inside: [] };
    case 'series-resistor':
      return { circuit: [coil(first, 'j'), { kind: 'resistor', between: ['j', second], ohm: draw.pick([0, 0.5, 3]) }, contact(battery, starter, ['K'])], inside: ['j'] };
    case 'case-diode':
      return { circuit: [coil(first, 'case'), { kind: 'diode', from: 'case', to: first }, contact(battery, starter, ['K'])], inside: [] };
    case 'low-coil': return { circuit: [coil(first, second, 'K', draw.between(0.1, 0.5)), contact(battery, starter, ['K'])], inside: [] };
    case 'link': return { circuit: [...isolated(), { kind: 'resistor', between: [starter, second], ohm: 0 }], inside: [] };
  }
}

/** The same terminals with their places on the face changed about. */
function shiftFaces(draw: Draw, terminals: readonly Terminal[]): Terminal[] {
  const places = draw.shuffle(terminals.map((terminal) => terminal.at));
  return terminals.map((terminal, index) => {
    const { at: _, ...bare } = terminal;
    const at = places[index];
    return at ? { ...bare, at } : bare;
  });
}

function describeRecord(draw: Draw, old: Built, oldForm: Form, nominalV: number): BenchRecord {
  const goals = chooseGoals(draw, oldForm, old);
  const order = draw.chance(0.3) ? draw.shuffle(goals) : goals;
  const tags = draw.shuffle(['W1', 'W2', 'W3', 'W4', 'red', 'ylw']);
  const known = draw.chance(0.9);
  const wires = order.map(([goal, place], index) => hangOld(draw, tags[index]!, goal, place, old.part));
  const hasReturn = wires.some((wire) => wire.leadsTo === 'interlocked-return');
  const interlocks = hasReturn ? draw.pick(['in-return', 'both', undefined] as const) : draw.pick(['in-feed', 'none', undefined] as const);
  const panelGrounded = draw.pick([true, true, false, undefined]);
  const demand = {
    ...(draw.chance(0.35) ? { controlFuseA: draw.pick([2, 5, 10, 15, 30, 150]) } : {}),
    ...(draw.chance(0.3) ? { controlOhm: draw.pick([0, 0.05, 0.3, 2.5, { value: 0.4, plusMinus: 0.05 }, { value: 8, plusMinus: 1 }]) } : {}),
  };
  return {
    system: { nominalV, ...(interlocks ? { interlocks } : {}) },
    ...(known ? { terminals: old.part.terminals.map(describeTerminal) } : {}),
    ...(panelGrounded === undefined ? {} : { mounting: { holes: [], panelGrounded } }),
    wires,
    ...(Object.keys(demand).length > 0 ? { demand } : {}),
  };
}

function describeTerminal(terminal: Terminal): RecordTerminal {
  const { id, form, marking, at, tabWidthMm } = terminal;
  return { id, form, ...(marking ? { marking } : {}), ...(at ? { at } : {}), ...(tabWidthMm ? { tabWidthMm } : {}) };
}

/** What the machine hung on a part of this form, and where. */
function chooseGoals(draw: Draw, form: Form, old: Built): [LeadsTo | undefined, string][] {
  const { battery, starter, first, second } = old.places;
  const has = (id: string) => old.part.terminals.some((terminal) => terminal.id === id);
  const goals: [LeadsTo | undefined, string][] = [['battery', battery], ['starter', starter], ['start-switch', first]];
  const onCase = form === 'case-return' || form === 'shift-solenoid' || form === 'cranking-feed' || form === 'changeover';
  if (form === 'starter-motor') {
    goals.splice(1, 1);
    if (draw.chance(0.5)) goals.push(['chassis', has(second) ? second : 'case']);
    else if (draw.chance(0.3)) goals.push(['tap', battery]);
    else if (draw.chance(0.2)) goals.push(['interlocked-return', first]);
  } else if (onCase) {
    if (form === 'cranking-feed' && draw.chance(0.75)) goals.push(['cranking-feed', second]);
    else if (draw.chance(0.5)) goals.push(['chassis', 'case']);
    else if (draw.chance(0.4)) goals.push(['tap', battery]);
    else if (draw.chance(0.3)) goals.push(['cranking-feed', has(second) ? second : starter]);
  } else {
    goals.push(draw.chance(0.6) ? ['interlocked-return', second] : ['chassis', second]);
  }
  if (draw.chance(0.04) && goals.length < 4) goals.push([draw.pick(['start-switch', 'chassis', 'starter', 'battery'] as const), draw.pick([first, starter, battery].filter(has))]);
  return goals.map(([goal, place]) => {
    let leads: LeadsTo | undefined = goal;
    if (draw.chance(0.008)) leads = draw.pick(['unknown', undefined, 'tap', 'chassis'] as const);
    if (draw.chance(0.06)) {
      const elsewhere = draw.pick(old.part.terminals).id;
      return [leads, elsewhere];
    }
    return [leads, place];
  });
}

function hangOld(draw: Draw, tag: string, goal: LeadsTo | undefined, wasOn: string, part: Part): Wire {
  const terminal = part.terminals.find((one) => one.id === wasOn);
  return { tag, wasOn, ...(goal ? { leadsTo: goal } : {}), ...chooseEnd(draw, terminal) };
}

function chooseEnd(draw: Draw, terminal: Terminal | undefined): Pick<Wire, 'end'> {
  if (draw.chance(0.2)) return {};
  const form = draw.chance(0.1) ? draw.pick(['stud', 'tab', 'lead'] as const) : terminal?.form ?? 'stud';
  switch (form) {
    case 'stud': case 'screw': return { end: { form: 'ring', holeMm: 8.4 } };
    case 'tab': return { end: { form: 'receptacle', tabWidthMm: terminal?.tabWidthMm ?? draw.pick([6.3, 4.8]) } };
    case 'lead': case 'pin': return { end: { form: 'bare' } };
  }
}
