import { isRingGap, type BenchRecord, type Terminal, type Wire } from '../../../catalog-schema/index.ts';
import { threadOf } from '../part-facts.ts';
import type { PlanOutline } from '../rewire/index.ts';
import { settingOf } from '../settings.ts';
import type { LeastWork } from './wiring-prospects.ts';

/** What plans ask for in minutes and money: the sum over the checks of wiring and studs, without their words. */
export class PlanWork {
  readonly #wires: ReadonlyMap<string, Wire>;
  readonly #minutePrice: number;
  readonly #priceOf: (item: string) => number;
  /** wires that may be left off: the quickest change there is */
  readonly #mayBeLeftOff: number;
  readonly #majors = new Map<string, number | undefined>();

  /** @param minutePrice of work; @param priceOf a kit item */
  constructor(record: BenchRecord, minutePrice: number, priceOf: (item: string) => number) {
    this.#wires = new Map((record.wires ?? []).map((wire) => [wire.tag, wire]));
    this.#minutePrice = minutePrice;
    this.#priceOf = priceOf;
    this.#mayBeLeftOff = [...this.#wires.values()].filter(({ leadsTo }) => leadsTo === 'chassis').length;
  }

  /**
   * The least minutes and the least price that any of the plans comes to on these terminals; null where there is no plan.
   * @param plans by rising changes: once so many changes cannot take less, nobody looks further
   */
  leastOf(plans: Iterable<PlanOutline>, terminals: readonly Terminal[]): LeastWork | null {
    let minutes = Number.POSITIVE_INFINITY;
    let price = Number.POSITIVE_INFINITY;
    for (const plan of plans) {
      const least = this.#leastMinutes(plan.changes);
      if (least >= minutes && least * this.#minutePrice >= price) break;
      const work = this.#workOf(plan, terminals);
      minutes = Math.min(minutes, work.minutes);
      price = Math.min(price, work.price);
    }
    return minutes === Number.POSITIVE_INFINITY ? null : { minutes, price };
  }

  /** So many changes take at least this long. */
  #leastMinutes(changes: number): number {
    const other = Math.min(...(['moveWireMinutes', 'newEndMinutes', 'jumperMinutes'] as const).map(settingOf));
    const leftOff = Math.min(changes, this.#mayBeLeftOff);
    return leftOff * Math.min(other, settingOf('leaveOffMinutes')) + (changes - leftOff) * other;
  }

  #workOf({ wires, jumpers, leftOff }: PlanOutline, terminals: readonly Terminal[]): LeastWork {
    let minutes = jumpers.length * settingOf('jumperMinutes') + leftOff.length * settingOf('leaveOffMinutes');
    let kit = jumpers.length * this.#priceOf('jumper lead');
    for (const { tag, to, moved, newEnd } of wires) {
      if (moved) minutes += settingOf('moveWireMinutes');
      const terminal = terminals.find(({ id }) => id === to);
      if (newEnd) {
        minutes += settingOf('newEndMinutes');
        kit += this.#priceOf(endFor(terminal, wires.some((other) => other.to === to && other.tag !== tag)));
      } else if (terminal && this.#needsLug(terminal, this.#wires.get(tag))) {
        minutes += settingOf('newEndMinutes');
        kit += this.#priceOf('ring lug');
      }
    }
    return { minutes, price: kit + minutes * this.#minutePrice };
  }

  /** As the check of the studs has it: a ring that does not go on the thread, or lies on a sliver of itself. */
  #needsLug({ form, thread }: Terminal, wire: Wire | undefined): boolean {
    if ((form !== 'stud' && form !== 'screw') || wire?.end?.form !== 'ring' || thread === undefined) return false;
    if (!this.#majors.has(thread)) this.#majors.set(thread, threadOf({ thread })?.majorMm);
    const majorMm = this.#majors.get(thread);
    return majorMm !== undefined && !isRingGap(wire.end.holeMm - majorMm);
  }
}

/** The new end of a wire, as the kit of a plan names it; a bracket bolt takes a ring lug. */
function endFor(terminal: Terminal | undefined, isShared: boolean): string {
  switch (terminal?.form) {
    case undefined: case 'stud': case 'screw': return 'ring lug';
    case 'tab': return isShared ? 'receptacle with branch tab' : 'receptacle';
    case 'lead': return 'splice';
    case 'pin': return 'socket contact';
    default: throw new Error(`terminal form ${String(terminal?.form satisfies undefined)} is not known`);
  }
}
