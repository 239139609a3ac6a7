import type { BenchRecord, JobDocument, Plan } from '../../../catalog-schema/index.ts';
import type { AsLeftBasis } from './basis.ts';

type Chosen = NonNullable<JobDocument['chosen']>;

/** Where the wires go by a plan, jumpers and wires left off: what makes two plans the same wiring. */
export function writeWiring(plan: Pick<Plan, 'wires' | 'jumpers' | 'leftOff'> | null): string {
  if (plan === null) return '';
  const wires = plan.wires.map((wire) => [wire.tag, wire.from, wire.to]).toSorted((a, b) => (a[0]! < b[0]! ? -1 : 1));
  return JSON.stringify([wires, plan.jumpers.map((jumper) => [jumper.from, jumper.to]), plan.leftOff]);
}

/** A plan speaks of exactly the wires that are recorded, each from the terminal it was on. */
export function coversWires(plan: Plan, record: BenchRecord): boolean {
  const wires = record.wires ?? [];
  if (plan.wires.length + plan.leftOff.length !== wires.length) return false;
  return wires.every((wire) => plan.leftOff.includes(wire.tag)
    || plan.wires.some((placed) => placed.tag === wire.tag && placed.from === wire.wasOn));
}

/** The right plan that the chosen one is, as the engine finds it now; undefined where it is none of them, null where neither has one. */
export function findChosenPlan(chosen: Chosen, basis: AsLeftBasis): Plan | null | undefined {
  if (chosen.plan === null) return basis.plan === null ? null : undefined;
  const wiring = writeWiring(chosen.plan);
  return basis.plans.find((plan) => writeWiring(plan) === wiring);
}

/**
 * Was the part chosen for another state of the record? Its plan then speaks of other wires, or is no longer one of the right plans
 * (`basis`, where the engine has answered), and nobody may wire by it.
 */
export function isChoiceStale(chosen: Chosen, record: BenchRecord, basis: AsLeftBasis | undefined): boolean {
  if (chosen.plan !== null && !coversWires(chosen.plan, record)) return true;
  return basis !== undefined && basis.partId === chosen.partId && findChosenPlan(chosen, basis) === undefined;
}
