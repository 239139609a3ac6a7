import type { Part } from '../../../catalog-schema/index.ts';
import { judgeFinding } from './evaluate-part.ts';
import { kitPriceOf } from './expected-cost.ts';
import { UNHEARD, type Finding, type Judged } from './finding.ts';
import type { FitMachine } from './machine.ts';
import { NO_WORK, PlanWork, type LeastWork } from './plan-work.ts';
import { checkStud } from './stud.ts';
import { checkTab } from './tab.ts';
import { checkInterlock, checkPolarity, checkWiring } from './wiring.ts';
import { factsOf } from '../part-facts.ts';
import type { WiringOutline } from '../rewire/index.ts';
import type { Snapshot } from '../snapshot/index.ts';

/** What follows from the wiring of parts that are alike in it. */
export interface Wired {
  readonly findings: readonly Judged[];
}

/**
 * Wiring, interlock, polarity, studs and tabs of a catalogue's parts on one machine, each found once for all parts that are alike in it: what a
 * plan asks for hangs on the plan and the terminals it goes to, and which plans there may be hangs on the form of the circuit.
 */
export class WiringProspects {
  readonly #machine: FitMachine;
  readonly #snapshot: Snapshot;
  readonly #isTraced: boolean;
  readonly #work: PlanWork;
  /** by form and terminals; null where no wiring of that form does */
  readonly #least = new Map<number, LeastWork | null>();
  /** by list of terminals */
  readonly #ends = new Map<number, LeastWork>();
  /** by circuit and terminals */
  readonly #wired = new Map<number, Wired | null>();
  /** by what the numbers chose among the plans of a form, then by terminals */
  readonly #byOutline = new Map<WiringOutline, Map<number, Wired | null>>();

  /** @param isTraced every wire is traced, so that a part has a wiring or is refused */
  constructor(machine: FitMachine, snapshot: Snapshot, isTraced: boolean) {
    this.#machine = machine;
    this.#snapshot = snapshot;
    this.#isTraced = isTraced;
    const { cost } = machine;
    this.#work = new PlanWork(machine.record, (cost?.rates.labourPerHour ?? 0) / 60, (item) => (cost ? kitPriceOf(cost, item) : 0));
  }

  /** The least work of any circuit on a row's terminals: a tenth of the cost of `leastOf`. */
  leastOnTerminals(row: number): LeastWork {
    if (!this.#isTraced) return NO_WORK;
    const terminals = this.#snapshot.terminals[row]!;
    let least = this.#ends.get(terminals);
    if (least === undefined) this.#ends.set(terminals, least = this.#work.leastOnTerminals(this.#machine.rewirer, this.#snapshot.terminalsAt(row)));
    return least;
  }

  leastOf(row: number): LeastWork | null {
    if (!this.#isTraced) return NO_WORK;
    const form = this.#formOf(row);
    let least = this.#least.get(form);
    if (least === undefined) this.#least.set(form, least = this.#findLeast(row));
    return least;
  }

  /** What follows from the wiring of a row; null where it fails. */
  wire(row: number): Wired | null {
    const { circuits, terminals, terminalLists } = this.#snapshot;
    const alike = circuits[row]! * terminalLists + terminals[row]!;
    let known = this.#wired.get(alike);
    if (known === undefined) this.#wired.set(alike, known = this.#findWired(row));
    return known;
  }

  /** The form on the row's terminals. */
  #formOf(row: number): number {
    const { forms, terminals, terminalLists } = this.#snapshot;
    return forms[row]! * terminalLists + terminals[row]!;
  }

  #findLeast(row: number): LeastWork | null {
    return this.#work.leastOf(this.#machine.rewirer, this.#snapshot.outerAt(row), this.#snapshot.forms[row]!);
  }

  #findWired(row: number): Wired | null {
    const { record, starter, rewirer } = this.#machine;
    const part = this.#snapshot.outerAt(row);
    const { coils, hasDiode } = factsOf(part);
    const isWired = !starter || (coils.length > 0 && part.partClass === 'starter-motor');
    if (!isWired || (record.wires ?? []).length === 0) return this.#follow(part, null, isWired, hasDiode);
    const outline = rewirer.outline(part, this.#snapshot.forms[row]!);
    if (!outline) return null;
    let byTerminals = this.#byOutline.get(outline);
    if (!byTerminals) this.#byOutline.set(outline, byTerminals = new Map());
    const terminals = this.#snapshot.terminals[row]!;
    let known = byTerminals.get(terminals);
    if (known === undefined) byTerminals.set(terminals, known = this.#follow(part, outline, isWired, hasDiode));
    return known;
  }

  /** None of these findings is counted over a class: they follow from the wiring. */
  #follow(part: Part, outline: WiringOutline | null, isWired: boolean, hasDiode: boolean): Wired | null {
    const { record } = this.#machine;
    const found: (Finding | null)[] = [];
    if (isWired) found.push(checkWiring(record, part, outline), checkInterlock(record, outline), hasDiode ? checkPolarity(record, outline) : null);
    if (found.some((finding) => finding?.outcome === 'fail')) return null;
    const plan = outline?.plan ?? null;
    found.push(checkStud(record, part, plan, UNHEARD), checkTab(record, part, plan, UNHEARD));
    if (found.some((finding) => finding?.outcome === 'fail')) return null;
    return { findings: found.flatMap((finding) => (finding ? [judgeFinding(this.#machine, part, finding, neverAsked, UNHEARD)] : [])) };
  }
}

function neverAsked(): never {
  throw new Error('what follows from the wiring is not counted over a class');
}
