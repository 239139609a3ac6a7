import type { Part } from '../../../catalog-schema/index.ts';
import type { MachineSide } from './machine-side.ts';

/** The bits of a wiring form. */
const FEWER_THAN_TWO_CONTACTS = 1;
const RETURNS_BY_CASE = 2;
const NO_CONTACT_BETWEEN_TERMINALS = 4;

/**
 * What of a part's circuit alone, without one value in it, can refuse it on some machine: a few bits, for an index that leaves out whole runs of
 * parts by `Rewirer.refusesForm`. 0 where nothing of the kind can be said.
 */
export function wiringFormOf(part: Part): number {
  let contacts = 0;
  let coils = 0;
  let isPlain = true;
  let returnsByCase = false;
  let reachesTerminals = false;
  for (const element of part.circuit) {
    switch (element.kind) {
      case 'contact':
        contacts++;
        if (element.form !== 'NO') isPlain = false;
        if (element.between.every((node) => node !== 'case' && part.inside?.includes(node) !== true)) reachesTerminals = true;
        break;
      case 'coil':
        coils++;
        if (element.between.includes('case')) returnsByCase = true;
        break;
      case 'resistor': case 'diode': case 'motor': isPlain = false; break;
      default: refuseKind(element);
    }
  }
  return (contacts < 2 ? FEWER_THAN_TWO_CONTACTS : 0) | (isPlain && coils === 1 && returnsByCase ? RETURNS_BY_CASE : 0)
    | (reachesTerminals ? 0 : NO_CONTACT_BETWEEN_TERMINALS);
}

/**
 * Is every part of this form refused on this machine, whatever its values? Each line is a proof:
 * - A cranking feed must be joined to the battery through closed contacts while cranking, and never lie on the battery. With one contact, the one
 *   that feeds the starter, it would lie with the starter, and feed it while the engine runs.
 * - One coil to the case, normally open contacts and nothing else, on a machine whose interlocks act in the return. The return never reaches the case
 *   and the case is never live, so the coil returns through chassis, and its other end hangs on battery or start switch; with the return there too it
 *   would have no voltage while cranking. Anywhere else the return, when it opens, only takes a path to chassis away: no voltage falls, and what
 *   cranked with the interlocks closed cranks with them open.
 * - Battery and starter go on the two terminals of a contact.
 */
export function isFormRefused(machine: MachineSide, form: number): boolean {
  const { has, interlocks, refusals } = machine;
  if (refusals.length > 0 || !has.starter) return false;
  return ((form & FEWER_THAN_TWO_CONTACTS) !== 0 && has.crankingFeed)
    || ((form & RETURNS_BY_CASE) !== 0 && has.interlockedReturn && (interlocks === 'in-return' || interlocks === 'both'))
    || (form & NO_CONTACT_BETWEEN_TERMINALS) !== 0;
}

function refuseKind(element: never): never {
  throw new TypeError(`unknown element ${JSON.stringify(element)}`);
}
