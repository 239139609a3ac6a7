import type { BenchRecord, IdentifyAnswer } from '../../../catalog-schema/index.ts';
import { describeSetting, type SettingName } from '../settings.ts';
import { pointsOf, readBench, type BenchReading } from './bench-readings.ts';
import { compareMarks } from './check-marked-volts.ts';
import { voltsToWeigh } from './coil-prior.ts';
import { findCoils, likeliestVolts, noteFaults, noteLowReadings, warmth } from './find-coils.ts';
import { findConflicts } from './find-conflicts.ts';
import { findTabs } from './find-tabs.ts';
import { findThreads } from './find-threads.ts';
import { describeForms, groupForms, shareOut } from './gather-circuits.ts';
import { openOhmReadings } from './open-ohm-readings.ts';
import { priorShare } from './form-prior.ts';
import { FORMS, type CoilClass } from './forms.ts';
import { pushOpen } from './open-reading.ts';
import { bitsOf, normalise } from './posterior.ts';
import type { Said } from './said.ts';
import { MOST_TERMINALS, weighForms } from './weigh-forms.ts';

/**
 * What a bench record says about the removed part, each with its probability: the thread of each stud and the size of each tab, the
 * circuit inside with a role for every terminal, its coils with their nominal voltage; readings that cannot all be true; and which
 * reading to take next. Ohms are weighed against every common form (`FORMS`), not against rules.
 */
export function identify(record: BenchRecord): IdentifyAnswer {
  const said: Said = { cautions: new Set(), assumptions: new Set(), conflicts: [], open: [] };
  const threads = findThreads(record, said);
  const tabs = findTabs(record, said);
  compareMarks(record, said);
  const { circuits, coils } = findCircuits(record, said);
  return {
    coils, threads, tabs, circuits, conflicts: said.conflicts,
    measureNext: said.open.toSorted((a, b) => b.worth - a.worth || (a.what < b.what ? -1 : 1)), worthUnit: 'bit',
    cautions: [...said.cautions], assumptions: [...said.assumptions],
  };
}

function findCircuits(record: BenchRecord, said: Said): Pick<IdentifyAnswer, 'circuits' | 'coils'> {
  const points = pointsOf(record);
  const readings = readBench(record, points, said);
  noteLowReadings(readings, points, said);
  const none = { circuits: [], coils: [] };
  if (points.length === 1) {
    if (record.partClass !== 'starter-motor') askForTerminals(record, said);
    return none;
  }
  if (record.partClass === 'starter-motor') {
    said.assumptions.add("a starter motor's own circuit is none of the forms compared: its terminals get no roles");
    findConflicts(readings, [], points, said);
    return none;
  }
  const warm = warmth(record);
  const weighed = points.length - 1 > MOST_TERMINALS ? [] : shareOut(weighForms(record, points, readings, voltsToWeigh(record), warm));
  findConflicts(readings, weighed, points, said);
  if (weighed.length === 0) {
    said.assumptions.add(`a part with ${points.length - 1} terminals is none of the forms compared`);
    return none;
  }
  const forms = groupForms(weighed);
  noteFaults(forms, points, readings, said);
  openOhmReadings(record, weighed, points, readings, said);
  listAssumptions(record, readings, said);
  const coils = findCoils(record, forms[0], points, readings, said);
  return { circuits: describeForms(forms, points, warm, (found) => likeliestVolts(record, found, points, readings)), coils };
}

/** Nothing of the part is known: how many terminals it has tells some forms from others. */
function askForTerminals({ partClass }: BenchRecord, said: Said): void {
  const byCount = new Map<number, number>();
  for (const form of FORMS) {
    const share = Object.keys(form.shares).reduce((sum, coilClass) => sum + priorShare(form, coilClass as CoilClass, partClass), 0);
    const count = Object.keys(form.nodes).length;
    byCount.set(count, (byCount.get(count) ?? 0) + share);
  }
  const counts = [...byCount.keys()].toSorted((a, b) => a - b);
  const words = `${counts.slice(0, -1).join(', ')} and ${counts.at(-1)}`;
  pushOpen(said, 'list the terminals of the part and what each looks like', `it tells parts with ${words} terminals apart`, bitsOf(normalise([...byCount.values()])), 'botherOfCaliper');
}

/** Every rule of thumb that the circuits were weighed with. */
function listAssumptions(record: BenchRecord, readings: readonly BenchReading[], said: Said): void {
  said.assumptions.add('how common each circuit form is, and how its terminals look: common practice, no source');
  const used: SettingName[] = ['guessedShareBelief', 'stuckOpenShare', 'stuckClosedShare', 'openCoilShare', 'spareTerminalShare', 'resistorOfCoil', 'resistorSpread'];
  if (record.terminals === undefined) said.assumptions.add('terminals are not listed: those that no reading or wire names are there all the same');
  else used.push('unlistedTerminalShare');
  if (record.terminals?.some(({ form }) => form === 'stud')) used.push('heavyStudMm');
  if (record.partClass !== undefined) used.push('otherClassShare');
  if (record.marked?.coilV !== undefined) used.push('wrongMarkShare');
  if ((record.wires ?? []).length > 0 || record.terminals?.some(({ marking }) => marking !== undefined)) used.push('outerEvidenceSlip');
  if (readings.length > 0) used.push('strayReadingShare', 'jointOhm');
  if (readings.some(({ plus }) => plus !== 'meter')) used.push('forwardDiodeShare');
  for (const name of used) said.assumptions.add(describeSetting(name));
  if (record.ohms?.some(({ by }) => by === undefined)) said.assumptions.add('a reading that does not say by what was taken with a meter, whose test current turns no diode on');
}
