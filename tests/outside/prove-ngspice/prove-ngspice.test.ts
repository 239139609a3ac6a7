import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { FAULTS, type CrankNode } from '../../../catalog-schema/index.ts';
import { indexOfNode } from '../../../api/engine/prove/cranking-circuit.ts';
import { findNgspice, runNgspice, type Recorded } from '../circuit-ngspice/run-ngspice.ts';
import { listPairs, nodeName, SOLVED_MACHINES, type SolvedMachine } from './machines.ts';

// Source of the figures: ngspice, a general-purpose circuit simulator, version named in recorded.json.
const recorded = JSON.parse(readFileSync(new URL('./recorded.json', import.meta.url), 'utf8')) as Recorded;
const RELATIVE = 0.001;
/** What SPICE's hold resistors let through where nothing flows: 12 V through a gigohm, over a coil. */
const ABSOLUTE_V = 1e-5;
const ABSOLUTE_A = 1e-6;

const isNear = (found: number, want: number, absolute: number): boolean => Math.abs(found - want) <= RELATIVE * Math.abs(want) + absolute;
const voltsOf = (name: string, node: CrankNode): number => (node === 'battery-' ? 0 : recorded.networks[name]!.volts[nodeName(node)] ?? 0);

/** What differs by more than 0.1 %, in words. */
function listDifferences({ state, networks, turns, machine }: SolvedMachine): string[] {
  const found: string[] = [];
  const [open, shut] = networks.length === 2 ? networks : [networks[0]!, networks[0]!];
  for (const [a, b] of listPairs(state)) {
    const [low, high] = [open!, shut!].map(({ name }) => voltsOf(name, a) - voltsOf(name, b)) as [number, number];
    const volts = state.volts[indexOfNode(a)]! - state.volts[indexOfNode(b)]!;
    const span = state.span[indexOfNode(a)]! - state.span[indexOfNode(b)]!;
    if (!isNear(volts, (low + high) / 2, ABSOLUTE_V)) found.push(`${a} to ${b}: ${volts} V, ngspice ${(low + high) / 2} V`);
    if (networks.length === 2 && !isNear(span, high - low, ABSOLUTE_V)) found.push(`${a} to ${b}: span ${span} V, ngspice ${high - low} V`);
  }
  const [batteryA, starterA] = recorded.networks[shut!.name]!.amps as [number, number];
  const shutA = state.batteryA + state.batterySpanA / 2;
  if (!isNear(shutA, Math.abs(batteryA), ABSOLUTE_A)) found.push(`battery: ${shutA} A, ngspice ${batteryA} A`);
  // At the engine's back-EMF SPICE's starter must take just the current that its torque asks for.
  if (turns && !isNear(machine.turningA, starterA, ABSOLUTE_A)) found.push(`starter: ${machine.turningA} A, ngspice ${starterA} A`);
  return found;
}

describe('the cranking circuit of each fault against ngspice', () => {
  it('is compared in every way of every fault', () => {
    expect(recorded.program).toMatch(/^ngspice-\d+/);
    expect(new Set(SOLVED_MACHINES.map(({ hypothesis }) => hypothesis.fault))).toEqual(new Set(FAULTS));
    expect(Object.keys(recorded.networks).toSorted()).toEqual(SOLVED_MACHINES.flatMap(({ networks }) => networks.map(({ name }) => name)).toSorted());
    expect(new Set(SOLVED_MACHINES.map(({ state }) => `${state.relay} ${state.motion}`)).size).toBeGreaterThanOrEqual(6);
  });

  it.each(FAULTS)('agrees to 0.1 %% in volts and amps: %s', (fault) => {
    const own = SOLVED_MACHINES.filter(({ hypothesis }) => hypothesis.fault === fault);
    expect(own.length).toBeGreaterThanOrEqual(7);
    for (const one of own) expect(listDifferences(one), one.name).toEqual([]);
  });

  const program = findNgspice();
  it.skipIf(program === undefined)('recorded values are what ngspice says today (skipped where it is not installed)', () => {
    const some = SOLVED_MACHINES.filter((_, index) => index % 10 === 0).flatMap(({ networks }) => networks);
    const live = runNgspice(some, program!);
    for (const { name } of some) {
      for (const [node, value] of Object.entries(recorded.networks[name]!.volts)) expect(isNear(live.networks[name]!.volts[node]!, value, ABSOLUTE_V), `${name}: ${node}`).toBe(true);
    }
  });
});
