import type { BenchRecord } from '../../../catalog-schema/index.ts';
import { show } from './finding.ts';
import type { Evaluated } from './order-fits.ts';

/** From this voltage up machines have controllers whose capacitors stay charged (common practice, no source). */
const CAPACITORS_FROM_V = 36;

/** The cautions that apply to this machine and the parts listed for it. */
export function listCautions(record: BenchRecord, listed: readonly Evaluated[]): string[] {
  const { system, marked, starter } = record;
  const cautions: string[] = [];
  // A part on the counter with no wire on it is not at a battery.
  if ((record.wires ?? []).length > 0) {
    cautions.push(
      'Batteries give off explosive gas, and a short across the heavy studs can melt a tool: eye protection, no jewellery.',
      'Battery negative off first, on last; clean the posts: a dirty post is itself a no-start (common practice, no source).',
    );
  }
  if (system.nominalV >= CAPACITORS_FROM_V) {
    cautions.push(`On a ${show(system.nominalV)} V machine capacitors may stay charged: follow the maker.`);
  }
  if (system.interlocks !== 'none') {
    const names = (system.interlockList ?? []).map(({ name }) => name);
    cautions.push(`Do not release the machine until each interlock${names.length > 0 ? ` (${names.join(', ')})` : ''} has been shown to do what its maker says: stop cranking, or stop the engine.`);
  }
  if (listed.some(({ facts }) => facts.studs.length > 0)) {
    cautions.push("Lug face directly on the stud's seat, washer outside the lug; hold the inner nut while the outer one is tightened, or the stud turns and breaks the contact inside (common practice, no source).");
  }
  if (listed.some(({ facts, fit }) => facts.hasDiode && fit.verdict !== 'no')) {
    cautions.push('A coil with a diode has a plus and a minus: turned round, the diode shorts the start circuit.');
  }
  if (marked?.coilV !== undefined && Math.abs(marked.coilV - system.nominalV) > 1e-9) {
    cautions.push(`The removed part is marked ${show(marked.coilV)} V and the machine is ${show(system.nominalV)} V: one of the two is wrong, or it was the wrong part. The machine's voltage was used.`);
  }
  if (starter?.nominalV !== undefined && Math.abs(starter.nominalV - system.nominalV) > 1e-9) {
    cautions.push(`The removed starter says ${show(starter.nominalV)} V and the machine is ${show(system.nominalV)} V: the machine's voltage was used.`);
  }
  cautions.push("A maker's own figure (torque, rating, procedure) overrides this answer; local codes and licensed practice come first.");
  return cautions;
}
