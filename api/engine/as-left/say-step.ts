import { printLength, printNumber, printQuantity, readColour, type BenchRecord, type Part, type Wire, type WireEnd } from '../../../catalog-schema/index.ts';
import { feedsStarter } from './feeds-starter.ts';
import type { AsLeftStep, Torque } from './step.ts';
import { STEP_WORDS as words } from './words.ts';
import type { Yardstick } from './yardsticks.ts';

/** What is needed to speak of a step: the old part's terminals are the record's, the new one's the catalogue's. */
export interface StepSpeech { readonly record: BenchRecord; readonly part: Part; readonly unit: 'mm' | 'inch' }

/** The step in one line, in the imperative. */
export function sayStep(step: AsLeftStep, { record, part, unit }: StepSpeech): string {
  const now = (id: string): string => sayTerminal(id, part.terminals);
  switch (step.kind) {
    case 'battery-off': return words.batteryOff;
    case 'remove': return words.remove;
    case 'make-ready': return words.makeReady(words.list(step.kit.map((entry) => words.kitItem(entry.qty, entry.item, entry.detail))));
    case 'drill': return words.drill(printLength(step.hole.diameterMm, unit), words.drillIn[step.hole.in], printLength(step.hole.xMm, unit), printLength(step.hole.yMm, unit));
    case 'mount': return words.mount(step.bolts, step.rotationDeg, step.flipped);
    case 'wire': return words.wire(sayWire(step.wire), sayLeads(step.wire), now(step.to), sayOldPlace(step, record));
    case 'wire-unplanned': return words.wireUnplanned(sayWire(step.wire), sayLeads(step.wire));
    case 'leave-off': return words.leaveOff(sayWire(step.wire));
    case 'jumper': return words.jumper(now(step.from), now(step.to));
    case 'studs-open': return words.studsOpen(now(step.between[0]), now(step.between[1]));
    case 'reading': return words.reading[step.reading](now(step.between[0]), now(step.between[1]));
    case 'battery-on': return words.batteryOn;
    case 'cranks': return feedsStarter(record, part) ? words.cranks : words.works;
    case 'running': return words.running;
    case 'interlock': return step.acts === 'stops-engine' ? words.interlockStops(step.name)
      : (feedsStarter(record, part) ? words.interlockCranks : words.interlockHolds)(step.name);
    default: throw new Error(`no such step: ${JSON.stringify(step satisfies never)}`);
  }
}

/** What to mind while doing it: ends, the order of the stack, the torque, how a meter shows it. */
export function sayDetails(step: AsLeftStep, { record, unit, part }: StepSpeech): string[] {
  switch (step.kind) {
    case 'wire': return [
      step.newEnd ? words.fitNewEnd : sayEnd(step.wire.end, unit),
      ...(step.stack.length > 1 ? [words.stackOf(step.stack)] : []),
      ...(step.tighten !== null ? [words.stack, sayTorque(step.tighten)] : step.torque !== null ? [words.notYet] : []),
    ];
    case 'reading': return [sayLimit(step.yardstick), words.readingDetail[step.reading]];
    case 'battery-off': return [words.batteryOffDetail];
    case 'mount': return [words.mountDetail];
    case 'cranks': return feedsStarter(record, part) ? [words.cranksDetail] : [];
    case 'remove': return [words.removeDetail];
    case 'interlock': return [
      ...(step.acts === 'stops-engine' ? [words.stopsEngine] : step.shownAt === null ? [] : [words.shownBy[step.acts](sayTerminal(step.shownAt, part.terminals))]),
      words.interlockDetail,
    ];
    case 'drill': return [words.drillDetail];
    case 'jumper': return step.tighten.map(({ terminal, torque }) => `${sayTerminal(terminal, part.terminals)}: ${sayTorque(torque)}`);
    case 'make-ready': case 'wire-unplanned': case 'leave-off': case 'studs-open': case 'battery-on': case 'running': return [];
    default: throw new Error(`no such step: ${JSON.stringify(step satisfies never)}`);
  }
}

/** The caution that stands at a step; undefined where none applies. */
export function sayCaution(step: AsLeftStep, { record }: StepSpeech): string | undefined {
  switch (step.kind) {
    case 'battery-off': return record.system.nominalV >= 36 ? `${words.cautionBattery} ${words.cautionCapacitors}` : words.cautionBattery;
    case 'battery-on': return words.cautionBattery;
    case 'cranks': return words.cautionCranking;
    case 'interlock': return words.cautionRelease;
    case 'running': return words.cautionCranking;
    case 'wire-unplanned': return words.cautionUnplanned;
    case 'wire': return step.wire.leadsTo === 'battery' || step.wire.leadsTo === 'tap' ? words.cautionHeavy : undefined;
    case 'reading': switch (step.reading) {
      case 'standing-current': return words.cautionMeterInLine;
      case 'coil-volts': case 'contact-drop': case 'positive-drop': case 'ground-drop': return words.cautionCranking;
      case 'coil-ohms': return undefined;
      default: throw new Error(`no such reading: ${String(step.reading satisfies never)}`);
    }
    case 'remove': case 'make-ready': case 'drill': case 'mount': case 'leave-off': case 'jumper': case 'studs-open': return undefined;
    default: throw new Error(`no such step: ${JSON.stringify(step satisfies never)}`);
  }
}

/** What to do now that a step went wrong. */
export function sayNext(step: AsLeftStep): string {
  if (step.kind === 'reading') return words.outside[step.reading];
  return step.kind === 'studs-open' || step.kind === 'cranks' || step.kind === 'running' || step.kind === 'interlock' ? words.stop[step.kind] : words.wentWrong;
}

export function sayTorque(torque: Torque): string {
  return torque.kind === 'unknown' ? words.torqueUnknown
    : words.torque(torque.thread, printNumber(torque.advice.newtonMetres, 4), torque.advice.label);
}

/** The torque for the drawing: the figure with what kind of figure it is; '' where there is none. */
export function sayShortTorque(torque: Torque | null): string {
  return torque === null || torque.kind === 'unknown' ? '' : words.torqueShort(printNumber(torque.advice.newtonMetres, 4));
}

/** The limit of a reading with the yardstick's name. */
export function sayLimit(yardstick: Yardstick): string {
  return `${sayFigure(yardstick)}. ${words.yardstick(yardstick.source)}`;
}

/** The limit alone: 'At most 0.2 V'. */
export function sayFigure({ low, high, unit }: Yardstick): string {
  if (low !== undefined && high !== undefined) return words.between(printNumber(low, 4), printQuantity(high, unit));
  return low !== undefined ? words.atLeast(printQuantity(low, unit)) : words.atMost(printQuantity(high!, unit));
}

/** A terminal as a person finds it: its id, with what is stamped beside it; the case and the chassis by their words. */
export function sayTerminal(id: string, terminals: readonly { readonly id: string; readonly marking?: string | undefined }[]): string {
  if (id === 'case' || id === 'chassis') return words.node[id];
  return words.terminal(id, terminals.find((terminal) => terminal.id === id)?.marking);
}

/** A wire by its tag and the letters of its colours: 'W1 (YE/GN)'. */
export function sayWire({ tag, colour }: Pick<Wire, 'tag' | 'colour'>): string {
  return colour === undefined || colour.trim() === '' ? tag : `${tag} (${sayColour(colour)})`;
}

/** A colour in the letters of IEC 60757; as it was written where it is not one. */
export function sayColour(colour: string): string {
  const read = readColour(colour);
  if (read === undefined) return colour.trim();
  return read.stripe === undefined ? read.base.letters : `${read.base.letters}/${read.stripe.letters}`;
}

/** What is at the end of a wire: 'ring lug, hole 8.4 mm'. */
export function sayEnd(end: WireEnd | undefined, unit: StepSpeech['unit']): string {
  if (end === undefined) return words.end.notSaid;
  switch (end.form) {
    case 'ring': return words.end.ring(printLength(end.holeMm, unit));
    case 'receptacle': return words.end.receptacle(printLength(end.tabWidthMm, unit));
    case 'bare': return words.end.bare;
    default: throw new Error(`no such end: ${JSON.stringify(end satisfies never)}`);
  }
}

export function sayLeads({ leadsTo = 'unknown' }: Pick<Wire, 'leadsTo'>): string {
  return words.leadsTo[leadsTo];
}

function sayOldPlace({ wire, to, moved }: Extract<AsLeftStep, { kind: 'wire' }>, record: BenchRecord): string {
  const old = sayTerminal(wire.wasOn, record.terminals ?? []);
  if (moved) return words.wasOn(old);
  return wire.wasOn === to ? words.asBefore : words.inPlaceOf(old);
}
