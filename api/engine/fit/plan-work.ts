import { isRingGap, type BenchRecord, type Part, type Terminal, type Wire } from '../../../catalog-schema/index.ts';
import { threadOf } from '../part-facts.ts';
import type { Rewirer, StepCosts } from '../rewire/index.ts';
import { settingOf } from '../settings.ts';

/** Work that a part asks for at least: its minutes, and what they and the kit cost together, unrounded. */
export interface LeastWork {
  readonly minutes: number;
  readonly price: number;
}

export const NO_WORK: LeastWork = { minutes: 0, price: 0 };

/** What a new end may be; which one hangs on the terminal it comes to. */
const ENDS = ['ring lug', 'receptacle', 'receptacle with branch tab', 'splice', 'socket contact'] as const;

/** The least that plans ask for in minutes and in money, by the steps that the checks of wiring and studs count. */
export class PlanWork {
  readonly #wires: ReadonlyMap<string, Wire>;
  readonly #ways: readonly [minutes: StepCosts, price: StepCosts];
  readonly #majors = new Map<string, number | undefined>();
  readonly #needsLug = (tag: string, terminal: Terminal): boolean => this.#isOtherSize(this.#wires.get(tag)?.end, terminal);

  /** @param minutePrice of work; @param priceOf a kit item */
  constructor(record: BenchRecord, minutePrice: number, priceOf: (item: string) => number) {
    this.#wires = new Map((record.wires ?? []).map((wire) => [wire.tag, wire]));
    const [move, newEnd, jumper, leaveOff] = [settingOf('moveWireMinutes'), settingOf('newEndMinutes'), settingOf('jumperMinutes'), settingOf('leaveOffMinutes')];
    this.#ways = [{ move, newEnd, jumper, leaveOff, lug: newEnd }, {
      move: move * minutePrice, leaveOff: leaveOff * minutePrice, jumper: jumper * minutePrice + priceOf('jumper lead'),
      newEnd: newEnd * minutePrice + Math.min(...ENDS.map(priceOf)), lug: newEnd * minutePrice + priceOf('ring lug'),
    }];
  }

  /**
   * The least minutes and the least price of any plan that a part of this form may come to, each by itself; null where every part of the form is
   * refused, nothing where its plans are not known.
   */
  leastOf(rewirer: Rewirer, part: Part, form: number | undefined): LeastWork | null {
    const least = rewirer.leastWork(part, form, this.#ways, this.#needsLug);
    return least ? { minutes: least[0]!, price: least[1]! } : least === null ? null : NO_WORK;
  }

  /** The same of any plan on these terminals, whatever the circuit. */
  leastOnTerminals(rewirer: Rewirer, terminals: Part['terminals']): LeastWork {
    const [minutes, price] = rewirer.leastOnTerminals(terminals, this.#ways, this.#needsLug);
    return { minutes: minutes!, price: price! };
  }

  /** As the check of the studs has it: a ring that does not go on the thread, or lies on a sliver of itself. */
  #isOtherSize(end: Wire['end'], { form, thread }: Terminal): boolean {
    if ((form !== 'stud' && form !== 'screw') || end?.form !== 'ring' || thread === undefined) return false;
    if (!this.#majors.has(thread)) this.#majors.set(thread, threadOf({ thread })?.majorMm);
    const majorMm = this.#majors.get(thread);
    return majorMm !== undefined && !isRingGap(end.holeMm - majorMm);
  }
}
