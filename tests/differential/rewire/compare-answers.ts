import type { Plan, RewireAnswer, SwitchState } from '../../../catalog-schema/index.ts';
import type { PlainAnswer, PlainPlan } from './plain-rewire.ts';

// What must be equal between an answer of the engine and the plain search. The engine gives at most 20 plans.

const MOST_PLANS = 20;

/** One line a difference; none when the two agree. */
export function compareAnswers(answer: RewireAnswer, plain: PlainAnswer): string[] {
  const differences: string[] = [];
  if (!answer.complete) differences.push('complete: found false, want true for so small a case');
  const found = answer.plans.map(writePlan);
  const wanted = plain.plans.slice(0, MOST_PLANS).map((plan) => plan.text);
  if (found.length !== wanted.length) differences.push(`plans: found ${found.length}, want ${wanted.length}`);
  if ((answer.plans[0]?.changes ?? null) !== (plain.plans[0]?.changes ?? null)) {
    differences.push(`fewest changes: found ${answer.plans[0]?.changes}, want ${plain.plans[0]?.changes}`);
  }
  for (const text of found) if (!plain.plans.some((plan) => plan.text === text)) differences.push(`plan that is not right: ${text}`);
  for (const text of wanted) if (!found.includes(text)) differences.push(`plan not found: ${text}`);
  if (differences.length === 0 && found.join() !== wanted.join()) {
    differences.push(`order of plans: found ${found.join(' ')}, want ${wanted.join(' ')}`);
  }
  answer.plans.forEach((plan) => {
    const twin = plain.plans.find((one) => one.text === writePlan(plan));
    if (twin) differences.push(...comparePlan(plan, twin));
  });
  return [...differences, ...compareRefusals(answer, plain)];
}

/** The plan as the text that orders equal plans: wires by tag, jumpers, wires left off. */
function writePlan(plan: Plan): string {
  const hung = [...plan.wires].sort(byTag).map((wire) => `${wire.tag}>${wire.to}`);
  return JSON.stringify([hung, plan.jumpers, [...plan.leftOff].sort()]);
}

function byTag(a: { tag: string }, b: { tag: string }): number {
  return a.tag < b.tag ? -1 : 1;
}

function comparePlan(plan: Plan, twin: PlainPlan): string[] {
  const differences: string[] = [];
  const same = (what: string, found: unknown, want: unknown) => {
    const [left, right] = [JSON.stringify(found), JSON.stringify(want)];
    if (left !== right) differences.push(`${what} of ${twin.text}: found ${left}, want ${right}`);
  };
  const pick = (wires: Plan['wires']) => [...wires].sort(byTag).map(({ tag, from, to, moved, newEnd }) => ({ tag, from, to, moved, newEnd }));
  same('wires', pick(plan.wires), pick(twin.wires));
  same('bareTerminals', plan.bareTerminals, twin.bareTerminals);
  same('changes', plan.changes, twin.changes);
  if (!twin.statesByWay.some((states) => areStatesEqual(plan.states, states))) same('states', plan.states, twin.statesByWay);
  return differences;
}

/** Switches and plungers exactly; the current to one part in 10,000 or a microampere. */
function areStatesEqual(found: readonly SwitchState[], want: readonly SwitchState[]): boolean {
  return found.length === want.length && found.every((state, index) => {
    const other = want[index]!;
    return (['startSwitch', 'interlocks', 'engineRuns', 'pulledIn', 'starterLive'] as const).every((key) => state[key] === other[key])
      && Math.abs(state.controlA - other.controlA) <= Math.max(1e-6, 1e-4 * Math.abs(other.controlA));
  });
}

function compareRefusals(answer: RewireAnswer, plain: PlainAnswer): string[] {
  const found = [...new Set(answer.refusals.map((refusal) => refusal.code))].sort();
  const wanted = plain.obviousCodes;
  if (plain.plans.length > 0 || plain.obvious === 'untraced') {
    return found.join() === wanted.join() ? [] : [`refusals of the obvious plan: found [${found}], want [${wanted}]`];
  }
  const differences: string[] = [];
  if (found.length === 0) differences.push('neither a plan nor a refusal');
  const missing = wanted.filter((code) => !found.includes(code));
  if (missing.length > 0) differences.push(`refusals of the obvious plan: found [${found}], want [${wanted}] among them`);
  const saysPlace = found.includes('no-terminal');
  if (saysPlace !== (plain.samePlaceMissing || wanted.includes('no-terminal'))) {
    differences.push(`no-terminal: found ${saysPlace}, want ${!saysPlace}`);
  }
  return differences;
}
