import type { BenchRecord, Part } from '../../../catalog-schema/index.ts';
import type { PartFacts } from '../part-facts.ts';
import { checkCoilCurrent } from './coil-current.ts';
import { checkCoilDuty } from './coil-duty.ts';
import { checkCoilVoltage } from './coil-voltage.ts';
import { checkContactForm } from './contact-form.ts';
import { checkContactContinuous, checkContactInrush } from './contact-rating.ts';
import type { Finding, Notes } from './finding.ts';
import { checkPullIn } from './pull-in.ts';
import { checkNose, checkPinion, checkPower, checkRotation, checkStarterVoltage, refuseOtherThanStarter } from './starter-checks.ts';
import { checkAmbient, checkSealing, checkSpace } from './surroundings.ts';

/** A check that asks neither for a placement nor for a wiring; null where its criterion makes no demand. */
export type PlainCheck = (record: BenchRecord, part: Part, facts: PartFacts, notes: Notes) => Finding | null;

const SURROUNDING_CHECKS: readonly PlainCheck[] = [checkSpace, checkSealing, checkAmbient];
const RELAY_CHECKS: readonly PlainCheck[] = [
  (record, _part, facts) => checkCoilVoltage(record, facts), checkContactForm, checkCoilDuty, checkCoilCurrent, checkPullIn, checkContactInrush, checkContactContinuous,
  ...SURROUNDING_CHECKS,
];
const STARTER_CHECKS: readonly PlainCheck[] = [
  (_record, part) => refuseOtherThanStarter(part), checkStarterVoltage, checkRotation, (record, part, _facts, notes) => checkPinion(record, part, notes), checkPower,
  (record, part, _facts, notes) => checkNose(record, part, notes), ...SURROUNDING_CHECKS,
];

/** The plain checks for a machine that is short of a starter, or of a relay; in the order in which they are asked, the telling ones first. */
export function plainChecksFor(starter: boolean): readonly PlainCheck[] {
  return starter ? STARTER_CHECKS : RELAY_CHECKS;
}
