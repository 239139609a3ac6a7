import type { BenchRecord, Part } from '../../../catalog-schema/index.ts';
import { askMaker, chanceOf, judgeAtMost, show, showInterval, type Finding, type Interval, type Notes } from './finding.ts';
import { findOldCoil } from './old-coil.ts';
import { copperFactor, currentOf, type PartFacts } from '../part-facts.ts';
import { settingOf } from '../settings.ts';

/**
 * Control current of the cold coil at the highest supply, V/R, against fuse and weakest contact of the start circuit; where neither is
 * known, against 1.25 times what the old coil drew. Lower coil ohms load a switch, interlocks and a fuse chosen for the old coil.
 */
export function checkCoilCurrent(record: BenchRecord, part: Part, facts: PartFacts, notes: Notes): Finding | null {
  const { controlFuseA, controlRatingA } = record.demand ?? {};
  const known = [controlFuseA, controlRatingA].filter((amps): amps is number => amps !== undefined);
  const old = known.length > 0 ? undefined : findOldCoil(record, notes);
  if (known.length === 0 && !old) return null;

  const volts = record.system.highestV ?? notes.use('highestOfNominal') * record.system.nominalV;
  const coldC = record.system.ambientC?.min ?? notes.use('coldCoilC');
  const factor = copperFactor(coldC);
  const at = `at ${show(volts)} V and ${show(coldC)} C`;
  let limit: Interval;
  let needed: string;
  if (old) {
    const share = notes.use('controlCurrentOfOldCoil');
    limit = { low: (share * volts) / (old.high * factor), high: (share * volts) / (old.low * factor) };
    needed = `at most ${showInterval(limit, 'A', 2)}: ${share} x the old coil's, ${at}`;
  } else {
    const amps = Math.min(...known);
    limit = { low: amps, high: amps };
    needed = `at most ${show(amps)} A: ${controlFuseA === amps ? 'the fuse' : 'the weakest contact'} of the start circuit`;
  }
  const currents = facts.holding.map((coil) => currentOf(coil, part, volts, factor));
  if (currents.length === 0 || currents.includes(undefined)) {
    return {
      criterion: 'coil-current', outcome: 'unknown', needed, offered: 'coil resistance not given', why: 'without the coil resistance its current is not known',
      unsaid: true, hangsOn: 'coil resistance', readings: [askMaker('resistance of the coil', part)],
    };
  }
  const amps = currents.reduce<number>((sum, each) => sum + (each ?? 0), 0);
  const outcome = judgeAtMost(amps, limit);
  const inrush = facts.working.length > facts.holding.length
    ? facts.working.reduce((sum, coil) => sum + (currentOf(coil, part, volts, factor) ?? 0), 0) : 0;
  const more = inrush > amps ? `; ${show(inrush, 1)} A until the contact closes` : '';
  const words = { pass: 'stays under it', unknown: 'lies within what the old coil may have drawn', fail: 'is more than the start circuit was chosen for' }[outcome];
  // What is not sure is the old coil: the most it may have had and still been at the limit.
  const probability = old ? chanceOf((settingOf('controlCurrentOfOldCoil') * volts) / (amps * factor) - (old.low + old.high) / 2, (old.high - old.low) / 4) : undefined;
  return {
    criterion: 'coil-current', outcome, needed, offered: `${show(amps)} A ${at}`, ...(probability !== undefined && { probability }), why: `the coil draws ${show(amps)} A ${at} and ${words}${more}`,
    readings: [{ what: 'fuse and contact rating of the start circuit, or the old coil with a better ohmmeter', from: 'bench' }],
  };
}
