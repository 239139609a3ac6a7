import { emfOf, endsOf, ohmOf, type Network, type NetworkSolution } from './solve-network.ts';

/** How far a solution is from obeying the laws it must obey. All are 0 for an exact one; rounding leaves about 1e-9. */
export interface Balance {
  /** largest sum of currents into one node, A */
  readonly nodeA: number;
  /** power of all sources less power turned to heat or motion, W */
  readonly powerW: number;
  /** largest breach of an element's own law, V: Ohm's law, a wire with a voltage across it, a diode in the wrong state */
  readonly elementV: number;
}

/** Judge a solution without knowing how it was found: Kirchhoff's laws, each element's law, and the balance of power. */
export function checkBalance(network: Network, solution: NetworkSolution): Balance {
  const sums = new Map<string, number>();
  let powerW = 0;
  let elementV = 0;
  network.elements.forEach((element, index) => {
    const [from, to] = endsOf(element);
    const amps = solution.amps[index]!;
    const acrossV = solution.volts.get(from)! - solution.volts.get(to)!;
    sums.set(from, (sums.get(from) ?? 0) - amps);
    sums.set(to, (sums.get(to) ?? 0) + amps);
    const blocks = (element.kind === 'contact' && !element.closed) || (element.kind === 'diode' && !solution.conducts[index]);
    if (blocks) {
      // Nothing may flow; a diode may stand off anything below its forward drop.
      const overV = element.kind === 'diode' ? Math.max(0, acrossV + emfOf(element)) : 0;
      elementV = Math.max(elementV, Math.abs(amps), overV);
      return;
    }
    powerW += emfOf(element) * amps - amps * amps * ohmOf(element);
    elementV = Math.max(elementV, Math.abs(acrossV + emfOf(element) - amps * ohmOf(element)));
    if (element.kind === 'diode') elementV = Math.max(elementV, -amps * ohmOf(element));
  });
  let nodeA = 0;
  for (const [node, sum] of sums) if (node !== network.ground) nodeA = Math.max(nodeA, Math.abs(sum));
  // The ground node takes part too: what leaves it must come back.
  nodeA = Math.max(nodeA, Math.abs(sums.get(network.ground) ?? 0));
  return { nodeA, powerW: Math.abs(powerW), elementV };
}
