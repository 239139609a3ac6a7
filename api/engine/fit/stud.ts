import { isRingGap, type BenchRecord, type KitItem, type Part, type Terminal, type Wire } from '../../../catalog-schema/index.ts';
import type { PlanOutline } from '../rewire/index.ts';
import { settingOf } from '../settings.ts';
import { askMaker, show, worstOf, type Finding, type Notes, type Outcome, type Reading } from './finding.ts';
import { threadOf } from '../part-facts.ts';
import { doubtOfWires, lugFor } from './wiring.ts';

/** One wire on one threaded terminal. */
interface OnStud { readonly wire: Wire; readonly terminal: Terminal }

/**
 * Whether the rings of the wires go on the part's studs: the hole exceeds the major diameter by 0.1 to 1.5 mm, else a new lug.
 * Left out where the part has no stud and no ring comes to a screw.
 * @param plan where each wire goes; null when that is not known
 */
export function checkStud(record: BenchRecord, part: Part, plan: PlanOutline | null, notes: Notes): Finding | null {
  const wires = record.wires ?? [];
  const studs = part.terminals.filter(({ form }) => form === 'stud');
  const placed = plan ? placeByPlan(wires, part, plan) : placeByStarter(wires, part);
  if (studs.length === 0 && !placed?.some(({ wire, terminal }) => terminal.form === 'screw' && wire.end?.form === 'ring' && terminal.thread !== undefined)) return null;

  const offered = studs.length === 0 ? 'screws' : [...new Set(studs.map(({ thread }) => thread ?? 'thread not given'))].join(', ');
  if (!placed) {
    return {
      criterion: 'stud', outcome: 'unknown', needed: describeRings(wires), offered, why: wires.length === 0 ? 'no wire is recorded' : 'which wire goes on which stud is not known',
      ...doubtOfWires(record),
    };
  }
  notes.use('ringGapLeastMm');
  notes.use('ringGapMostMm');
  const judged = placed.filter(({ terminal }) => terminal.form === 'stud' || terminal.form === 'screw').map((each) => judgeRing(each, part));
  const outcome = worstOf(judged.map((each) => each.outcome));
  const telling = outcome === 'pass' ? judged : judged.filter((each) => each.outcome !== 'pass');
  return {
    criterion: 'stud', outcome, needed: describeRings(placed.map(({ wire }) => wire)), offered,
    why: telling.length === 0 ? 'no wire comes to a stud' : telling.map(({ why }) => why).join('; '),
    // Whatever its size, a stud takes a lug made for it.
    fromSetting: 'endHolds', readings: judged.flatMap(({ reading }) => (reading ? [reading] : [])),
    kit: judged.flatMap(({ lug }) => (lug ? [lug] : [])),
    minutes: judged.filter(({ lug }) => lug !== undefined).length * settingOf('newEndMinutes'),
  };
}

function judgeRing({ wire, terminal }: OnStud, part: Part): { outcome: Outcome; why: string; reading?: Reading; lug?: KitItem } {
  const thread = threadOf(terminal);
  const name = terminal.form === 'stud' ? 'stud' : 'screw';
  if (wire.end && wire.end.form !== 'ring') {
    // The plan counts the new end of a wire that had none that fits; its lug stands in the plan's kit.
    return terminal.form === 'stud'
      ? { outcome: 'work', why: `wire ${wire.tag} gets a ring lug for ${terminal.id}` }
      : { outcome: 'pass', why: `wire ${wire.tag} goes under the screw` };
  }
  if (!wire.end) {
    return { outcome: 'unknown', why: `the end of wire ${wire.tag} is not recorded`, reading: { what: `ring hole of wire ${wire.tag}`, from: 'bench' } };
  }
  if (!thread) {
    return { outcome: 'unknown', why: `the thread of ${name} ${terminal.id} is not given`, reading: askMaker(`thread of the ${name}s`, part) };
  }
  const gapMm = wire.end.holeMm - thread.majorMm;
  const words = `ring ${show(wire.end.holeMm)} mm of wire ${wire.tag} on ${thread.name} (${show(thread.majorMm)} mm)`;
  if (isRingGap(gapMm)) return { outcome: 'pass', why: `${words}: ${show(gapMm)} mm wider` };
  const how = gapMm < settingOf('ringGapLeastMm') ? 'does not go over the stud' : `is ${show(gapMm)} mm wider and would sit on a sliver of its ring`;
  return { outcome: 'work', why: `${words} ${how}: new lug`, lug: lugFor(wire, terminal.thread) };
}

function placeByPlan(wires: readonly Wire[], part: Part, plan: PlanOutline): OnStud[] {
  return plan.wires.flatMap(({ tag, to }) => {
    const wire = wires.find((each) => each.tag === tag);
    const terminal = part.terminals.find(({ id }) => id === to);
    return wire && terminal ? [{ wire, terminal }] : [];
  });
}

/** A starter without a coil is not rewired: its cables go on its one stud. */
function placeByStarter(wires: readonly Wire[], part: Part): OnStud[] | null {
  if (part.partClass !== 'starter-motor' || part.circuit.some(({ kind }) => kind === 'coil') || wires.length === 0) return null;
  const studs = part.terminals.filter(({ form }) => form === 'stud');
  const placed = wires.map((wire) => ({ wire, terminal: studs.length === 1 ? studs[0] : studs.find(({ id }) => id === wire.wasOn) }));
  return placed.every((each): each is OnStud => each.terminal !== undefined) ? placed : null;
}

function describeRings(wires: readonly Wire[]): string {
  const rings = wires.flatMap(({ tag, end }) => (end?.form === 'ring' ? [`${tag} ring ${show(end.holeMm)} mm`] : []));
  return rings.length === 0 ? 'ring ends not recorded' : rings.join(', ');
}
