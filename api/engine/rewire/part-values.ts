import type { CoilElement, Part } from '../../../catalog-schema/index.ts';
import { CIRCUIT_CONSTANTS } from '../circuit/index.ts';
import { settingOf } from '../settings.ts';
import { bareAtLeast, thresholdsOf } from './circuit-shape.ts';
import { BATTERY_BRANCH, FEED_BRANCH, FIRST_COIL_BRANCH, START_BRANCH, STARTER_BRANCH } from './live-networks.ts';
import type { MachineSide } from './machine-side.ts';
import { ohmByWatts, type PartSide } from './part-side.ts';
import { coilAt, type PartForm } from './topology.ts';

/** Ohms at 20 C of a coil that does not say, with the words that go into `assumptions`. */
export type FindCoilOhm = (part: Part, coil: CoilElement) => { readonly ohm: number; readonly source: string } | undefined;

/** The numbers of one part on one machine, in the order of its topology. One object is filled again for each part. */
export class PartValues {
  /** Ohm of each branch of `LiveNetworks`; diodes have none */
  readonly ohms: Float64Array;
  /** V at the machine's voltage, for each coil */
  readonly pullInV: Float64Array;
  readonly dropOutV: Float64Array;
  readonly #part: PartSide;

  constructor(part: PartSide, branchCount: number) {
    this.#part = part;
    this.ohms = new Float64Array(branchCount);
    this.pullInV = new Float64Array(part.coils.length);
    this.dropOutV = new Float64Array(part.coils.length);
  }

  /** Another resistance of the start circuit, the part as it was. */
  setControlOhm(ohm: number): void {
    this.ohms[START_BRANCH] = ohm;
  }

  fill(machine: MachineSide, form: PartForm, part: Part, findCoilOhm: FindCoilOhm | undefined): void {
    const { ohms } = this;
    const { batteryOhm, starterOhm, contactOhm } = CIRCUIT_CONSTANTS;
    const { ownMotor, contacts } = this.#part;
    ohms[BATTERY_BRANCH] = batteryOhm.value;
    ohms[STARTER_BRANCH] = ownMotor ? motorOhmAt(part, form.motors[ownMotor.motor]!) : starterOhm.value;
    ohms[START_BRANCH] = machine.controlOhm;
    ohms[FEED_BRANCH] = batteryOhm.value;
    let at = FIRST_COIL_BRANCH;
    for (let c = 0; c < form.coils.length; c++) {
      const coil = coilAt(part, form.coils[c]!);
      const scale = machine.nominalV / coil.nominalV;
      const { pullInV, dropOutV } = thresholdsOf(coil);
      ohms[at++] = coil.ohmAt20C ?? findCoilOhm?.(part, coil)?.ohm ?? ohmByWatts(coil);
      this.pullInV[c] = pullInV * scale;
      this.dropOutV[c] = dropOutV * scale;
    }
    for (let c = 0; c < contacts.length; c++) ohms[at++] = contactOhm.value;
    for (const place of form.resistors) {
      const resistor = part.circuit[place]!;
      ohms[at++] = resistor.kind === 'resistor' ? bareAtLeast(resistor.ohm) : NaN;
    }
    for (let m = 0; m < form.motors.length; m++) if (m !== ownMotor?.motor) ohms[at++] = motorOhmAt(part, form.motors[m]!);
  }
}

function motorOhmAt(part: Part, place: number): number {
  const motor = part.circuit[place]!;
  return motor.kind === 'motor' ? bareAtLeast(motor.ohm ?? settingOf('motorOhm')) : NaN;
}
