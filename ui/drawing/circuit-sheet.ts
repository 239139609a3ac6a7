import type { CircuitElement } from '../../catalog-schema/index.ts';
import { DRAWING_WORDS, sayId } from './words.ts';

export type CircuitInput = Readonly<{
  terminals: readonly Readonly<{ id: string }>[]; circuit: readonly CircuitElement[]; widthPx: number
  /** contacts drawn as the plunger leaves them */
  pulledIn: boolean
  /** nodes that are live in the state shown; they and what hangs between them are drawn in the pencil */
  live: readonly string[]
  /** what each terminal is for, by its id: written over it */
  roles?: Readonly<Record<string, string>>
}>;

/** A node as an upright rail at its own column. */
export type Rail = Readonly<{ node: string; kind: 'terminal' | 'case' | 'inside'; x: number; top: number; bottom: number; live: boolean; words: string; role?: Readonly<{ words: string; x: number; y: number }> }>;
/** An element as a rung between two rails. */
export type Rung = Readonly<{ element: CircuitElement; from: number; to: number; y: number; symbolX: number; live: boolean; closed: boolean; lines: readonly string[] }>;
export type CircuitSheet = Readonly<{ width: number; height: number; rails: readonly Rail[]; rungs: readonly Rung[]; links: readonly Readonly<{ x: number; toX: number; from: number; to: number }>[] }>;

const EDGE = 34;
const TOP = 44;
const STEP = 70;
/** Roles stand in two rows in turn, so that neighbours keep apart. */
const ROLE_ROW = 17;
const ROLE_CHARACTER = 7.6;
const MOST_ORDERED = 7;

/**
 * Lays a part's circuit as a ladder: each terminal, inner joint and the case is an upright rail, each element a rung between its two
 * rails, so that any circuit can be drawn and none needs a picture of its own. Rails stand in the order with the fewest crossings.
 */
export function layCircuitSheet(input: CircuitInput): CircuitSheet {
  const { circuit, widthPx } = input;
  const used = new Set(circuit.flatMap(endsOf));
  const nodes = [...input.terminals.map((t) => t.id).filter((id) => used.has(id)), ...[...used].filter((n) => n !== 'case' && !input.terminals.some((t) => t.id === n))];
  const order = [...orderNodes(nodes, circuit.filter((e) => !endsOf(e).includes('case'))), ...(used.has('case') ? ['case'] : [])];
  const gap = order.length > 1 ? Math.min((widthPx - EDGE * 2) / (order.length - 1), 150) : 0;
  const left = (widthPx - gap * (order.length - 1)) / 2;
  const columnOf = new Map(order.map((node, i) => [node, left + i * gap]));

  const rows = packRows(circuit, order);
  const roles = input.roles ?? {};
  const headRoom = order.some((node) => roles[node] !== undefined) ? TOP + ROLE_ROW * 2 : TOP;
  const plain = circuit.map((element, i): Rung => {
    const ends = endsOf(element);
    const closed = element.kind === 'contact' && (element.form === 'NO') === input.pulledIn;
    return {
      element, from: columnOf.get(ends[0]!)!, to: columnOf.get(ends[1]!)!, y: headRoom + 44 + rows[i]! * STEP, closed,
      symbolX: 0, live: isLive(element, closed, input.live), lines: sayElement(element, input.pulledIn),
    };
  });
  const bottom = Math.max(headRoom + 44, ...plain.map((r) => r.y));
  const rails = order.map((node, column): Rail => {
    const mine = plain.filter((_, i) => endsOf(circuit[i]!).includes(node)).map((r) => r.y);
    const kind = node === 'case' ? 'case' : input.terminals.some((t) => t.id === node) ? 'terminal' : 'inside';
    return {
      node, kind, x: columnOf.get(node)!, live: input.live.includes(node), words: kind === 'inside' ? '' : node === 'case' ? DRAWING_WORDS.case : sayId(node),
      top: kind === 'terminal' ? headRoom : Math.min(...mine), bottom: kind === 'case' ? bottom + 56 : Math.max(...mine),
      ...(kind !== 'terminal' || roles[node] === undefined ? {} : { role: placeRole(roles[node], columnOf.get(node)!, widthPx, column) }),
    };
  });
  const rungs = plain.map((rung): Rung => ({ ...rung, symbolX: symbolPlace(rung, rails) }));
  const links = rungs.flatMap((rung, i) => {
    const contact = circuit[i]!;
    if (contact.kind !== 'contact') return [];
    return contact.coils.flatMap((id) => {
      const coil = rungs.find((r) => r.element.kind === 'coil' && r.element.id === id);
      return coil === undefined ? [] : [{ x: rung.symbolX, toX: coil.symbolX, from: rung.y, to: coil.y }];
    });
  });
  return { width: widthPx, height: bottom + (used.has('case') ? 94 : 52), rails, rungs, links };
}

/** A role over its rail, in the upper or the lower row, kept within the sheet. */
function placeRole(said: string, x: number, widthPx: number, column: number): { words: string; x: number; y: number } {
  const half = (said.length * ROLE_CHARACTER) / 2;
  return { words: said, x: Math.min(Math.max(x, half), Math.max(half, widthPx - half)), y: column % 2 === 0 ? 14 : 14 + ROLE_ROW };
}

/** Whether current is drawn through an element: through what joins live nodes and what a live node feeds; a diode across a coil blocks. */
function isLive(element: CircuitElement, closed: boolean, live: readonly string[]): boolean {
  const ends = endsOf(element).map((node) => live.includes(node));
  switch (element.kind) {
    case 'contact': return closed && ends.every(Boolean);
    case 'diode': return ends.every(Boolean);
    case 'coil': case 'resistor': case 'motor': return ends.some(Boolean);
    default: { const never: never = element; throw new Error(`no state for ${JSON.stringify(never)}`); }
  }
}

/** Where an element's symbol stands on its rung: in the middle of the widest piece between the rails it has to cross. */
function symbolPlace(rung: Rung, rails: readonly Rail[]): number {
  const [left, right] = [Math.min(rung.from, rung.to), Math.max(rung.from, rung.to)];
  const stops = [left, ...rails.filter((r) => r.x > left + 1 && r.x < right - 1 && r.top <= rung.y && r.bottom >= rung.y).map((r) => r.x), right]
    .sort((a, b) => a - b);
  let best = { width: -1, middle: (left + right) / 2 };
  stops.forEach((stop, i) => {
    const next = stops[i + 1];
    if (next !== undefined && next - stop > best.width + 0.5) best = { width: next - stop, middle: (stop + next) / 2 };
  });
  return best.middle;
}

/** The two nodes of an element, in its own order. */
export function endsOf(element: CircuitElement): [string, string] {
  return element.kind === 'diode' ? [element.from, element.to] : [element.between[0], element.between[1]];
}

/** Order of the rails: every order is tried up to seven, beyond that they stand as they come. Cost: rails each rung has to cross. */
export function orderNodes(nodes: readonly string[], circuit: readonly CircuitElement[]): string[] {
  if (nodes.length > MOST_ORDERED) return [...nodes];
  const edges = circuit.map(endsOf);
  let best = { order: [...nodes], cost: Infinity };
  const visit = (done: string[], rest: readonly string[]): void => {
    if (rest.length === 0) {
      const at = new Map(done.map((n, i) => [n, i]));
      const cost = edges.reduce((sum, [a, b]) => sum + Math.abs((at.get(a) ?? 0) - (at.get(b) ?? 0)) - 1, 0);
      if (cost < best.cost) best = { order: done, cost };
      return;
    }
    rest.forEach((node, i) => visit([...done, node], [...rest.slice(0, i), ...rest.slice(i + 1)]));
  };
  visit([], nodes);
  return best.order;
}

/** Rows of rungs: two rungs share a row when they lie side by side; contacts first, as the load is drawn above its control. */
function packRows(circuit: readonly CircuitElement[], order: readonly string[]): number[] {
  const at = new Map(order.map((n, i) => [n, i]));
  const rank = { contact: 0, motor: 1, coil: 2, diode: 3, resistor: 4 } as const;
  const indices = circuit.map((_, i) => i).sort((a, b) => rank[circuit[a]!.kind] - rank[circuit[b]!.kind] || a - b);
  const rows: [number, number][][] = [];
  const rowOf = Array<number>(circuit.length).fill(0);
  let floor = 0;
  let lastKind = '';
  for (const i of indices) {
    const element = circuit[i]!;
    const [a, b] = endsOf(element).map((n) => at.get(n)!) as [number, number];
    const span: [number, number] = [Math.min(a, b), Math.max(a, b)];
    if (element.kind !== lastKind) { floor = rows.length; lastKind = element.kind; }
    let row = floor;
    while (rows[row]?.some(([from, to]) => from < span[1] && to > span[0])) row++;
    (rows[row] ??= []).push(span);
    rowOf[i] = row;
  }
  return rowOf;
}

function sayElement(element: CircuitElement, pulledIn: boolean): string[] {
  const words = DRAWING_WORDS.circuit;
  switch (element.kind) {
    case 'coil': return [`${words.coil} ${element.nominalV} V`, ...(element.ohmAt20C === undefined ? [] : [`${element.ohmAt20C} Ω`])];
    case 'contact': return [(element.form === 'NO') === pulledIn ? words.closed : words.open];
    case 'diode': return [words.diode];
    case 'resistor': return [`${element.ohm} Ω`];
    case 'motor': return [words.motor];
    default: { const never: never = element; throw new Error(`no words for ${JSON.stringify(never)}`); }
  }
}
