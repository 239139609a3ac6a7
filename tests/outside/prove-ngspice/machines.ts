import { CRANK_NODES, type CrankNode } from '../../../catalog-schema/index.ts';
import type { NetworkElement } from '../../../api/engine/circuit/index.ts';
import { createState, CrankingCircuit, indexOfNode, SITUATIONS, type CrankState, type Situation } from '../../../api/engine/prove/cranking-circuit.ts';
import { listHypotheses, type Hypothesis, type Place } from '../../../api/engine/prove/hypotheses.ts';
import { DRAWS, FEED, MachineMaker, SEVERITY, type Machine } from '../../../api/engine/prove/machine.ts';
import type { NamedNetwork } from '../circuit-ngspice/networks.ts';

// Every way of every fault, fed from clamp and from stud, in every situation, as networks written out element by element for SPICE. What
// the engine decides of relay and starter (contact open or closed, back-EMF) is taken from it; every volt and ampere is left to SPICE.

export interface SolvedMachine {
  readonly name: string;
  readonly hypothesis: Hypothesis;
  readonly machine: Machine;
  readonly situation: Situation;
  /** what the engine makes of it */
  readonly state: CrankState;
  readonly turns: boolean;
  /** one network; of a relay that chatters two, contact open and closed */
  readonly networks: readonly NamedNetwork[];
}

/** SPICE takes no signs in a name; the minus post is its ground. */
export const nodeName = (node: CrankNode): string => (node === 'battery-' ? '0' : node.replace('+', '_plus').replace(/-$/, '_minus').replaceAll('-', '_'));

const ends = (a: CrankNode, b: CrankNode): [string, string] => [nodeName(a), nodeName(b)];

function writeNetwork(name: string, m: Machine, { open, place }: Hypothesis, situation: Situation, closed: boolean, backEmfV: number): NamedNetwork {
  const isOpen = (one: Place): boolean => open === true && place === one;
  const [minus, plus] = ends('battery-', 'battery+');
  const elements: NetworkElement[] = [{ kind: 'source', minus, plus, emfV: m.batteryV, ohm: m.batteryOhm }];
  const resistor = (a: CrankNode, b: CrankNode, ohm: number, on: boolean): void => { if (on) elements.push({ kind: 'resistor', between: ends(a, b), ohm }); };
  if (!isOpen('starter')) elements.push({ kind: 'motor', between: ends('starter-stud', 'starter-case'), ohm: m.starterOhm, backEmfV });
  resistor('battery+', 'battery+clamp', m.plusPostOhm, !isOpen('plus-post'));
  resistor('battery+clamp', 'relay-battery-stud', m.batteryCableOhm, !isOpen('battery-cable'));
  resistor('relay-battery-stud', 'relay-starter-stud', situation === 'bridged' ? 0.0005 : m.contactOhm, closed);
  resistor('relay-starter-stud', 'starter-stud', m.startCableOhm, !isOpen('start-cable'));
  resistor('starter-case', 'chassis', m.engineGroundOhm, !isOpen('engine-ground'));
  resistor('chassis', 'battery-clamp', m.frameGroundOhm, !isOpen('frame-ground'));
  resistor('battery-clamp', 'battery-', m.minusPostOhm, !isOpen('minus-post'));
  resistor(m.feedFromClamp ? 'battery+clamp' : 'relay-battery-stud', 'coil-feed', m.switchOhm, situation === 'on' && !isOpen('feed'));
  resistor('coil-feed', 'coil-return', m.coilOhm, !isOpen('coil'));
  resistor('coil-return', 'chassis', m.returnOhm, !isOpen('return'));
  return { name, elements };
}

function solveMachine(hypothesis: Hypothesis, nominalV: number, severity: number, fromClamp: boolean, situation: Situation): SolvedMachine {
  const z = new Float64Array(DRAWS);
  z[SEVERITY] = severity;
  z[FEED] = fromClamp ? -1 : 1;
  const machine = { ...new MachineMaker({ nominalV, batteryCcaA: 230 }).make(z, hypothesis) };
  const circuit = new CrankingCircuit();
  circuit.lay(machine, hypothesis);
  const state = circuit.settle(situation, createState());
  const turns = state.motion === 'slow' || state.motion === 'normal' || state.motion === 'spinning';
  const acrossV = state.volts[indexOfNode('starter-stud')]! - state.volts[indexOfNode('starter-case')]!;
  const backEmfV = turns ? acrossV - machine.turningA * machine.starterOhm : 0;
  const contactOpens = hypothesis.open === true && hypothesis.place === 'contact' && situation !== 'bridged';
  const closed = situation === 'bridged' || hypothesis.fault === 'relay-stuck-closed' || (state.relay === 'in' && !contactOpens);
  const name = `${[hypothesis.fault, hypothesis.place, hypothesis.open && 'open', hypothesis.faint && 'faint', hypothesis.deep && 'deep'].filter(Boolean).join(' ')}, ${nominalV} V, ${severity}, fed from the ${fromClamp ? 'clamp' : 'stud'}, ${situation}`;
  const networks = state.relay === 'chatters'
    ? [false, true].map((shut) => writeNetwork(`${name}, contact ${shut ? 'closed' : 'open'}`, machine, hypothesis, situation, shut, 0))
    : [writeNetwork(name, machine, hypothesis, situation, closed, backEmfV)];
  return { name, hypothesis, machine, situation, state, turns, networks };
}

export const SOLVED_MACHINES: readonly SolvedMachine[] = listHypotheses().flatMap((hypothesis) => SITUATIONS.flatMap((situation) => [
  solveMachine(hypothesis, 12, 0, true, situation),
  solveMachine(hypothesis, 12, 0.7, false, situation),
  ...(situation === 'on' ? [solveMachine(hypothesis, 24, -0.5, false, situation)] : []),
]));

/** Pairs of points whose volts mean something: those that hang together. */
export function listPairs({ island }: CrankState): [CrankNode, CrankNode][] {
  return CRANK_NODES.flatMap((a, i) => CRANK_NODES.slice(i + 1).filter((b) => island[indexOfNode(a)] === island[indexOfNode(b)]).map((b): [CrankNode, CrankNode] => [a, b]));
}
