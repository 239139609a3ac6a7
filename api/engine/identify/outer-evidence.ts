import type { BenchRecord, LeadsTo, RecordTerminal } from '../../../catalog-schema/index.ts';
import { readThread } from '../../../catalog-schema/thread/index.ts';
import { settingOf } from '../settings.ts';
import type { CoilClass, FormRole } from './forms.ts';
import { readMeasured } from './read-measured.ts';

/** What a terminal looks like from outside. */
export type Look = 'heavy-stud' | 'thin-stud' | 'stud' | 'tab' | 'screw' | 'lead' | 'pin' | 'not-said';

/** How often a terminal of a kind looks so, by part (common practice, no source: it only matters until readings speak). */
const STUDDED: Readonly<Record<'heavy' | 'small', Readonly<Record<Look, number>>>> = {
  heavy: { 'heavy-stud': 0.9, stud: 0.92, 'thin-stud': 0.02, screw: 0.02, tab: 0.02, lead: 0.01, pin: 0.01, 'not-said': 1 },
  small: { 'heavy-stud': 0.02, stud: 0.15, 'thin-stud': 0.14, screw: 0.14, tab: 0.55, lead: 0.05, pin: 0.01, 'not-said': 1 },
};
const PLUG_IN: Readonly<Record<Look, number>> = { 'heavy-stud': 0.002, stud: 0.002, 'thin-stud': 0.002, screw: 0.03, tab: 0.7, lead: 0.02, pin: 0.25, 'not-said': 1 };

export function lookOf(terminal: RecordTerminal): Look {
  if (terminal.form !== 'stud') return terminal.form;
  const majorMm = (terminal.thread === undefined ? undefined : readThread(terminal.thread)?.majorMm)
    ?? (terminal.majorDiameterMm === undefined ? undefined : readMeasured(terminal.majorDiameterMm, 'caliper', new Set()).value);
  if (majorMm === undefined) return 'stud';
  return majorMm < settingOf('heavyStudMm') ? 'thin-stud' : 'heavy-stud';
}

export function lookShare(look: Look, kind: 'heavy' | 'small', coilClass: CoilClass): number {
  return coilClass === 'plug-in-relay' ? PLUG_IN[look] : STUDDED[kind][look];
}

/** Roles a wire may come from; the others are a slip of the pen or of whoever wired it. */
const WIRE_ROLES: Readonly<Partial<Record<LeadsTo, readonly FormRole[]>>> = {
  battery: ['battery-stud', 'stud', 'common', 'no', 'nc'], tap: ['battery-stud', 'stud', 'common'], starter: ['starter-stud', 'stud', 'no', 'common'],
  'start-switch': ['coil', 'coil+', 'start'], 'cranking-feed': ['cranking-feed', 'no', 'stud', 'starter-stud'],
};

/** Roles of stamped numbers (DIN 72552); letters mean different things to different makers and say nothing here. */
const MARK_ROLES: Readonly<Record<string, readonly FormRole[]>> = {
  30: ['battery-stud', 'stud', 'common'], 45: ['starter-stud', 'stud'], 50: ['start', 'coil', 'coil+'], 85: ['coil', 'coil-', 'coil+'], 86: ['coil', 'coil+', 'coil-'],
  87: ['no', 'stud'], '87a': ['nc'],
};

/** For each terminal, the roles that its wires and its mark allow; a factor below 1 for every other. */
export function roleFactor(record: BenchRecord, terminal: string, role: FormRole): number {
  let factor = 1;
  for (const wire of record.wires ?? []) {
    const roles = wire.wasOn === terminal && wire.leadsTo !== undefined ? WIRE_ROLES[wire.leadsTo] : undefined;
    if (roles && !roles.includes(role)) factor *= settingOf('outerEvidenceSlip');
  }
  const mark = record.terminals?.find(({ id }) => id === terminal)?.marking?.trim().toLowerCase();
  const roles = mark === undefined ? undefined : MARK_ROLES[mark];
  if (roles && !roles.includes(role)) factor *= settingOf('outerEvidenceSlip');
  return factor;
}
