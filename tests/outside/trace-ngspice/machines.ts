import type { LeadsTo, TraceMeasurement } from '../../../catalog-schema/index.ts';
import type { NetworkElement } from '../../../api/engine/circuit/index.ts';
import type { NamedNetwork } from '../circuit-ngspice/networks.ts';

// Machines with all their wires, and a meter at the free end of one of them: what each reading of a trace shows, wire by wire.
// Component values are invented, plausible for a small machine. Nothing here knows what the product expects.

export type Place = Exclude<LeadsTo, 'unknown'>;

interface Machine {
  readonly name: string;
  readonly batteryV: number;
  /** where the coil's other end goes */
  readonly coilTo: 'interlocked-return' | 'chassis';
  readonly pointsClosed: boolean;
  /** START cuts the feed of the ignition at run */
  readonly startCutsRun: boolean;
  /** from the tap to the chassis with the key out: a regulator's leak; undefined = nothing */
  readonly tapLeakOhm: number | undefined;
  /** switches and joints of the interlocks in the return together */
  readonly interlockOhm: number;
  readonly starterOhm: number;
}

const MACHINES: readonly Machine[] = [
  { name: 'return through interlocks, points closed', batteryV: 12.6, coilTo: 'interlocked-return', pointsClosed: true, startCutsRun: true, tapLeakOhm: undefined, interlockOhm: 0.4, starterOhm: 0.045 },
  { name: 'return through interlocks, points open', batteryV: 12.2, coilTo: 'interlocked-return', pointsClosed: false, startCutsRun: false, tapLeakOhm: 47_000, interlockOhm: 0.9, starterOhm: 0.02 },
  { name: 'coil on the chassis, points closed', batteryV: 11.4, coilTo: 'chassis', pointsClosed: true, startCutsRun: false, tapLeakOhm: 2_200, interlockOhm: 0.2, starterOhm: 0.03 },
  { name: 'coil on the chassis, points open', batteryV: 12.8, coilTo: 'chassis', pointsClosed: false, startCutsRun: true, tapLeakOhm: undefined, interlockOhm: 0.2, starterOhm: 0.09 },
];

const MEASUREMENTS: readonly TraceMeasurement[] = ['voltsOff', 'voltsRun', 'voltsStart', 'ohmChassisMade', 'ohmChassisOpen', 'ohmStarterCable', 'ohmBatteryPlus'];
const COMMON: readonly Place[] = ['battery', 'starter', 'start-switch', 'cranking-feed', 'tap'];

export const METER = { voltmeterOhm: 1e7, emfV: 1, seriesOhm: 1_000 } as const;

export interface TraceNetwork extends NamedNetwork { readonly machine: string; readonly place: Place; readonly measure: TraceMeasurement }

/** Every reading of every wire of every machine, as networks; the meter is the last element. */
export const TRACE_NETWORKS: readonly TraceNetwork[] = MACHINES.flatMap((machine) => [...COMMON, machine.coilTo].flatMap((place) =>
  MEASUREMENTS.map((measure) => ({ name: `${machine.name}: ${place} ${measure}`, machine: machine.name, place, measure, elements: wireUp(machine, place, measure) }))));

/** The reading from the current through the meter: V, or Ohm; 'open' above what a meter shows. */
export function readMeter(measure: TraceMeasurement, amps: number): number | 'open' {
  if (measure.startsWith('volts')) return amps * METER.voltmeterOhm;
  const ohm = METER.emfV / amps - METER.seriesOhm;
  return amps < METER.emfV / 4e7 ? 'open' : Math.max(0, ohm);
}

function wireUp(machine: Machine, off: Place, measure: TraceMeasurement): NetworkElement[] {
  const isOhms = measure.startsWith('ohm');
  const key = measure === 'voltsRun' ? 'run' : measure === 'voltsStart' ? 'start' : 'off';
  const interlocksMade = measure !== 'ohmChassisOpen';
  // a key reading is taken with the cable off the starter; so is the one to the cable itself
  const cableOff = key !== 'off' || measure === 'ohmStarterCable';
  const resistor = (a: string, b: string, ohm: number): NetworkElement => ({ kind: 'resistor', between: [a, b], ohm });
  const contact = (a: string, b: string, closed: boolean): NetworkElement => ({ kind: 'contact', between: [a, b], closed });
  /** a wire of the machine, from its terminal on the part to its other end; the one being traced ends in the air */
  const hang = (place: Place, terminal: string, far: string, ohm: number): NetworkElement[] => [resistor(place === off ? 'end' : terminal, far, ohm)];
  const pulledIn = key === 'start' && !(['battery', 'start-switch', 'tap', machine.coilTo] as Place[]).includes(off);
  return [
    ...(isOhms ? [] : [{ kind: 'source', minus: '0', plus: 'clamp', emfV: machine.batteryV, ohm: 0.01 } as const]),
    // the part: main contact b to m, a second one to i, the coil from s to r
    contact('b', 'm', pulledIn), contact('b', 'i', pulledIn), resistor('s', 'r', 4.1),
    ...hang('battery', 'b', 'clamp', 0.001),
    ...hang('starter', 'm', 'lug', 0.001), contact('lug', 'stud', !cableOff), { kind: 'motor', between: ['stud', '0'], ohm: machine.starterOhm },
    // the tap feeds the key through the main fuse
    ...hang('tap', 'b', 'fuse', 0.02), resistor('fuse', 'key', 0.01),
    ...(machine.tapLeakOhm === undefined ? [] : [resistor('fuse', '0', machine.tapLeakOhm)]),
    contact('key', 'run', key === 'run' || (key === 'start' && !machine.startCutsRun)), resistor('run', '0', 6),
    resistor('run', 'ignition', 1.6), resistor('ignition', 'points', 1.5), contact('points', '0', machine.pointsClosed),
    ...hang('cranking-feed', 'i', 'ignition', 0.03),
    contact('key', 'feed', key === 'start'), ...hang('start-switch', 's', 'feed', 0.2),
    ...(machine.coilTo === 'chassis' ? hang('chassis', 'r', '0', 0.05)
      : [...hang('interlocked-return', 'r', 'seat', 0.05), resistor('seat', 'brake', machine.interlockOhm), contact('brake', '0', interlocksMade)]),
    isOhms ? { kind: 'source', minus: measure === 'ohmStarterCable' ? 'lug' : measure === 'ohmBatteryPlus' ? 'clamp' : '0', plus: 'end', emfV: METER.emfV, ohm: METER.seriesOhm }
      : resistor('end', '0', METER.voltmeterOhm),
  ];
}
