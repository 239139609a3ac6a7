import type { BenchRecord } from '../../../catalog-schema/index.ts';
import { show, type Finding } from './finding.ts';
import type { PartFacts } from '../part-facts.ts';

/** As the check has it, without its words. */
export function isForVoltage({ system: { nominalV } }: BenchRecord, { working }: PartFacts): boolean {
  return working.length > 0 && working.every((coil) => Math.abs(coil.nominalV - nominalV) <= SAME_V);
}

const SAME_V = 1e-9;

/** The coil's nominal voltage is the machine's: 6, 12, 24, 36 and 48 V units share one housing. */
export function checkCoilVoltage(record: BenchRecord, facts: PartFacts): Finding {
  const volts = record.system.nominalV;
  const needed = `${show(volts)} V`;
  if (facts.working.length === 0) {
    return { criterion: 'coil-voltage', outcome: 'fail', needed, offered: 'no coil', why: 'there is no coil that could close the contact' };
  }
  const offered = [...new Set(facts.working.map((coil) => coil.nominalV))];
  const wrong = offered.filter((nominalV) => Math.abs(nominalV - volts) > SAME_V);
  const words = offered.map((nominalV) => `${show(nominalV)} V`).join(', ');
  if (wrong.length === 0) return { criterion: 'coil-voltage', outcome: 'pass', needed, offered: words, why: "the coil is for the machine's voltage" };
  const low = wrong.some((nominalV) => nominalV < volts);
  return {
    criterion: 'coil-voltage', outcome: 'fail', needed, offered: words,
    why: low
      ? `a ${words} coil on a ${needed} machine draws ${show(volts / Math.min(...wrong), 1)} times its current and burns`
      : `a ${words} coil on a ${needed} machine is not sure to pull in`,
  };
}
