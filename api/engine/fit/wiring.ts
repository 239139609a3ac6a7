import type { BenchRecord, KitItem, Part, Wire } from '../../../catalog-schema/index.ts';
import type { PlanOutline, WiringOutline } from '../rewire/index.ts';
import { settingOf } from '../settings.ts';
import { ASK_CONTROL_OHM, show, START_CIRCUIT, type Finding, type Reading } from './finding.ts';
import { ringHoleFor } from './ring-hole.ts';

/** What an unknown hangs on, and which reading settles it. */
type Doubt = Pick<Finding, 'hangsOn' | 'byCircuit' | 'isOther' | 'readings' | 'fromSetting'>;

const ASK_CASE: Reading = { what: 'whether metal bolted to the panel reaches battery minus: ohms from panel to battery minus post', from: 'bench' };

/**
 * The mean of the normal's probability over 0 to 2 sigma: that a plan holds which is right at the measured value and at one end of its
 * interval, where the limit may lie anywhere in the other half.
 */
const HOLDS_WITHIN_HALF = 0.805;

/** Which wires have still to be traced; with none of them recorded as untraced, all of them. */
export function askToTrace(record: BenchRecord): Reading {
  const open = (record.wires ?? []).filter(({ leadsTo }) => leadsTo === undefined || leadsTo === 'unknown');
  const which = open.length === 0 ? 'each wire leads' : open.length === 1 ? `wire ${open[0]!.tag} leads` : `wires ${open.map(({ tag }) => tag).join(', ')} lead`;
  return { what: `where ${which}: trace it, or measure it to battery plus and minus with the switch in each position`, from: 'bench' };
}

/** Whether every wire can go back so that the machine behaves as before: a pass when nothing changes, else work. */
export function checkWiring(record: BenchRecord, part: Part, first: WiringOutline | null): Finding {
  const wires = record.wires ?? [];
  const needed = wires.length === 0 ? 'not recorded' : wires.map((wire) => `${wire.tag} ${wire.leadsTo ?? 'unknown'}`).join(', ');
  const found = (outcome: Finding['outcome'], offered: string, why: string, more: Partial<Finding> = {}): Finding =>
    ({ criterion: 'wiring', outcome, needed, offered, why, ...more });
  if (!first || wires.length === 0) return found('unknown', 'not judged', 'no wire is recorded', doubtOfWires(record));

  const refused = (first.refusals ?? []).map(({ code, why }) => `${code}: ${why}`).join('; ');
  if (!first.judged) return found('unknown', 'not judged', refused === '' ? 'a wire has still to be traced' : refused, doubtOfWires(record));
  const { plan } = first;
  if (!plan) {
    return first.complete
      ? found('fail', 'no wiring works', refused)
      : found('unknown', 'no wiring found', `the search was cut off before a wiring was found${refused === '' ? '' : `; ${refused}`}`);
  }
  const offered = describePlan(plan);
  const work = { kit: listPlanKit(record, part, plan), minutes: planMinutes(plan) };
  if (!first.rightBothWays) {
    const joined = first.leansOn === 'case-apart' ? 'right only where the case does not reach battery minus' : 'right only where the case reaches battery minus';
    return found('unknown', offered, joined, {
      ...work, ...doubtOfCase(first),
    });
  }
  if (first.hangsOnControlOhm) {
    const { onlyAtControlOhm } = first;
    const why = onlyAtControlOhm === undefined ? 'right at the resistance of the start circuit as measured, and not over all of its interval'
      : `right where the resistance of the start circuit is ${show(onlyAtControlOhm, 3)} Ohm, and not at the value measured: its interval reaches from the one to the other`;
    return found('unknown', offered, why, {
      ...work, probability: onlyAtControlOhm === undefined ? HOLDS_WITHIN_HALF : 1 - HOLDS_WITHIN_HALF, hangsOn: START_CIRCUIT, readings: [ASK_CONTROL_OHM],
    });
  }
  const avoided = refused === '' ? '' : `; the wires as they were would not do: ${refused}`;
  return plan.changes === 0
    ? found('pass', offered, 'every wire goes on the terminal of the same place')
    : found('work', offered, `${describeChanges(plan)}${avoided}`, work);
}

/**
 * A starter without a contact of its own is not rewired: a cable from the relay goes on its stud. Where a wire comes from the start switch, or
 * the feed is not switched, the removed one carried its solenoid, and this one would be fed as long as the battery is on.
 */
export function checkBareStarter(record: BenchRecord): Finding | null {
  const wires = record.wires ?? [];
  const leadingTo = (place: Wire['leadsTo']): Wire | undefined => wires.find(({ leadsTo }) => leadsTo === place);
  const found = (outcome: Finding['outcome'], why: string, more: Partial<Finding> = {}): Finding =>
    ({ criterion: 'wiring', outcome, needed: wires.map(({ tag, leadsTo = 'unknown' }) => `${tag} ${leadsTo}`).join(', '), offered: 'a motor without a contact of its own', why, ...more });
  const start = leadingTo('start-switch');
  if (start) return found('fail', `wire ${start.tag} comes from the start switch: the removed starter carried its solenoid, and without one the motor is fed as long as the battery is on`);
  const battery = leadingTo('battery');
  if (battery) return found('unknown', `wire ${battery.tag} is not switched: on this starter the motor would be fed as long as the battery is on`, doubtOfWires(record));
  const loose = wires.filter(({ leadsTo }) => leadsTo !== 'starter' && leadsTo !== 'chassis');
  return loose.length > 1 && loose.some(({ leadsTo = 'unknown' }) => leadsTo === 'unknown')
    ? found('unknown', 'more than one wire came to the removed starter, and where they lead is not known: it may have carried its solenoid', doubtOfWires(record)) : null;
}

/** The interlocks stop cranking as before; where the case may or may not reach battery minus the worse way counts. */
export function checkInterlock(record: BenchRecord, first: WiringOutline | null): Finding {
  const { interlocks } = record.system;
  const names = (record.system.interlockList ?? []).filter(({ acts }) => acts !== 'stops-engine').map(({ name }) => name);
  const where = interlocks ?? ((record.wires ?? []).some(({ leadsTo }) => leadsTo === 'interlocked-return') ? 'in-return' : 'in-feed');
  const needed = where === 'none' ? 'no interlock acts on the coil' : `${names.length > 0 ? names.join(', ') : 'interlocks'} ${where === 'both' ? 'in feed and return' : where.replace('-', ' the ')}`;
  if (!first || (record.wires ?? []).length === 0) {
    return { criterion: 'interlock', outcome: 'unknown', needed, offered: 'not judged', why: 'no wire is recorded', ...doubtOfWires(record) };
  }
  const { outcome, why = '' } = first.interlock;
  const offered = { pass: 'cranks only with every interlock closed', unknown: 'not shown', fail: 'cranks with an interlock open' }[outcome];
  return { criterion: 'interlock', outcome, needed, offered, why, ...describeDoubt(record, first) };
}

/** Demanded where the part has a diode: turned round it shorts the feed or keeps the coil from working. */
export function checkPolarity(record: BenchRecord, first: WiringOutline | null): Finding {
  const found = (outcome: Finding['outcome'], why: string): Finding => ({
    criterion: 'polarity', outcome, needed: 'plus from the start switch on the plus end of the coil', offered: 'a coil with a diode: plus and minus differ', why, ...describeDoubt(record, first),
  });
  if (!first?.polarity) return found('unknown', 'no wire is recorded');
  return found(first.polarity.outcome, first.polarity.why ?? '');
}

/** What settles an unknown that follows from the wiring: where the wires lead, or whether the case reaches battery minus. */
function describeDoubt(record: BenchRecord, first: WiringOutline | null): Doubt {
  return first?.judged ? doubtOfCase(first) : doubtOfWires(record);
}

/** Where the wires lead tells apart which inner circuits will do: parts of one circuit stand or fall together. */
export function doubtOfWires(record: BenchRecord): Doubt {
  return { hangsOn: 'wires', fromSetting: 'untracedHolds', byCircuit: true, readings: [askToTrace(record)] };
}

/** A wiring that counts on the case being joined holds exactly where one that counts on its being apart does not. */
function doubtOfCase({ leansOn }: WiringOutline): Doubt {
  return { hangsOn: 'case', isOther: leansOn === 'case-grounded', readings: [ASK_CASE] };
}

/** Minutes that a plan takes, from the table of settings. */
function planMinutes(plan: PlanOutline): number {
  return plan.wires.filter(({ moved }) => moved).length * settingOf('moveWireMinutes')
    + plan.wires.filter(({ newEnd }) => newEnd).length * settingOf('newEndMinutes')
    + plan.jumpers.length * settingOf('jumperMinutes') + plan.leftOff.length * settingOf('leaveOffMinutes');
}

function describePlan(plan: PlanOutline): string {
  return [
    ...plan.wires.map(({ tag, to }) => `${tag} to ${to}`), ...plan.jumpers.map(({ from, to }) => `lead ${from} to ${to}`),
    ...plan.leftOff.map((tag) => `${tag} left off`),
  ].join(', ');
}

function describeChanges(plan: PlanOutline): string {
  const count = (number: number, one: string, many: string): string => (number === 0 ? '' : number === 1 ? `1 ${one}` : `${number} ${many}`);
  return [
    count(plan.wires.filter(({ moved }) => moved).length, 'wire moves', 'wires move'),
    count(plan.wires.filter(({ newEnd }) => newEnd).length, 'new end', 'new ends'),
    count(plan.jumpers.length, 'jumper lead', 'jumper leads'), count(plan.leftOff.length, 'wire left off', 'wires left off'),
  ].filter((words) => words !== '').join(', ');
}

/** What the plan's new ends and leads are made of. Lugs whose hole alone is wrong are the business of `stud`. */
export function listPlanKit(record: BenchRecord, part: Part, plan: PlanOutline): KitItem[] {
  const terminals = new Map(part.terminals.map((terminal) => [terminal.id, terminal]));
  const ends = plan.wires.filter(({ newEnd }) => newEnd).map(({ tag, to }): KitItem => {
    const wire = record.wires?.find((each) => each.tag === tag);
    const terminal = terminals.get(to);
    if (!terminal) return { item: 'ring lug', qty: 1, detail: `for a bracket bolt, wire ${tag}${describeArea(wire)}` };
    const { form } = terminal;
    switch (form) {
      case 'stud': case 'screw': return lugFor(wire, terminal.thread);
      case 'tab': {
        const shared = plan.wires.filter((each) => each.to === to).length > 1;
        const width = terminal.tabWidthMm === undefined ? 'of the tab' : `${show(terminal.tabWidthMm)} mm`;
        return { item: shared ? 'receptacle with branch tab' : 'receptacle', qty: 1, detail: `${width}, wire ${tag}${describeArea(wire)}` };
      }
      case 'lead': return { item: 'splice', qty: 1, detail: `wire ${tag}${describeArea(wire)} to lead ${to}` };
      case 'pin': return { item: 'socket contact', qty: 1, detail: `pin ${to}, wire ${tag}${describeArea(wire)}` };
      default: throw new Error(`terminal form ${String(form satisfies never)} is not known`);
    }
  });
  return [...ends, ...plan.jumpers.map(({ from, to }): KitItem => ({ item: 'jumper lead', qty: 1, detail: `from ${from} to ${to}` }))];
}

/** A ring lug for a stud: its hole, and the cable it is crimped on. */
export function lugFor(wire: Wire | undefined, thread: string | undefined): KitItem {
  const hole = thread === undefined ? undefined : ringHoleFor(thread);
  const size = hole === undefined ? 'hole to the stud' : `hole ${show(hole)} mm for ${thread}`;
  return { item: 'ring lug', qty: 1, detail: `${size}, wire ${wire?.tag ?? ''}${describeArea(wire)}` };
}

function describeArea(wire: Wire | undefined): string {
  return wire?.areaMm2 === undefined ? ', cable area to be measured' : `, cable ${show(wire.areaMm2)} mm2`;
}
