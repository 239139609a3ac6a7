import type { BenchRecord, Part } from '../../../catalog-schema/index.ts';
import { createRewirer, type FirstPlan, type Rewirer, type RewireOptions } from '../rewire/index.ts';
import { factsOf } from './part-facts.ts';

/** The wire that a starter with its own solenoid keeps inside. */
const INNER_WIRE = 'motor inside';

/**
 * Wires parts on a machine. A starter that carries its solenoid has no starter wire to hang: the motor sits behind the contact, inside.
 * For the search it becomes the load that the other relays feed by a wire, on the inner joint where it is; nothing else may go there.
 */
export class PartWirer {
  readonly #record: BenchRecord;
  readonly #options: RewireOptions;
  readonly #outside: Rewirer;
  readonly #inside = new Map<string, Rewirer>();

  constructor(record: BenchRecord, options: RewireOptions) {
    this.#record = record;
    this.#options = options;
    this.#outside = createRewirer(record, options);
  }

  /** null where the record has no wire */
  findFirstPlan(part: Part): FirstPlan | null {
    const wires = this.#record.wires ?? [];
    if (wires.length === 0) return null;
    const joint = wires.some(({ leadsTo }) => leadsTo === 'starter') ? undefined : findMotorJoint(part);
    return joint === undefined ? this.#outside.findFirstPlan(part) : hideInnerWire(this.#rewirerFor(joint).findFirstPlan(openUp(part, joint)), joint);
  }

  #rewirerFor(joint: string): Rewirer {
    let rewirer = this.#inside.get(joint);
    if (!rewirer) {
      const wires = [...(this.#record.wires ?? []), { tag: INNER_WIRE, wasOn: joint, leadsTo: 'starter' as const }];
      this.#inside.set(joint, rewirer = createRewirer({ ...this.#record, wires }, this.#options));
    }
    return rewirer;
  }
}

/** Where the motor of a starter meets the contact of its solenoid; undefined for a part that is not both. */
function findMotorJoint(part: Part): string | undefined {
  const { heavy } = factsOf(part);
  if (part.partClass !== 'starter-motor' || !heavy) return undefined;
  return part.circuit.flatMap((element) => (element.kind === 'motor' ? element.between : [])).find((node) => node !== 'case' && heavy.between.includes(node));
}

/** The same part with its motor taken out and the joint behind it within reach. */
function openUp(part: Part, joint: string): Part {
  const reachable = part.terminals.some(({ id }) => id === joint);
  return {
    ...part,
    terminals: reachable ? part.terminals : [...part.terminals, { id: joint, form: 'pin' }],
    inside: (part.inside ?? []).filter((node) => node !== joint),
    circuit: part.circuit.filter(({ kind }) => kind !== 'motor'),
  };
}

/** The answer as seen from outside; a plan that needs the inside of the starter is none. */
function hideInnerWire(first: FirstPlan, joint: string): FirstPlan {
  const { plan } = first;
  if (!plan) return first;
  const inner = plan.wires.find(({ tag }) => tag === INNER_WIRE);
  const reachesIn = plan.wires.some(({ tag, to }) => tag !== INNER_WIRE && to === joint) || plan.jumpers.some(({ from, to }) => from === joint || to === joint);
  if (inner?.to !== joint || reachesIn) return { ...first, plan: null, complete: false };
  return {
    ...first,
    plan: { ...plan, wires: plan.wires.filter((wire) => wire !== inner), bareTerminals: plan.bareTerminals.filter((id) => id !== joint) },
  };
}
