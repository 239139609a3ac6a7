import type { BenchRecord, Part } from '../../../catalog-schema/index.ts';
import type { Finding } from './finding.ts';
import { describeClass, type PartFacts } from '../part-facts.ts';

/**
 * Whether the part has the kind of contact the machine needs: a normally open one that its coil closes, between battery and starter.
 * A removed plug-in relay of five pins whose wires are not recorded may also use its normally closed contact.
 * A shift solenoid also moves the pinion, so only another one stands in for it, and away from its starter it is no relay;
 * a starter motor is neither.
 */
export function checkContactForm(record: BenchRecord, part: Part, facts: PartFacts): Finding {
  const offered = describeContacts(part, facts);
  const found = (outcome: Finding['outcome'], needed: string, why: string, more: Partial<Finding> = {}): Finding =>
    ({ criterion: 'contact-form', outcome, needed, offered, why, ...more });
  const wanted = record.partClass;
  const open = 'a normally open contact worked by the coil';
  const doubt: Partial<Finding> = { like: part.partClass, ifUnlike: 'otherClassHolds', readings: [{ what: 'class of the removed part, and where each of its wires leads', from: 'bench' }] };

  if (part.partClass === 'starter-motor') return found('fail', open, 'a starter motor does not stand in for a relay');
  if (wanted !== undefined && (wanted === 'shift-solenoid') !== (part.partClass === 'shift-solenoid')) {
    return found('fail', wanted === 'shift-solenoid' ? 'a shift solenoid: it also moves the pinion' : open,
      wanted === 'shift-solenoid' ? `a ${describeClass(part.partClass)} has no plunger to move the pinion` : 'a shift solenoid is returned by the lever of its starter: alone it is no relay');
  }
  if (wanted === undefined && part.partClass === 'shift-solenoid') {
    return found('unknown', 'not known', 'a shift solenoid does where one was taken off its starter, and nowhere else: the class of the removed part is not recorded', doubt);
  }
  const closes = facts.contacts.some((contact) => contact.form === 'NO' && contact.coils.length > 0);
  const feedsStarter = (record.wires ?? []).some(({ leadsTo }) => leadsTo === 'starter' || leadsTo === 'battery' || leadsTo === 'start-switch');
  if (!feedsStarter && wanted === undefined) {
    return found('unknown', 'not known', 'neither the class of the removed part nor where its wires lead is recorded',
      doubt);
  }
  if (!closes) {
    const why = facts.contacts.length === 0 ? 'it has no contact' : facts.contacts.some(({ form }) => form === 'NO')
      ? 'no coil works its normally open contact' : 'its contact is normally closed: the starter would be fed at rest';
    return found('fail', open, why);
  }
  const mayUseBoth = !feedsStarter && wanted === 'plug-in-relay' && (record.terminals?.length ?? 0) >= 5;
  if (mayUseBoth && !facts.contacts.some(({ form }) => form === 'NC')) {
    return found('unknown', `${open}, perhaps a normally closed one too`, 'the removed relay has five pins; whether its normally closed contact is used is not recorded',
      { hangsOn: 'wires', fromSetting: 'untracedHolds', byCircuit: true, readings: [{ what: 'where each wire of the removed relay leads', from: 'bench' }] });
  }
  const isRelay = wanted !== undefined || rulesOutShiftSolenoid(record);
  return isRelay ? found('pass', open, 'it has a normally open contact that its coil closes')
    : found('unknown', open, 'it has a normally open contact that its coil closes, but the removed part may have been a shift solenoid: its class is not recorded, and no wire speaks against one',
      { ...doubt, ifUnlike: undefined, fromSetting: 'relayHolds' });
}

/** A shift solenoid has its windings on the start terminal, the motor stud and its case: no wire brings one back or takes a feed off it. */
export function rulesOutShiftSolenoid({ wires = [] }: BenchRecord): boolean {
  return wires.some(({ leadsTo }) => leadsTo === 'chassis' || leadsTo === 'interlocked-return' || leadsTo === 'cranking-feed');
}

function describeContacts(part: Part, facts: PartFacts): string {
  if (facts.contacts.length === 0) return `${describeClass(part.partClass)} without a contact`;
  const count = (form: 'NO' | 'NC'): number => facts.contacts.filter((contact) => contact.form === form).length;
  return [[count('NO'), 'normally open'], [count('NC'), 'normally closed']]
    .filter(([number]) => number !== 0).map(([number, words]) => `${number} ${words}`).join(', ');
}
