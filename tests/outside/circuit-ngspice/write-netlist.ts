import type { NetworkElement } from '../../../api/engine/circuit/index.ts';
import type { NamedNetwork } from './networks.ts';

/** A piece that floats is held to ground by this in SPICE, which cannot solve it otherwise; far above every other resistance. */
const HOLD_OHM = 1e9;
/** What a diode that blocks leaks in SPICE, siemens: its conductance is a table and may not be 0. */
const LEAK_SIEMENS = 1e-17;

/** What is compared: the voltage of each node and the current of each element, in this order. */
function listNodes(network: NamedNetwork): string[] {
  const nodes = new Set(network.elements.flatMap((element) => endsOf(element)));
  nodes.delete('0');
  return [...nodes];
}

/**
 * Many networks in one netlist, for one run and one operating point: node `n` of network 3 is `x3_n`. A 0 V source in series with
 * each element shows its current. A diode is the piecewise linear one, as a behavioural current source: nothing but a leak below 0.7 V,
 * 10 mOhm above.
 */
export function writeNetlist(networks: readonly NamedNetwork[]): string {
  const lines = ['* networks of the circuit comparison'];
  const prints: string[] = [];
  networks.forEach((network, n) => {
    const at = (node: string): string => (node === '0' ? '0' : `x${n}_${node}`);
    network.elements.forEach((element, e) => {
      const id = `${n}_${e}`;
      const [from, to] = endsOf(element);
      const inner = `y${id}`;
      // The ammeter stands at the element's first node: its current counts from there into the element.
      lines.push(`vm${id} ${at(from)} ${inner} dc 0`);
      lines.push(...writeElement(element, id, inner, at(to)));
      prints.push(`i(vm${id})`);
    });
    for (const node of listNodes(network)) {
      lines.push(`rh${n}_${node} ${at(node)} 0 ${HOLD_OHM}`);
      prints.push(`v(${at(node)})`);
    }
  });
  const shown = prints.map((print) => `print ${print}`);
  return [...lines, '.options gmin=1e-15 reltol=1e-9 abstol=1e-12 vntol=1e-9 itl1=2000 numdgt=12', '.control', 'set numdgt=10', 'op', ...shown, '.endc', '.end', ''].join('\n');
}

/** The numbers a run printed: by network, volts by node and amps by element. */
export function readResults(networks: readonly NamedNetwork[], output: string): { volts: Record<string, number>; amps: number[] }[] {
  const values = new Map([...output.matchAll(/^([vi]\([^)]*\))\s*=\s*(\S+)/gm)].map((match) => [match[1]!, Number(match[2])]));
  const take = (name: string): number => {
    const value = values.get(name);
    if (value === undefined || !Number.isFinite(value)) throw new Error(`ngspice printed no ${name}:\n${output.slice(0, 2000)}`);
    return value;
  };
  return networks.map((network, n) => ({
    volts: Object.fromEntries(listNodes(network).map((node) => [node, take(`v(x${n}_${node})`)])),
    amps: network.elements.map((_, e) => take(`i(vm${n}_${e})`)),
  }));
}

function writeElement(element: NetworkElement, id: string, from: string, to: string): string[] {
  switch (element.kind) {
    case 'resistor': return [`r${id} ${from} ${to} ${element.ohm}`];
    case 'wire': return [`v${id} ${from} ${to} dc 0`];
    case 'source': return [`v${id} k${id} ${from} dc ${element.emfV}`, `r${id} k${id} ${to} ${element.ohm}`];
    case 'motor': return [`r${id} ${from} k${id} ${element.ohm}`, `v${id} k${id} ${to} dc ${element.backEmfV ?? 0}`];
    case 'contact': return element.closed ? [`r${id} ${from} ${to} 0.0005`] : [`r${id} ${from} ${to} 1e15`];
    case 'diode': return [
      `b${id} ${from} ${to} i = (v(${from},${to}) > 0.7) ? (v(${from},${to}) - 0.7) / 0.01 : ${LEAK_SIEMENS} * v(${from},${to})`,
    ];
    default: return refuseKind(element);
  }
}

function endsOf(element: NetworkElement): readonly [string, string] {
  switch (element.kind) {
    case 'source': return [element.minus, element.plus];
    case 'diode': return [element.from, element.to];
    default: return element.between;
  }
}

function refuseKind(element: never): never {
  throw new TypeError(`unknown element ${JSON.stringify(element)}`);
}
