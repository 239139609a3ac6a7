import type { CircuitElement, CoilElement, ContactElement, Part } from '../../../catalog-schema/index.ts';
import { compareText, rankRatings, standInsFor, type CircuitShape } from './circuit-shape.ts';
import { takesOneEnd } from './wire-places.ts';

/** A circuit without names and numbers: what joins what, how many wires each terminal takes. Its values are all 1, its tabs stand for pins too. */
export interface Topology {
  readonly key: string;
  readonly shape: Omit<CircuitShape, 'conductive'>;
}

/** How the circuits of one structure, which list their terminals and elements alike, lie in their topology. */
export interface Structure {
  readonly topology: Topology;
  /** for each terminal of the topology its place in the part's list */
  readonly terminals: readonly number[];
  /** for each coil, resistor and motor of the topology its place in the part's circuit */
  readonly coils: readonly number[];
  readonly resistors: readonly number[];
  readonly motors: readonly number[];
  /** for each terminal in the part's order its number in the topology */
  readonly places: readonly number[];
}

/** How the parts of one form lie in their topology. */
export interface PartForm extends Structure {
  /** id of each terminal of the topology, then 'case' */
  readonly nodes: readonly string[];
  /** what stands for each terminal, the case and (last) the chassis where order by text decides */
  readonly standIns: readonly string[];
  readonly conductive: boolean | undefined;
}

/** Orders of alike terminals tried before a structure is taken as it is listed. Then alike parts may come to two topologies, which costs time only. */
const MOST_ORDERS = 48;

export function readForm(structure: Structure, { terminals, mounting }: Part): PartForm {
  const nodes = [...structure.terminals.map((place) => terminals[place]!.id), 'case'];
  return { ...structure, nodes, standIns: standInsFor(nodes), conductive: mounting?.conductive };
}

/** Take names and numbers out of a part's circuit, so that parts which only call or list things otherwise come to one topology. */
export function readStructure(part: Part): Structure {
  const listed = new Map(part.terminals.map(({ id }, place) => [id, place]));
  listed.set('case', listed.size);
  for (const name of part.inside ?? []) if (!listed.has(name)) listed.set(name, listed.size);
  const joined = part.circuit.map((element): [number, number] => {
    const [a, b] = element.kind === 'diode' ? [element.from, element.to] : element.between;
    for (const name of [a, b]) if (!listed.has(name)) listed.set(name, listed.size);
    return [listed.get(a)!, listed.get(b)!];
  });
  const elements = new Elements(part.circuit, joined);
  const caseNode = part.terminals.length;
  const colours = elements.colour(Array.from({ length: listed.size }, (_, node) => (
    node < caseNode ? (takesOneEnd(part.terminals[node]!) ? 'one' : 'four') : node === caseNode ? 'case' : 'joint')));

  let best: { order: readonly number[]; laid: Laid } | undefined;
  const jointOrders = listOrders(Array.from({ length: listed.size - caseNode - 1 }, (_, j) => caseNode + 1 + j), colours);
  for (const terminals of listOrders([...part.terminals.keys()], colours)) {
    for (const joints of jointOrders) {
      const order = [...terminals, caseNode, ...joints];
      const numbers = new Int32Array(order.length);
      order.forEach((node, number) => { numbers[node] = number; });
      const laid = elements.lay(numbers);
      if (best === undefined || laid.text < best.laid.text) best = { order, laid };
    }
  }
  const { order, laid } = best!;
  const terminals = order.slice(0, caseNode);
  const forms = terminals.map((place) => ({ form: takesOneEnd(part.terminals[place]!) ? 'tab' as const : 'stud' as const, tabWidthMm: undefined }));
  const key = JSON.stringify([forms.map(({ form }) => form), order.length, laid.text]);
  const standIns = standInsFor(Array.from({ length: caseNode + 1 }, (_, n) => String.fromCharCode(FIRST_STAND_IN + n)));
  return {
    topology: { key, shape: { key, terminals: forms, standIns, nodeCount: order.length, ...laid.shape } },
    terminals, coils: laid.coils, resistors: laid.resistors, motors: laid.motors,
    places: part.terminals.map((_, place) => terminals.indexOf(place)),
  };
}

const FIRST_STAND_IN = 'A'.charCodeAt(0);

/** Elements in the order of their text under some numbering of the nodes. */
interface Laid {
  readonly text: string;
  readonly shape: Pick<CircuitShape, 'coils' | 'contacts' | 'resistors' | 'motors' | 'diodes'>;
  readonly coils: readonly number[];
  readonly resistors: readonly number[];
  readonly motors: readonly number[];
}

class Elements {
  readonly #circuit: readonly CircuitElement[];
  readonly #joined: readonly (readonly [number, number])[];
  readonly #rankOf: (contact: ContactElement) => number;
  /** for each element its place in the circuit of the coils that move it */
  readonly #movedBy: readonly (readonly number[])[];
  /** where coils pull together the sense of each counts */
  readonly #isDirected: readonly boolean[];

  constructor(circuit: readonly CircuitElement[], joined: readonly (readonly [number, number])[]) {
    this.#circuit = circuit;
    this.#joined = joined;
    this.#rankOf = rankRatings(circuit.filter((element): element is ContactElement => element.kind === 'contact'));
    const together = new Set(circuit.flatMap((element) => (element.kind === 'contact' && element.coils.length > 1 ? element.coils : [])));
    this.#isDirected = circuit.map((element) => element.kind === 'diode' || (element.kind === 'coil' && together.has(element.id)));
    this.#movedBy = circuit.map((element) => (element.kind === 'contact'
      ? circuit.flatMap((coil, index) => (coil.kind === 'coil' && element.coils.includes(coil.id) ? [index] : [])) : []));
  }

  /** Tell nodes apart by what hangs on them, as far as their neighbours' neighbours. */
  colour(first: readonly string[]): readonly string[] {
    let colours = first;
    for (let round = 0; round < 2; round++) {
      const seen: string[][] = colours.map(() => []);
      this.#joined.forEach(([a, b], index) => {
        const kind = this.#describe(index);
        const directed = this.#isDirected[index]!;
        const movers = this.#movedBy[index]!.map((coil) => this.#joined[coil]!.map((node) => colours[node]!).sort().join('~')).sort().join();
        seen[a]!.push(`${kind}${directed ? '>' : ''}${movers}(${colours[b]!})`);
        seen[b]!.push(`${kind}${directed ? '<' : ''}${movers}(${colours[a]!})`);
      });
      // A colour is told by its place among the colours, so that it stays short.
      const texts = colours.map((colour, node) => `${colour}[${seen[node]!.sort().join()}]`);
      const all = [...new Set(texts)].sort(compareText);
      colours = texts.map((text, node) => `${first[node]!}${all.indexOf(text)}`);
    }
    return colours;
  }

  lay(numbers: Int32Array): Laid {
    const ends = this.#joined.map(([a, b], index): [number, number] => {
      const [na, nb] = [numbers[a]!, numbers[b]!];
      return this.#isDirected[index]! || na < nb ? [na, nb] : [nb, na];
    });
    const plain = ends.map((pair, index) => `${this.#describe(index)} ${pair.join(' ')}`);
    // A coil is told by what it moves as well, a contact by what moves it.
    const texts = plain.map((text, index) => {
      const others = this.#circuit[index]!.kind === 'coil'
        ? plain.filter((_, contact) => this.#movedBy[contact]!.includes(index)) : this.#movedBy[index]!.map((coil) => plain[coil]!);
      return `${text} ${others.sort(compareText).join(' ')}`;
    });
    const sorted = [...texts.keys()].sort((a, b) => compareText(texts[a]!, texts[b]!) || a - b);
    const of = (kind: CircuitElement['kind']): number[] => sorted.filter((index) => this.#circuit[index]!.kind === kind);
    const coils = of('coil');
    const pair = (index: number): { a: number; b: number } => ({ a: ends[index]![0], b: ends[index]![1] });
    return {
      text: sorted.map((index) => texts[index]!).join(';'),
      shape: {
        coils: coils.map((index) => ({ ...pair(index), nominalV: 1, ohm: 1, pullInV: 1, dropOutV: 1 })),
        contacts: of('contact').map((index) => {
          const contact = this.#circuit[index] as ContactElement;
          return { ...pair(index), form: contact.form, rank: this.#rankOf(contact), coils: coils.flatMap((coil, c) => (this.#movedBy[index]!.includes(coil) ? [c] : [])) };
        }),
        resistors: of('resistor').map((index) => ({ ...pair(index), ohm: 1 })),
        motors: of('motor').map((index) => ({ ...pair(index), ohm: 1 })),
        diodes: of('diode').map((index) => ({ from: ends[index]![0], to: ends[index]![1] })),
      },
      coils, resistors: of('resistor'), motors: of('motor'),
    };
  }

  #describe(index: number): string {
    const element = this.#circuit[index]!;
    return element.kind === 'contact' ? `${element.form}${this.#rankOf(element)}` : element.kind;
  }
}

/** Orders of some nodes: by colour, those of one colour in every order among them, unless that makes too many. */
function listOrders(nodes: readonly number[], colours: readonly string[]): number[][] {
  const groups = [...new Set(nodes.map((node) => colours[node]!))].sort(compareText).map((colour) => nodes.filter((node) => colours[node] === colour));
  let orders: number[][] = [[]];
  for (const group of groups) {
    let count = 1;
    for (let size = 2; size <= group.length; size++) count *= size;
    const ways = orders.length * count > MOST_ORDERS ? [group] : permute(group);
    orders = orders.flatMap((order) => ways.map((way) => [...order, ...way]));
  }
  return orders;
}

function permute(nodes: readonly number[]): number[][] {
  if (nodes.length < 2) return [[...nodes]];
  return nodes.flatMap((first, index) => permute(nodes.toSpliced(index, 1)).map((rest) => [first, ...rest]));
}

/** The coil of a part at a place of its circuit. */
export function coilAt(part: Part, place: number): CoilElement {
  const element = part.circuit[place]!;
  if (element.kind !== 'coil') throw new TypeError(`part ${part.id} has no coil at place ${place} of its circuit`);
  return element;
}
