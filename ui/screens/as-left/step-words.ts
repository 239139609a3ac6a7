import type { BenchRecord, Part } from '../../../catalog-schema/index.ts';
import type { LengthUnit } from '../../client/index.ts';
import { nameTerminal } from '../../elements/wiring-table/element.ts';
import { readWireColour } from '../../drawing/index.ts';
import { formatEnd, formatLength, formatNumber } from '../../format.ts';
import { words } from '../../words.ts';
import type { AsLeftStep, Torque } from './steps.ts';
import type { Yardstick } from './yardsticks.ts';

/** What is needed to speak of a step: the old part's terminals are the record's, the new one's the catalogue's. */
export interface StepSpeech { readonly record: BenchRecord; readonly part: Part; readonly unit: LengthUnit }

/** The step in one line, in the imperative. */
export function sayStep(step: AsLeftStep, { record, part, unit }: StepSpeech): string {
  const now = (id: string): string => nameTerminal(id, part.terminals);
  switch (step.kind) {
    case 'battery-off': return words.asLeft.batteryOff;
    case 'remove': return words.asLeft.remove;
    case 'make-ready': return words.asLeft.makeReady(words.list(step.kit.map((entry) => words.fits.kitItem(entry.qty, entry.item, entry.detail))));
    case 'drill': return words.asLeft.drill(formatLength(step.hole.diameterMm, unit), words.asLeft.drillIn[step.hole.in],
      formatLength(step.hole.xMm, unit), formatLength(step.hole.yMm, unit));
    case 'mount': return words.asLeft.mount(step.bolts, step.rotationDeg, step.flipped);
    case 'wire': return words.asLeft.wire(nameWire(step.wire), words.wire.leadsTo[step.wire.leadsTo ?? 'unknown'].name, now(step.to),
      sayOldPlace(step, record));
    case 'wire-unplanned': return words.asLeft.wireUnplanned(nameWire(step.wire), words.wire.leadsTo[step.wire.leadsTo ?? 'unknown'].name);
    case 'leave-off': return words.asLeft.leaveOff(nameWire(step.wire));
    case 'jumper': return words.asLeft.jumper(now(step.from), now(step.to));
    case 'studs-open': return words.asLeft.studsOpen(now(step.between[0]), now(step.between[1]));
    case 'reading': return words.asLeft.reading[step.reading](now(step.between[0]), now(step.between[1]));
    case 'battery-on': return words.asLeft.batteryOn;
    case 'cranks': return feedsAStarter(part) ? words.asLeft.cranks : words.asLeft.works;
    case 'running': return words.asLeft.running;
    case 'interlock': return step.acts === 'stops-engine' ? words.asLeft.interlockStops(step.name)
      : (feedsAStarter(part) ? words.asLeft.interlockCranks : words.asLeft.interlockHolds)(step.name);
  }
}

function sayOldPlace({ wire, to, moved }: Extract<AsLeftStep, { kind: 'wire' }>, record: BenchRecord): string {
  const old = nameTerminal(wire.wasOn, record.terminals ?? []);
  if (moved) return words.asLeft.wasOn(old);
  return wire.wasOn === to ? words.asLeft.asBefore : words.asLeft.inPlaceOf(old);
}

/** What to mind while doing it: ends, the order of the stack, the torque. */
export function sayDetails(step: AsLeftStep, { unit, part }: StepSpeech): string[] {
  switch (step.kind) {
    case 'wire': return [
      step.newEnd ? words.asLeft.fitNewEnd : formatEnd(step.wire.end, unit),
      ...(step.stack.length > 1 ? [words.asLeft.stackOf(step.stack)] : []),
      ...(step.tighten !== null ? [words.asLeft.stack, sayTorque(step.tighten)] : step.torque !== null ? [words.asLeft.notYet] : []),
    ];
    case 'reading': return [sayLimit(step.yardstick)];
    case 'battery-off': return [words.asLeft.batteryOffDetail];
    case 'mount': return [words.asLeft.mountDetail];
    case 'cranks': return feedsAStarter(part) ? [words.asLeft.cranksDetail] : [];
    case 'remove': return [words.asLeft.removeDetail];
    case 'interlock': return [words.asLeft.interlockDetail];
    case 'drill': return [words.asLeft.drillDetail];
    case 'jumper': return step.tighten.map(({ terminal, torque }) => `${nameTerminal(terminal, part.terminals)}: ${sayTorque(torque)}`);
    case 'make-ready': case 'wire-unplanned': case 'leave-off': case 'studs-open': case 'battery-on': case 'running': return [];
  }
}

/** The caution that stands at a step; undefined where none applies. */
export function sayCaution(step: AsLeftStep, { record }: StepSpeech): string | undefined {
  switch (step.kind) {
    case 'battery-off': return record.system.nominalV >= 36 ? `${words.asLeft.cautionBattery} ${words.asLeft.cautionCapacitors}` : words.asLeft.cautionBattery;
    case 'cranks': return words.asLeft.cautionCranking;
    case 'interlock': return words.asLeft.cautionRelease;
    case 'wire-unplanned': return words.asLeft.cautionUnplanned;
    case 'remove': case 'make-ready': case 'drill': case 'mount': case 'wire': case 'leave-off': case 'jumper': case 'studs-open':
    case 'reading': case 'battery-on': case 'running': return undefined;
  }
}

export function sayTorque(torque: Torque): string {
  return torque.kind === 'unknown' ? words.asLeft.torqueUnknown
    : words.asLeft.torque(torque.thread, formatNumber(torque.advice.newtonMetres), torque.advice.label);
}

/** The torque for the drawing: the figure with what kind of figure it is; '' where there is none. */
export function sayShortTorque(torque: Torque | null): string {
  return torque === null || torque.kind === 'unknown' ? '' : words.asLeft.torqueShort(formatNumber(torque.advice.newtonMetres));
}

/** The limit of a reading with the yardstick's name. */
export function sayLimit({ low, high, unit, source }: Yardstick): string {
  const named = source === 'catalogue' ? words.asLeft.byCatalogue : source;
  const figure = low !== undefined && high !== undefined ? words.asLeft.between(formatNumber(low), formatNumber(high), unit)
    : low !== undefined ? words.asLeft.atLeast(formatNumber(low), unit) : words.asLeft.atMost(formatNumber(high!), unit);
  return `${figure}. ${words.asLeft.yardstick(named)}`;
}

/** Contactors and plug-in relays feed other things than a starter as well: nothing cranks there. */
function feedsAStarter(part: Part): boolean {
  return part.partClass !== 'contactor' && part.partClass !== 'plug-in-relay';
}

function nameWire(wire: { tag: string; colour?: string | undefined }): string {
  return wire.colour === undefined ? wire.tag : `${wire.tag} (${readWireColour(wire.colour).letters})`;
}
