import { isRingGap, type BenchRecord, type KitItem, type Part, type Terminal, type Wire } from '../../../catalog-schema/index.ts';
import { isOneCoilAlone, threadOf } from '../part-facts.ts';
import { settingOf } from '../settings.ts';

/** Work and kit that every wiring of a part asks for, at least. */
export interface LeastWork {
  readonly minutes: number;
  readonly kit: readonly KitItem[];
}

const NOTHING: LeastWork = { minutes: 0, kit: [] };
/** What an end may be replaced by. Which one hangs on the terminal it comes to. */
const ENDS = ['ring lug', 'receptacle', 'receptacle with branch tab', 'splice', 'socket contact'] as const;

/**
 * What the wires of a record ask for on a part's terminals, whatever its circuit. Every wire but one to chassis has to go on a terminal of the
 * part. Where none takes its end as it is, it gets a new one: the plan counts it where the form or the width of a tab is another, the check of
 * the studs where a ring does not go on a thread.
 * @param cheapest of some kit items the one that costs least
 */
export class LeastEnds {
  readonly #wires: readonly Wire[];
  readonly #end: KitItem;
  readonly #majors = new Map<string, number | undefined>();

  constructor(record: BenchRecord, cheapest: (items: readonly string[]) => string) {
    this.#wires = (record.wires ?? []).filter(({ end, leadsTo }) => end !== undefined && leadsTo !== undefined && leadsTo !== 'chassis' && leadsTo !== 'unknown');
    this.#end = { item: cheapest(ENDS), qty: 1, detail: '' };
  }

  of(terminals: readonly Terminal[]): LeastWork {
    const count = this.#wires.filter((wire) => !terminals.some((terminal) => this.#takes(terminal, wire))).length;
    return count === 0 ? NOTHING : { minutes: count * settingOf('newEndMinutes'), kit: [{ ...this.#end, qty: count }] };
  }

  /** Whether the wire may keep its end there, as far as is known. */
  #takes(terminal: Terminal, { end }: Wire): boolean {
    switch (end!.form) {
      case 'ring': {
        if (terminal.form !== 'stud' && terminal.form !== 'screw') return false;
        const majorMm = this.#majorOf(terminal);
        return majorMm === undefined || isRingGap(end!.holeMm - majorMm);
      }
      case 'receptacle': return terminal.form === 'tab' && (terminal.tabWidthMm === undefined || Math.abs(terminal.tabWidthMm - end!.tabWidthMm) <= settingOf('tabWidthMm') + 1e-9);
      case 'bare': return terminal.form === 'lead' || terminal.form === 'pin' || terminal.form === 'screw';
      default: throw new Error(`wire end ${String(end satisfies never)} is not known`);
    }
  }

  #majorOf({ thread }: Terminal): number | undefined {
    if (thread === undefined) return undefined;
    if (!this.#majors.has(thread)) this.#majors.set(thread, threadOf({ thread })?.majorMm);
    return this.#majors.get(thread);
  }
}

/**
 * A jumper that every wiring of a form needs. One coil, neither of whose ends is a contact's: its current comes back through a wire of the
 * record, the case, or a jumper. Battery and starter sit on a contact, tap with the battery; start switch is the feed. So where no wire leads back
 * and the coil does not end in a case that may reach battery minus by itself, a jumper does.
 */
export function leastJumpers({ wires = [], mounting: machine }: BenchRecord, part: Part): LeastWork {
  const leadsBack = wires.some(({ leadsTo }) => leadsTo === 'chassis' || leadsTo === 'interlocked-return' || leadsTo === 'cranking-feed');
  const coil = part.circuit.find((element) => element.kind === 'coil');
  if (leadsBack || !coil || !isOneCoilAlone(part)) return NOTHING;
  const onContact = part.circuit.some((element) => element.kind === 'contact' && element.between.some((node) => coil.between.includes(node)));
  const throughCase = coil.between.includes('case') && part.mounting?.conductive !== false && machine?.panelGrounded !== false;
  return onContact || throughCase ? NOTHING : { minutes: settingOf('jumperMinutes'), kit: [{ item: 'jumper lead', qty: 1, detail: '' }] };
}
