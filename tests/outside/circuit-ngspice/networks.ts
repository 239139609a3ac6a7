import type { NetworkElement } from '../../../api/engine/circuit/index.ts';

// Networks that the engine and ngspice both solve. Written once, as the engine's elements; `write-netlist.ts` turns them into SPICE.
// Component values are invented, plausible for a small machine. The three cranking circuits are hand-calculated ones with back-EMF.

export interface NamedNetwork {
  readonly name: string;
  readonly elements: readonly NetworkElement[];
  /** part of it with a source hangs in the air: only differences of voltage mean anything there */
  readonly floats?: boolean;
}

const source = (plus: string, emfV: number, ohm: number, minus = '0'): NetworkElement => ({ kind: 'source', minus, plus, emfV, ohm });
const resistor = (a: string, b: string, ohm: number): NetworkElement => ({ kind: 'resistor', between: [a, b], ohm });
const wire = (a: string, b: string): NetworkElement => ({ kind: 'wire', between: [a, b] });
const closed = (a: string, b: string): NetworkElement => ({ kind: 'contact', between: [a, b], closed: true });
const open = (a: string, b: string): NetworkElement => ({ kind: 'contact', between: [a, b], closed: false });
const diode = (from: string, to: string): NetworkElement => ({ kind: 'diode', from, to });
const motor = (a: string, b: string, ohm: number, backEmfV = 0): NetworkElement => ({ kind: 'motor', between: [a, b], ohm, backEmfV });
const battery = source('b', 12, 0.01);
const starter = resistor('s', '0', 0.05);
const coil = resistor;

export const NETWORKS: readonly NamedNetwork[] = [
  // C1 to C3: cranking circuits worked by hand and with ngspice-39; back-EMF of C2 at its hand value 0.030 * 248.32 V
  { name: 'C1 locked rotor', elements: [
    source('b', 12.6, 0.01), resistor('b', 'p', 0.001452), closed('p', 'm'), motor('m', 'f', 0.045), resistor('f', '0', 0.000968)] },
  { name: 'C2 cranking with back-EMF', elements: [
    source('b', 12.6, 0.01), resistor('b', 'p', 0.001452), closed('p', 'm'), motor('m', 'f', 0.03, 7.4496), resistor('f', '0', 0.000968)] },
  { name: 'C3 bad ground joint, coil on the post', elements: [
    source('p', 12.4, 0.015), resistor('p', 'sb', 0.001452), closed('sb', 'sm'), motor('sm', 'f', 0.03, 5), resistor('f', '0', 0.025968),
    resistor('p', 'c', 0.3), coil('c', '0', 4.9432)] },
  { name: 'relay at rest, start switch off', elements: [battery, open('b', 's'), starter, coil('c', 'r', 4), wire('r', '0')] },
  { name: 'relay at rest, coil energised', elements: [battery, open('b', 's'), starter, resistor('b', 'c', 0.2), coil('c', 'r', 4), wire('r', '0')] },
  { name: 'relay in, starter fed', elements: [battery, closed('b', 's'), starter, resistor('b', 'c', 0.2), coil('c', 'r', 4), wire('r', '0')] },
  { name: 'interlock open, coil hanging on the feed', elements: [battery, open('b', 's'), starter, resistor('b', 'c', 0.2), coil('c', 'r', 4), open('r', '0')] },
  { name: 'return wire on the cranking feed: a short through the contact', elements: [
    battery, closed('b', 's'), starter, closed('b', 'i'), wire('i', '0'), resistor('b', 'c', 0.2), coil('c', '0', 4)] },
  { name: 'shift solenoid before the contact closes', elements: [
    battery, open('b', 's'), starter, resistor('b', 'c', 0.05), coil('c', 's', 0.3), coil('c', '0', 1.2)] },
  { name: 'shift solenoid, contact closed', elements: [
    battery, closed('b', 's'), starter, resistor('b', 'c', 0.05), coil('c', 's', 0.3), coil('c', '0', 1.2)] },
  { name: 'shift solenoid on release: windings in series', elements: [battery, closed('b', 's'), starter, coil('c', 's', 0.3), coil('c', '0', 1.2)] },
  { name: 'coil with its diode blocking', elements: [battery, resistor('b', 'c', 0.1), coil('c', '0', 4), diode('0', 'c')] },
  { name: 'coil with its diode turned round', elements: [battery, resistor('b', 'c', 0.1), coil('c', '0', 4), diode('c', '0')] },
  { name: 'coil behind a series diode', elements: [battery, diode('b', 'j'), coil('j', '0', 5)] },
  { name: 'coil behind a series diode that blocks', elements: [battery, diode('j', 'b'), coil('j', '0', 5)] },
  { name: 'diode just below its forward drop', elements: [source('b', 0.69, 1), diode('b', '0'), resistor('b', '0', 100)] },
  { name: 'diode just above its forward drop', elements: [source('b', 0.75, 1), diode('b', '0'), resistor('b', '0', 100)] },
  { name: 'two diodes in series', elements: [battery, diode('b', 'j'), diode('j', 'k'), resistor('k', '0', 3)] },
  { name: 'two diodes side by side', elements: [battery, resistor('b', 'c', 1), diode('c', '0'), diode('c', '0')] },
  { name: 'diode or: the higher source wins', elements: [source('b', 12, 0.01), source('g', 14, 0.05), diode('b', 'o'), diode('g', 'o'), resistor('o', '0', 2)] },
  { name: 'bridge of four diodes', elements: [
    source('a', 12, 0.1), diode('a', 'p'), diode('0', 'p'), diode('m', 'a'), diode('m', '0'), resistor('p', 'm', 10)] },
  { name: 'bridge of four diodes, source turned', elements: [
    source('a', -12, 0.1), diode('a', 'p'), diode('0', 'p'), diode('m', 'a'), diode('m', '0'), resistor('p', 'm', 10)] },
  { name: 'diode into a part that hangs in the air', elements: [battery, diode('b', 'x'), resistor('x', 'y', 4), resistor('b', '0', 50)] },
  { name: 'diode out of a part that hangs in the air', elements: [battery, diode('x', 'b'), resistor('x', 'y', 4), resistor('b', '0', 50)] },
  { name: 'floating coil and resistor in a ring', elements: [battery, resistor('b', '0', 6), coil('x', 'y', 4), resistor('y', 'x', 30)] },
  { name: 'floating battery with its own load', floats: true, elements: [battery, resistor('b', '0', 6), source('p', 6, 0.1, 'm'), resistor('p', 'm', 2)] },
  { name: 'unbalanced Wheatstone bridge', elements: [
    source('t', 10, 0.5), resistor('t', 'l', 100), resistor('t', 'r', 200), resistor('l', '0', 300), resistor('r', '0', 400), resistor('l', 'r', 50)] },
  { name: 'balanced Wheatstone bridge', elements: [
    source('t', 10, 0.5), resistor('t', 'l', 100), resistor('t', 'r', 200), resistor('l', '0', 200), resistor('r', '0', 400), resistor('l', 'r', 50)] },
  { name: 'ladder of six', elements: [
    source('n0', 24, 0.02), ...[0, 1, 2, 3, 4, 5].flatMap((n) => [resistor(`n${n}`, `n${n + 1}`, 1 + n), resistor(`n${n + 1}`, '0', 10 + n)])] },
  { name: 'two batteries jumped together', elements: [
    source('b', 11.2, 0.025), source('h', 12.7, 0.008), resistor('h', 'b', 0.004), closed('b', 's'), motor('s', '0', 0.03, 4)] },
  { name: 'motor driven faster than its supply: it charges', elements: [battery, closed('b', 's'), motor('s', '0', 0.05, 13.5)] },
  { name: 'engine running: cranking feed driven back through a case-return coil', elements: [
    battery, open('b', 's'), starter, source('i', 12, 0.01), open('b', 'i'), coil('i', 'case', 4), wire('case', '0')] },
  { name: 'isolated coil reached from both ends', elements: [battery, resistor('b', 'c', 0.1), coil('c', 'r', 4), resistor('r', 'b', 0.3), resistor('r', '0', 20)] },
  { name: 'zero-ohm wires in a tree', elements: [battery, wire('b', 'c'), wire('c', 'd'), resistor('c', '0', 4), resistor('d', '0', 8), resistor('b', '0', 24)] },
  { name: '48 V contactor, economiser resistor in series', elements: [
    source('b', 48, 0.01), closed('b', 'l'), resistor('l', '0', 0.4), resistor('b', 'c', 2), coil('c', 'e', 60), resistor('e', '0', 90), diode('0', 'c')] },
  { name: 'resistor across the coil', elements: [battery, resistor('b', 'c', 0.3), coil('c', 'r', 80), resistor('c', 'r', 680), wire('r', '0')] },
];
