import type { BenchRecord } from '../../../catalog-schema/index.ts';
import { cautionOfBattery, cautionOfCapacitors, cautionOfInterlocks, cautionOfMaker } from '../cautions.ts';
import { show } from './finding.ts';
import type { Evaluated } from './evaluated.ts';

/** The cautions that apply to this machine and the parts listed for it. */
export function listCautions(record: BenchRecord, listed: readonly Evaluated[]): string[] {
  const { system, marked, starter } = record;
  const cautions: string[] = [];
  // A part on the counter with no wire on it is not at a battery.
  if ((record.wires ?? []).length > 0) cautions.push(cautionOfBattery());
  for (const line of [cautionOfCapacitors(system.nominalV), cautionOfInterlocks(system)]) if (line !== undefined) cautions.push(line);
  const mayGoOn = listed.filter(({ fit }) => fit.verdict !== 'no');
  if (mayGoOn.some(({ fit }) => !fit.checks.some(({ criterion }) => criterion === 'contact-inrush')) && (record.wires ?? []).some(({ leadsTo }) => leadsTo === 'starter')) {
    cautions.push('The record says nothing of the current the contact closes on, so contact ratings are not compared: measure the inrush with a clamp meter, or see that the rating is at least that of the removed part.');
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
  cautions.push(cautionOfMaker());
  return cautions;
}
