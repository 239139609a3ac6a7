import type { BenchRecord, Criterion, Part, StarterData } from '../../../catalog-schema/index.ts';
import { settingOf } from '../settings.ts';
import { askMaker, show, type Finding, type Notes, type Reading } from './finding.ts';

/** Only a starter stands in for a starter: anything else is out, and the rest of it is not compared. */
export function refuseOtherThanStarter(part: Part): Finding | null {
  return part.partClass === 'starter-motor' ? null
    : { criterion: 'rotation', outcome: 'fail', needed: 'a starter motor', offered: 'not a starter motor', why: 'only a starter stands in for a starter' };
}

/** The machine's voltage decides, not what the removed starter says. */
export function checkStarterVoltage(record: BenchRecord, part: Part): Finding | null {
  if (part.partClass !== 'starter-motor') return null;
  const own = part.starter ?? {};
  const volts = record.system.nominalV;
  if (own.nominalV === undefined) return unanswered('voltage', `${show(volts)} V`, 'voltage', part);
  const same = Math.abs(own.nominalV - volts) <= 1e-9;
  return {
    criterion: 'voltage', outcome: same ? 'pass' : 'fail', needed: `${show(volts)} V`, offered: `${show(own.nominalV)} V`,
    why: same ? "made for the machine's voltage" : `a ${show(own.nominalV)} V starter on a ${show(volts)} V machine`,
  };
}

export function checkRotation(record: BenchRecord, part: Part): Finding | null {
  if (part.partClass !== 'starter-motor') return null;
  const own = part.starter ?? {};
  const old = record.starter ?? {};
  const needed = old.rotation === undefined ? 'not recorded' : describeRotation(old.rotation);
  if (old.rotation === undefined) {
    const offered = own.rotation === undefined ? 'not given' : describeRotation(own.rotation);
    // One of the two ways it turns: a starter for one will do exactly where one for the other will not.
    return { ...unrecorded('rotation', offered, 'rotation of the removed starter, seen from the drive end'), isOther: own.rotation === 'ccw', hangsOn: 'removed starter', ...(own.rotation && { like: own.rotation, ifUnlike: null }) };
  }
  if (own.rotation === undefined) return unanswered('rotation', needed, 'rotation, seen from the drive end,', part);
  const same = own.rotation === old.rotation;
  return {
    criterion: 'rotation', outcome: same ? 'pass' : 'fail', needed, offered: describeRotation(own.rotation),
    why: same ? 'turns the same way, seen from the drive end' : 'turns the other way: it engages and does nothing, or wrecks the ring gear',
  };
}

export function checkPinion(record: BenchRecord, part: Part, notes: Notes): Finding | null {
  if (part.partClass !== 'starter-motor') return null;
  const own = part.starter ?? {};
  const old = record.starter ?? {};
  const needed = describePinion(old);
  const offered = describePinion(own);
  const found = (outcome: Finding['outcome'], why: string, readings: Finding['readings'] = []): Finding => ({ criterion: 'pinion', outcome, needed, offered, why, readings, like: offered });
  const close = notes.use('pinionModuleMm');
  if (old.pinionTeeth !== undefined && own.pinionTeeth !== undefined && old.pinionTeeth !== own.pinionTeeth) {
    return found('fail', `${own.pinionTeeth} teeth instead of ${old.pinionTeeth}`);
  }
  if (old.pinionModuleMm !== undefined && own.pinionModuleMm !== undefined && Math.abs(old.pinionModuleMm - own.pinionModuleMm) > close + 1e-9) {
    return found('fail', 'another module: the teeth do not mesh with the ring gear');
  }
  const readings: Reading[] = [];
  if (old.pinionTeeth === undefined) readings.push({ what: 'teeth of the pinion: count them', from: 'bench' });
  if (old.pinionModuleMm === undefined) readings.push({ what: 'module of the pinion: outer diameter over (teeth + 2)', from: 'bench' });
  const unsaid = readings.length === 0;
  const isGiven = own.pinionTeeth !== undefined && own.pinionModuleMm !== undefined;
  if (!isGiven) readings.push(askMaker('teeth and module of the pinion', part));
  return readings.length > 0 ? { ...found('unknown', 'teeth and module are not both known on both', readings), unsaid, hangsOn: unsaid ? 'data of the starter' : 'removed starter', ...(!unsaid && isGiven && { ifUnlike: null }) } : found('pass', 'same teeth and module');
}

export function checkPower(record: BenchRecord, part: Part): Finding | null {
  if (part.partClass !== 'starter-motor') return null;
  const own = part.starter ?? {};
  const old = record.starter ?? {};
  if (old.powerKw === undefined) return null;
  const needed = `at least ${show(old.powerKw)} kW`;
  if (own.powerKw === undefined) return unanswered('power', needed, 'power', part);
  const enough = own.powerKw >= old.powerKw - 1e-9;
  return {
    criterion: 'power', outcome: enough ? 'pass' : 'fail', needed, offered: `${show(own.powerKw)} kW`,
    why: enough ? 'at least the power of the removed one' : 'weaker than the removed one: it may not turn the engine when cold',
  };
}

export function checkNose(record: BenchRecord, part: Part, notes: Notes): Finding | null {
  if (part.partClass !== 'starter-motor') return null;
  const own = part.starter ?? {};
  const old = record.starter ?? {};
  if (old.noseMm === undefined) return null;
  const needed = `${show(old.noseMm)} mm`;
  if (own.noseMm === undefined) return unanswered('nose', needed, 'length of the nose', part);
  notes.use('noseMm');
  const apart = own.noseMm - old.noseMm;
  const same = Math.abs(apart) <= settingOf('noseMm') + 1e-9;
  return {
    criterion: 'nose', outcome: same ? 'pass' : 'fail', needed, offered: `${show(own.noseMm)} mm`,
    why: same ? 'the pinion reaches the ring gear as before' : `${show(Math.abs(apart))} mm ${apart > 0 ? 'longer' : 'shorter'}: the pinion does not reach the ring gear as before`,
  };
}

function unanswered(criterion: Criterion, needed: string, what: string, part: Part): Finding {
  return { criterion, outcome: 'unknown', needed, offered: 'not given', why: `the starter on offer does not give its ${what.replace(/,$/, '')}`, unsaid: true, hangsOn: 'data of the starter', readings: [askMaker(what, part)] };
}

function unrecorded(criterion: Criterion, offered: string, what: string): Finding {
  return { criterion, outcome: 'unknown', needed: 'not recorded', offered, why: `not recorded: ${what}`, readings: [{ what, from: 'bench' }] };
}

function describeRotation(rotation: 'cw' | 'ccw'): string {
  return rotation === 'cw' ? 'clockwise from the drive end' : 'counter-clockwise from the drive end';
}

function describePinion({ pinionTeeth, pinionModuleMm }: StarterData): string {
  if (pinionTeeth === undefined && pinionModuleMm === undefined) return 'not given';
  return `${pinionTeeth ?? '?'} teeth, module ${pinionModuleMm === undefined ? '?' : show(pinionModuleMm)} mm`;
}
