// A small network of joints, solved by nodal analysis with diodes that are off, or a fixed voltage behind a small resistance.

interface Link { readonly a: string; readonly b: string; readonly ohm: number }
/** Conducts from -> to. */
interface OneWay { readonly from: string; readonly to: string; readonly volts: number; readonly ohm: number }
export interface Network { readonly links: readonly Link[]; readonly oneWays: readonly OneWay[] }

/** A leak from every joint to the minus probe, so that what floats has a voltage; far below what is called open, far above the last bits of a closed contact. */
const LEAK_S = 1e-9;
const OPEN_OHM = 1e8;

/** Resistance a meter shows between two joints. Its test current is too small to turn a diode on across a coil. Infinity when open. */
export function readByMeter(network: Network, plus: string, minus: string): number {
  const volts = solve({ links: network.links, oneWays: [] }, plus, minus, 1e-3, []);
  const ohm = volts.get(plus)! / 1e-3;
  return ohm > OPEN_OHM ? Infinity : ohm;
}

/** Volts over amps of a supply of `supplyV` that limits its current to `limitA`. Infinity when no current flows. */
export function readBySupply(network: Network, plus: string, minus: string, supplyV: number, limitA: number): number {
  // Raise the current until the supply's voltage is reached: at the limit if the network takes it, else where V(I) = supplyV.
  const voltsAt = (amps: number): number => settle(network, plus, minus, amps).get(plus)!;
  if (voltsAt(limitA) <= supplyV) return voltsAt(limitA) / limitA;
  if (voltsAt(supplyV / OPEN_OHM) > supplyV) return Infinity;
  let [low, high] = [0, limitA];
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (voltsAt(middle) <= supplyV) low = middle;
    else high = middle;
  }
  const amps = (low + high) / 2;
  return supplyV / amps;
}

/** Turns one diode after another until each is as its voltage and current want it. */
function settle(network: Network, plus: string, minus: string, amps: number): Map<string, number> {
  const on = network.oneWays.map(() => false);
  for (let round = 0; round < 20; round++) {
    const volts = solve(network, plus, minus, amps, on);
    const wrong = network.oneWays.findIndex(({ from, to, volts: forward }, i) => {
      const across = (volts.get(from) ?? 0) - (volts.get(to) ?? 0);
      return on[i] ? across < forward - 1e-12 : across > forward + 1e-12;
    });
    if (wrong < 0) return volts;
    on[wrong] = !on[wrong];
  }
  throw new Error('the diodes do not settle');
}

/** Node voltages against `minus` with `amps` driven into `plus`, by Gaussian elimination. */
function solve(network: Network, plus: string, minus: string, amps: number, on: readonly boolean[]): Map<string, number> {
  const names = [...new Set([plus, ...network.links.flatMap(({ a, b }) => [a, b]), ...network.oneWays.flatMap(({ from, to }) => [from, to])])].filter((name) => name !== minus);
  const rowOf = new Map(names.map((name, row) => [name, row]));
  const size = names.length;
  const m = names.map((name, row) => names.map((_, column): number => (row === column ? LEAK_S : 0)).concat(name === plus ? amps : 0));
  const join = (a: string, b: string, siemens: number): void => {
    const [i, j] = [rowOf.get(a), rowOf.get(b)];
    if (i !== undefined) m[i]![i]! += siemens;
    if (j !== undefined) m[j]![j]! += siemens;
    if (i !== undefined && j !== undefined) {
      m[i]![j]! -= siemens;
      m[j]![i]! -= siemens;
    }
  };
  const inject = (name: string, current: number): void => {
    const row = rowOf.get(name);
    if (row !== undefined) m[row]![size]! += current;
  };
  for (const { a, b, ohm } of network.links) join(a, b, 1 / ohm);
  network.oneWays.forEach(({ from, to, volts, ohm }, i) => {
    if (!on[i]) return;
    join(from, to, 1 / ohm);
    inject(from, volts / ohm);
    inject(to, -volts / ohm);
  });
  for (let k = 0; k < size; k++) {
    let pivot = k;
    for (let i = k + 1; i < size; i++) if (Math.abs(m[i]![k]!) > Math.abs(m[pivot]![k]!)) pivot = i;
    [m[k], m[pivot]] = [m[pivot]!, m[k]!];
    for (let i = k + 1; i < size; i++) {
      const factor = m[i]![k]! / m[k]![k]!;
      if (factor === 0) continue;
      for (let j = k; j <= size; j++) m[i]![j]! -= factor * m[k]![j]!;
    }
  }
  const volts = names.map(() => 0);
  for (let i = size - 1; i >= 0; i--) {
    let sum = m[i]![size]!;
    for (let j = i + 1; j < size; j++) sum -= m[i]![j]! * volts[j]!;
    volts[i] = sum / m[i]![i]!;
  }
  return new Map<string, number>([[minus, 0], ...names.map((name, row) => [name, volts[row]!] as const)]);
}
