import type { BenchRecord, Criterion, Part, StarterData } from '../../../catalog-schema/index.ts';
import { settingOf } from '../settings.ts';
import { show, type Finding, type Notes } from './finding.ts';

/** What a starter must match: voltage of the machine, rotation, pinion, and power and nose where the removed one's are known. */
export function checkStarter(record: BenchRecord, part: Part, notes: Notes): Finding[] {
  if (part.partClass !== 'starter-motor') {
    return [{ criterion: 'rotation', outcome: 'fail', needed: 'a starter motor', offered: 'not a starter motor', why: 'only a starter stands in for a starter' }];
  }
  const old = record.starter ?? {};
  const own = part.starter ?? {};
  return [checkVoltage(record, own), checkRotation(old, own), checkPinion(old, own, notes), ...checkPower(old, own), ...checkNose(old, own, notes)];
}

/** The machine's voltage decides, not what the removed starter says. */
function checkVoltage(record: BenchRecord, own: StarterData): Finding {
  const volts = record.system.nominalV;
  if (own.nominalV === undefined) return unanswered('voltage', `${show(volts)} V`, 'voltage', 'maker');
  const same = Math.abs(own.nominalV - volts) <= 1e-9;
  return {
    criterion: 'voltage', outcome: same ? 'pass' : 'fail', needed: `${show(volts)} V`, offered: `${show(own.nominalV)} V`,
    why: same ? "made for the machine's voltage" : `a ${show(own.nominalV)} V starter on a ${show(volts)} V machine`,
  };
}

function checkRotation(old: StarterData, own: StarterData): Finding {
  const needed = old.rotation === undefined ? 'not recorded' : describeRotation(old.rotation);
  if (old.rotation === undefined) return unrecorded('rotation', own.rotation === undefined ? 'not given' : describeRotation(own.rotation), 'rotation of the removed starter, seen from the drive end');
  if (own.rotation === undefined) return unanswered('rotation', needed, 'rotation, seen from the drive end', 'maker');
  const same = own.rotation === old.rotation;
  return {
    criterion: 'rotation', outcome: same ? 'pass' : 'fail', needed, offered: describeRotation(own.rotation),
    why: same ? 'turns the same way, seen from the drive end' : 'turns the other way: it engages and does nothing, or wrecks the ring gear',
  };
}

function checkPinion(old: StarterData, own: StarterData, notes: Notes): Finding {
  const needed = describePinion(old);
  const offered = describePinion(own);
  const found = (outcome: Finding['outcome'], why: string, readings: Finding['readings'] = []): Finding => ({ criterion: 'pinion', outcome, needed, offered, why, readings });
  const close = notes.use('pinionModuleMm');
  if (old.pinionTeeth !== undefined && own.pinionTeeth !== undefined && old.pinionTeeth !== own.pinionTeeth) {
    return found('fail', `${own.pinionTeeth} teeth instead of ${old.pinionTeeth}`);
  }
  if (old.pinionModuleMm !== undefined && own.pinionModuleMm !== undefined && Math.abs(old.pinionModuleMm - own.pinionModuleMm) > close + 1e-9) {
    return found('fail', 'another module: the teeth do not mesh with the ring gear');
  }
  const readings: { what: string; from: 'bench' | 'maker' }[] = [];
  if (old.pinionTeeth === undefined) readings.push({ what: 'teeth of the pinion: count them', from: 'bench' });
  if (old.pinionModuleMm === undefined) readings.push({ what: 'module of the pinion: outer diameter over (teeth + 2)', from: 'bench' });
  if (own.pinionTeeth === undefined || own.pinionModuleMm === undefined) readings.push({ what: 'teeth and module of the pinion of the starter on offer', from: 'maker' });
  return readings.length > 0 ? found('unknown', 'teeth and module are not both known on both', readings) : found('pass', 'same teeth and module');
}

function checkPower(old: StarterData, own: StarterData): Finding[] {
  if (old.powerKw === undefined) return [];
  const needed = `at least ${show(old.powerKw)} kW`;
  if (own.powerKw === undefined) return [unanswered('power', needed, 'power', 'maker')];
  const enough = own.powerKw >= old.powerKw - 1e-9;
  return [{
    criterion: 'power', outcome: enough ? 'pass' : 'fail', needed, offered: `${show(own.powerKw)} kW`,
    why: enough ? 'at least the power of the removed one' : 'weaker than the removed one: it may not turn the engine when cold',
  }];
}

function checkNose(old: StarterData, own: StarterData, notes: Notes): Finding[] {
  if (old.noseMm === undefined) return [];
  const needed = `${show(old.noseMm)} mm`;
  if (own.noseMm === undefined) return [unanswered('nose', needed, 'length of the nose', 'maker')];
  notes.use('noseMm');
  const apart = own.noseMm - old.noseMm;
  const same = Math.abs(apart) <= settingOf('noseMm') + 1e-9;
  return [{
    criterion: 'nose', outcome: same ? 'pass' : 'fail', needed, offered: `${show(own.noseMm)} mm`,
    why: same ? 'the pinion reaches the ring gear as before' : `${show(Math.abs(apart))} mm ${apart > 0 ? 'longer' : 'shorter'}: the pinion does not reach the ring gear as before`,
  }];
}

function unanswered(criterion: Criterion, needed: string, what: string, from: 'maker'): Finding {
  return { criterion, outcome: 'unknown', needed, offered: 'not given', why: `the starter on offer does not give its ${what}`, readings: [{ what: `${what} of the starter on offer`, from }] };
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
