import { CIRCUIT_CONSTANTS } from './constants.ts';
import { NodalSolver } from './nodal-solver.ts';
import { shareTieCurrents } from './tie-currents.ts';

/** An element between named nodes. Its current counts from its first node to its second (a source: out of `plus`). */
export type NetworkElement =
  | { readonly kind: 'resistor'; readonly between: readonly [string, string]; readonly ohm: number }
  | { readonly kind: 'wire'; readonly between: readonly [string, string] }
  | { readonly kind: 'source'; readonly minus: string; readonly plus: string; readonly emfV: number; readonly ohm: number }
  /** back-EMF opposes current from the first node to the second */
  | { readonly kind: 'motor'; readonly between: readonly [string, string]; readonly ohm: number; readonly backEmfV?: number }
  | { readonly kind: 'contact'; readonly between: readonly [string, string]; readonly closed: boolean; readonly ohm?: number }
  /** conducts `from` to `to`, with a forward drop and a slope */
  | { readonly kind: 'diode'; readonly from: string; readonly to: string; readonly forwardV?: number; readonly ohm?: number };

export interface Network {
  /** the node at 0 V; it may be one that no element touches */
  readonly ground: string;
  readonly elements: readonly NetworkElement[];
}

export interface NetworkSolution {
  /** V against ground; a part that floats is grounded at one of its nodes */
  readonly volts: ReadonlyMap<string, number>;
  /** A through each element, in the order of `elements` */
  readonly amps: readonly number[];
  /** for each element, whether current can pass: false for an open contact and a diode that blocks */
  readonly conducts: readonly boolean[];
}

/**
 * The steady state of a network of sources, resistances, motors, contacts, diodes and zero-ohm wires.
 * Resistors, wires and closed contacts of 0 Ohm are ties: exact, and each one's current is known (in a loop of ties they share
 * as equal small resistances). Cost grows with the cube of the number of nodes.
 * @throws RangeError for a source or motor without resistance and for values that are no numbers
 * @example solveNetwork({ ground: '0', elements: [
 *   { kind: 'source', minus: '0', plus: 'b', emfV: 12, ohm: 1 }, { kind: 'resistor', between: ['b', '0'], ohm: 5 }] })
 *   // volts b = 10, amps [2, 2]
 */
export function solveNetwork(network: Network): NetworkSolution {
  const nodes = numberNodes(network);
  const solver = new NodalSolver();
  solver.begin(nodes.size);
  const at = (node: string): number => nodes.get(node)!;
  const ties: { element: number; from: number; to: number }[] = [];
  const branchOf: number[] = [];
  network.elements.forEach((element, index) => {
    const [from, to] = endsOf(element);
    const ohm = ohmOf(element);
    const emfV = emfOf(element);
    if (!Number.isFinite(ohm) || ohm < 0 || !Number.isFinite(emfV)) {
      throw new RangeError(`solveNetwork: element ${index} (${element.kind}) has ohm ${ohm}, EMF ${emfV}`);
    }
    if (element.kind === 'diode') {
      branchOf.push(solver.addDiode(at(from), at(to), element.forwardV, element.ohm));
    } else if (ohm === 0) {
      if (element.kind === 'source' || element.kind === 'motor') {
        throw new RangeError(`solveNetwork: element ${index} (${element.kind}) needs a resistance above 0`);
      }
      if (element.kind !== 'contact' || element.closed) {
        solver.tie(at(from), at(to));
        ties.push({ element: index, from: at(from), to: at(to) });
      }
      branchOf.push(-1);
    } else {
      const branch = solver.addBranch(at(from), at(to), ohm, emfV);
      if (element.kind === 'contact' && !element.closed) solver.setOn(branch, false);
      branchOf.push(branch);
    }
  });
  solver.solve();

  const amps = branchOf.map((branch) => (branch < 0 ? 0 : solver.ampsOf(branch)));
  const drawnA = new Float64Array(nodes.size);
  network.elements.forEach((element, index) => {
    const [from, to] = endsOf(element);
    drawnA[at(from)]! += amps[index]!;
    drawnA[at(to)]! -= amps[index]!;
  });
  const tieAmps = shareTieCurrents(ties.map((t) => t.from), ties.map((t) => t.to), ties.length, drawnA);
  ties.forEach((tie, i) => { amps[tie.element] = tieAmps[i]!; });

  return {
    volts: new Map([...nodes].map(([name, number]) => [name, solver.voltsAt(number)])),
    amps,
    conducts: network.elements.map((element, index) => {
      const branch = branchOf[index]!;
      if (element.kind === 'contact') return element.closed;
      return branch < 0 || solver.isOn(branch);
    }),
  };
}

/** First and second node of an element, in the direction its current counts. */
export function endsOf(element: NetworkElement): readonly [string, string] {
  switch (element.kind) {
    case 'resistor': case 'wire': case 'motor': case 'contact': return element.between;
    case 'source': return [element.minus, element.plus];
    case 'diode': return [element.from, element.to];
    default: return refuseKind(element);
  }
}

/** Series resistance of an element when it conducts, Ohm. */
export function ohmOf(element: NetworkElement): number {
  switch (element.kind) {
    case 'resistor': case 'source': case 'motor': return element.ohm;
    case 'wire': return 0;
    case 'contact': return element.ohm ?? CIRCUIT_CONSTANTS.contactOhm.value;
    case 'diode': return element.ohm ?? CIRCUIT_CONSTANTS.diodeOhm.value;
    default: return refuseKind(element);
  }
}

/** What an element that conducts adds to the voltage along the direction of its current, V. */
export function emfOf(element: NetworkElement): number {
  switch (element.kind) {
    case 'resistor': case 'wire': case 'contact': return 0;
    case 'source': return element.emfV;
    case 'motor': return -(element.backEmfV ?? 0);
    case 'diode': return -(element.forwardV ?? CIRCUIT_CONSTANTS.diodeV.value);
    default: return refuseKind(element);
  }
}

function refuseKind(element: never): never {
  throw new TypeError(`unknown element ${JSON.stringify(element)}`);
}

function numberNodes(network: Network): Map<string, number> {
  const nodes = new Map<string, number>([[network.ground, 0]]);
  for (const element of network.elements) {
    for (const node of endsOf(element)) if (!nodes.has(node)) nodes.set(node, nodes.size);
  }
  return nodes;
}
