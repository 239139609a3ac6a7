import type { CircuitElement, CoilElement, ContactElement, Part, TerminalForm } from '../../../catalog-schema/index.ts';
import { CIRCUIT_CONSTANTS } from '../circuit/index.ts';
import { settingOf } from '../settings.ts';

/** A coil as far as wiring hangs on it; nodes are numbered as in `CircuitShape`. */
export interface CoilShape {
  readonly a: number;
  readonly b: number;
  readonly nominalV: number;
  /** undefined where the part does not say: its class decides */
  readonly ohm: number | undefined;
  /** V at 20 C, the default of the settings where the part does not say */
  readonly pullInV: number;
  readonly dropOutV: number;
}

export interface ContactShape {
  readonly a: number;
  readonly b: number;
  readonly form: ContactElement['form'];
  /** indices in `coils`, rising */
  readonly coils: readonly number[];
  /** of two contacts the one with the higher rank is rated for more; equal ranks are equally rated */
  readonly rank: number;
}

/**
 * A part's circuit with its own names and order taken out: two parts of one shape are wired alike. Nodes are the terminals in order of id, then
 * the case, then the inner joints.
 */
export interface CircuitShape {
  /** equal for equal shapes, different for different ones */
  readonly key: string;
  readonly terminals: readonly { readonly form: TerminalForm; readonly tabWidthMm: number | undefined }[];
  /** what stands for each terminal, the case and (last) the chassis where order by text decides: in the same order as their true names */
  readonly standIns: readonly string[];
  readonly nodeCount: number;
  readonly coils: readonly CoilShape[];
  readonly contacts: readonly ContactShape[];
  readonly resistors: readonly { readonly a: number; readonly b: number; readonly ohm: number }[];
  readonly motors: readonly { readonly a: number; readonly b: number; readonly ohm: number }[];
  readonly diodes: readonly { readonly from: number; readonly to: number }[];
  readonly conductive: boolean | undefined;
}

/** How a part's own names and order map to its shape. */
export interface PartNames {
  /** id of each terminal of the shape, then 'case' */
  readonly nodes: readonly string[];
  /** the part's own entry for each coil of the shape */
  readonly coils: readonly CoilElement[];
  /** for each terminal in the part's order its number in the shape */
  readonly places: readonly number[];
}

/**
 * Everything of a part that its wiring hangs on, whatever the machine, as text: parts with equal keys and equal `facesKeyOf` have equal answers
 * but for the names of their coils. Ratings count by their order only; title, duty, studs' threads, holes do not count.
 * Cost: some 20 microseconds.
 */
export function circuitKeyOf(part: Part): string {
  return shapeOf(part).shape.key;
}

/** How the terminals of a part are called and where they sit, as text: which of them answers to which place of an old part. */
export function facesKeyOf(part: Part): string {
  return JSON.stringify(part.terminals.map(({ id, form, marking, at }) => [id, form, marking ?? null, at ? [at.xMm, at.yMm] : null]));
}

/** Take a part's circuit apart into its shape and its names. */
export function shapeOf(part: Part): { shape: CircuitShape; names: PartNames } {
  const sorted = part.terminals.map((terminal, index) => ({ terminal, index })).sort((a, b) => compareText(a.terminal.id, b.terminal.id));
  const places = part.terminals.map((_, place) => sorted.findIndex(({ index }) => index === place));
  const nodes = [...sorted.map(({ terminal }) => terminal.id), 'case'];
  const numbers = new Map(nodes.map((id, node) => [id, node]));
  const isJoint = (name: string): boolean => !numbers.has(name);
  const joints = part.inside === undefined ? [] : part.inside.filter(isJoint);

  const coilsAsListed = part.circuit.filter((element): element is CoilElement => element.kind === 'coil');
  const rankOf = rankRatings(part.circuit.filter((element): element is ContactElement => element.kind === 'contact'));
  // Where coils pull together the sense of each counts; a coil alone has none.
  const together = new Set(part.circuit.flatMap((element) => (element.kind === 'contact' && element.coils.length > 1 ? element.coils : [])));
  // Joints are numbered as they come in a list sorted without them.
  const anonymous = (name: string): number => numbers.get(name) ?? nodes.length;
  const listed = part.circuit.map((element) => ({ element, text: describeAnonymously(element, anonymous, coilsAsListed, rankOf, together) }))
    .sort((a, b) => compareText(a.text, b.text));
  for (const { element } of listed) for (const name of endsOf(element)) if (!numbers.has(name)) numbers.set(name, numbers.size);
  for (const name of joints) if (!numbers.has(name)) numbers.set(name, numbers.size);

  const at = (name: string): number => numbers.get(name)!;
  const inOrder = <K extends CircuitElement['kind']>(kind: K): Extract<CircuitElement, { kind: K }>[] =>
    listed.flatMap(({ element }) => (element.kind === kind ? [element as Extract<CircuitElement, { kind: K }>] : []));
  const level = (element: { between: readonly [string, string] }): { a: number; b: number } => {
    const [a, b] = [at(element.between[0]), at(element.between[1])];
    return a < b ? { a, b } : { a: b, b: a };
  };
  const coilElements = inOrder('coil');
  const shape = {
    terminals: sorted.map(({ terminal: { form, tabWidthMm } }) => ({ form, tabWidthMm: form === 'tab' ? tabWidthMm : undefined })),
    standIns: standInsFor(nodes),
    nodeCount: numbers.size,
    coils: coilElements.map((coil): CoilShape => ({
      ...(together.has(coil.id) ? { a: at(coil.between[0]), b: at(coil.between[1]) } : level(coil)),
      nominalV: coil.nominalV, ohm: coil.ohmAt20C, ...thresholdsOf(coil),
    })),
    contacts: inOrder('contact').map((contact): ContactShape => ({
      ...level(contact), form: contact.form, rank: rankOf(contact),
      coils: coilElements.flatMap((coil, c) => (contact.coils.includes(coil.id) ? [c] : [])),
    })),
    resistors: inOrder('resistor').map((resistor) => ({ ...level(resistor), ohm: bareAtLeast(resistor.ohm) })),
    motors: inOrder('motor').map((motor) => ({ ...level(motor), ohm: bareAtLeast(motor.ohm ?? settingOf('motorOhm')) })),
    diodes: inOrder('diode').map(({ from, to }) => ({ from: at(from), to: at(to) })),
    conductive: part.mounting?.conductive,
  };
  return { shape: { ...shape, key: writeKey(shape, part.partClass) }, names: { nodes, coils: coilElements, places } };
}

function writeKey(shape: Omit<CircuitShape, 'key'>, partClass: Part['partClass']): string {
  const pairs = (list: readonly { a: number; b: number; ohm: number }[]): (number | string)[][] => list.map(({ a, b, ohm }) => [a, b, ohm]);
  return JSON.stringify([
    shape.terminals.map(({ form, tabWidthMm }) => (tabWidthMm === undefined ? form : [form, tabWidthMm])), shape.standIns, shape.nodeCount,
    shape.coils.map(({ a, b, nominalV, ohm, pullInV, dropOutV }) => [a, b, nominalV, ohm ?? partClass, pullInV, dropOutV]),
    shape.contacts.map(({ a, b, form, coils, rank }) => [a, b, form, coils, rank]),
    pairs(shape.resistors), pairs(shape.motors), shape.diodes.map(({ from, to }) => [from, to]), shape.conductive ?? null,
  ]);
}

export function thresholdsOf(coil: CoilElement): { pullInV: number; dropOutV: number } {
  return {
    pullInV: coil.pullInV ?? settingOf('pullInOfNominal') * coil.nominalV,
    dropOutV: coil.dropOutV ?? settingOf('dropOutOfNominal') * coil.nominalV,
  };
}

export function bareAtLeast(ohm: number): number {
  return Math.max(ohm, CIRCUIT_CONSTANTS.bareOhm.value);
}

function endsOf(element: CircuitElement): readonly [string, string] {
  return element.kind === 'diode' ? [element.from, element.to] : element.between;
}

/** What an element is, its joints and coils without their names: what the elements are sorted by. */
function describeAnonymously(
  element: CircuitElement, anonymous: (name: string) => number, coils: readonly CoilElement[], rankOf: (contact: ContactElement) => number,
  together: ReadonlySet<string>,
): string {
  const describe = (one: CircuitElement): (string | number | null)[] => {
    const ends = endsOf(one).map(anonymous);
    const isDirected = one.kind === 'diode' || (one.kind === 'coil' && together.has(one.id));
    if (!isDirected) ends.sort((a, b) => a - b);
    switch (one.kind) {
      case 'coil': return [one.kind, ...ends, one.nominalV, one.ohmAt20C ?? null, ...Object.values(thresholdsOf(one))];
      case 'contact': return [one.kind, ...ends, one.form, rankOf(one)];
      case 'resistor': return [one.kind, ...ends, bareAtLeast(one.ohm)];
      case 'motor': return [one.kind, ...ends, bareAtLeast(one.ohm ?? settingOf('motorOhm'))];
      case 'diode': return [one.kind, ...ends];
      default: return refuseKind(one);
    }
  };
  const moving = element.kind === 'contact' ? coils.filter(({ id }) => element.coils.includes(id)).map((coil) => JSON.stringify(describe(coil))).sort() : [];
  return JSON.stringify([...describe(element), ...moving]);
}

/** Highest inrush first, then highest continuous rating, then none: the order among a part's contacts, and nothing else of their ratings. */
export function rankRatings(contacts: readonly ContactElement[]): (contact: ContactElement) => number {
  const compare = (a: ContactElement, b: ContactElement): number => (
    a.inrushA !== undefined || b.inrushA !== undefined ? (a.inrushA ?? -1) - (b.inrushA ?? -1) : (a.continuousA ?? -1) - (b.continuousA ?? -1));
  return (contact) => contacts.filter((other, index) => compare(other, contact) < 0 && !contacts.slice(0, index).some((earlier) => compare(earlier, other) === 0)).length;
}

/**
 * Single letters in the order of the names. Where a name would sort otherwise once it is quoted inside a text, the names stand for themselves.
 */
export function standInsFor(nodes: readonly string[]): string[] {
  const names = [...nodes, 'chassis'];
  if (names.some((name) => SORTS_OTHERWISE.test(name))) return names;
  const sorted = names.toSorted(compareText);
  return names.map((name) => String.fromCharCode(FIRST_LETTER + sorted.indexOf(name)));
}

const FIRST_LETTER = 'a'.charCodeAt(0);
/** Characters up to the quotation mark, and what a quoted text escapes. */
const SORTS_OTHERWISE = /[\0-"\\\p{Surrogate}]/u;

export function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

function refuseKind(element: never): never {
  throw new TypeError(`unknown element ${JSON.stringify(element)}`);
}
