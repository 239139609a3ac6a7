import { createRewirer, formKeyOf, type FirstPlan, type RewireOptions, type StepCosts, type WiringMemory, type WiringOutline } from '../../../api/engine/rewire/index.ts';
import type { BenchRecord, CircuitElement, Part } from '../../../catalog-schema/index.ts';
import { createRandom, generateCase } from './case-generator.ts';
import { drawNearTwins } from './near-twins.ts';

export interface FormComparison {
  /** one line a difference between what a form told and what a search of the part by itself found */
  readonly differences: string[];
  readonly parts: number;
  readonly refused: number;
  /** distinct forms among them */
  readonly forms: number;
  /** parts whose form alone refuses them */
  readonly refusedByForm: number;
}

const TWINS = 6;
const OTHERS = 3;
const OPTIONS: RewireOptions = {
  findCoilOhm: (part, coil) => ({ ohm: (part.partClass === 'contactor' ? 12 : 4) * (coil.nominalV / 12) ** 2, source: `median of ${part.partClass}` }),
};

/**
 * One machine asked about a small catalogue: near twins, the same with other numbers, and strangers. What a rewirer finds by their forms against a
 * search of each part by itself.
 * @param memory of other machines, now and then
 */
export function compareForms(seed: number, memory?: WiringMemory): FormComparison {
  const random = createRandom(seed ^ 0x2545f491);
  const { record } = generateCase(seed);
  const asked = widen(record, random);
  const parts = [...drawNearTwins(seed, TWINS), ...Array.from({ length: OTHERS }, (_, at) => ({ ...generateCase(seed * 31 + at).part, id: `other-${at}` }))]
    .flatMap((part) => [part, changeNumbers(part, random)]);
  const byForm = createRewirer(asked, { ...OPTIONS, ...(memory ? { memory } : {}) });
  const codes = new Map<string, number>();
  const differences: string[] = [];
  let refused = 0;
  let refusedByForm = 0;
  for (const part of parts) {
    const key = formKeyOf(part);
    const code = codes.get(key) ?? codes.set(key, codes.size).size - 1;
    const alone = createRewirer(asked, { ...OPTIONS, separately: true });
    const want = alone.findFirstPlan(part);
    const differ = (what: string, found: unknown, expected: unknown): void => {
      if (JSON.stringify(found) !== JSON.stringify(expected)) differences.push(`${what} of ${part.id}: found ${JSON.stringify(found)}, want ${JSON.stringify(expected)}`);
    };
    const outline = byForm.outline(part, memory ? undefined : code);
    differ('outline', outline && outlineOf(outline), isRefusal(want) ? null : outlineOf(want));
    differ('isRefused', byForm.isRefused(part), isRefusal(want));
    differ('first plan', byForm.findFirstPlan(part), want);
    const least = byForm.leastWork(part, undefined, COUNTS, needsLug);
    checkLeast(least, want, part, differ);
    if (isRefusal(want)) refused++;
    if (least === null) refusedByForm++;
  }
  return { differences, parts: parts.length, refused, forms: codes.size, refusedByForm };
}

/** Some ways to count the steps of a plan: each alone, and all together. */
const STEPS = ['move', 'newEnd', 'jumper', 'leaveOff', 'lug'] as const;
const COUNTS: readonly StepCosts[] = [...STEPS.map((counted) => weigh((step) => (step === counted ? 1 : 0))), weigh((step) => 1 + STEPS.indexOf(step))];

function weigh(of: (step: (typeof STEPS)[number]) => number): StepCosts {
  return { move: of('move'), newEnd: of('newEnd'), jumper: of('jumper'), leaveOff: of('leaveOff'), lug: of('lug') };
}

/** Any rule will do: wires with an even letter in their tag want another end on studs of an even place in the alphabet. */
function needsLug(tag: string, { id, form }: Part['terminals'][number]): boolean {
  return form === 'stud' && tag.charCodeAt(tag.length - 1) % 2 === 0 && id.charCodeAt(0) % 2 === 0;
}

/** What is said to be the least is not above what the plan found comes to; where a form is refused whatever the numbers, there is no plan. */
function checkLeast(
  least: readonly number[] | null | undefined, { plan }: FirstPlan, part: Part, differ: (what: string, found: unknown, expected: unknown) => void,
): void {
  if (plan === null || least === undefined) return;
  const count = (is: boolean): number => (is ? 1 : 0);
  const terminals = new Map(part.terminals.map((terminal) => [terminal.id, terminal]));
  const sums = { move: 0, newEnd: 0, jumper: plan.jumpers.length, leaveOff: plan.leftOff.length, lug: 0 };
  for (const { tag, to, moved, newEnd } of plan.wires) {
    const terminal = terminals.get(to);
    sums.move += count(moved);
    sums.newEnd += count(newEnd);
    sums.lug += count(terminal !== undefined && needsLug(tag, terminal));
  }
  const found = COUNTS.map((costs) => STEPS.reduce((sum, step) => sum + costs[step] * sums[step], 0));
  differ('least work', least !== null && least.every((each, which) => each <= found[which]!), true);
}

function isRefusal({ plan, judged, complete }: FirstPlan): boolean {
  return plan === null && judged && complete;
}

/** All of a first plan but its words and what the switches do. */
function outlineOf({ plan, rightBothWays, leansOn, hangsOnControlOhm, onlyAtControlOhm, complete, judged, interlock, polarity }: WiringOutline): unknown {
  const { wires, leftOff, jumpers, bareTerminals, changes } = plan ?? {};
  return [plan && { wires, leftOff, jumpers, bareTerminals, changes }, rightBothWays, leansOn, hangsOnControlOhm, onlyAtControlOhm, complete, judged, interlock.outcome, polarity?.outcome];
}

/** Now and then what hangs on numbers of the machine: a weak start circuit, one known by an interval, a small fuse, a panel that is not known. */
function widen(record: BenchRecord, random: () => number): BenchRecord {
  const demand = {
    ...record.demand,
    ...(random() < 0.3 ? { controlOhm: random() < 0.5 ? 0.5 * random() : { value: 0.3 * random() + 0.05, plusMinus: 0.2 * random() + 0.01 } } : {}),
    ...(random() < 0.2 ? { controlFuseA: 1 + Math.round(10 * random()) } : {}),
  };
  if (random() > 0.3 || record.mounting === undefined) return { ...record, demand };
  const { panelGrounded: _, ...mounting } = record.mounting;
  return { ...record, demand, mounting };
}

/** The same form with other ohms, volts and ratings: some that still work, some that hardly do. */
function changeNumbers(part: Part, random: () => number): Part {
  const scale = (): number => 10 ** (1.6 * (random() - 0.5));
  return {
    ...part, id: `${part.id}, other numbers`,
    circuit: part.circuit.map((element): CircuitElement => {
      switch (element.kind) {
        case 'coil': {
          const pullInV = random() < 0.6 ? Number((element.nominalV * (0.3 + 0.75 * random())).toPrecision(3)) : undefined;
          const dropOutV = pullInV !== undefined && random() < 0.8 ? Number((pullInV * random()).toPrecision(3)) : undefined;
          const { pullInV: _in, dropOutV: _out, ...rest } = element;
          return {
            ...rest, ...(pullInV === undefined ? {} : { pullInV }), ...(dropOutV === undefined ? {} : { dropOutV }),
            ...(element.ohmAt20C === undefined ? {} : { ohmAt20C: Number((element.ohmAt20C * scale()).toPrecision(3)) }),
          };
        }
        case 'resistor': return { ...element, ohm: Number((element.ohm * scale()).toPrecision(3)) };
        case 'motor': return element.ohm === undefined ? element : { ...element, ohm: element.ohm * scale() };
        case 'contact': case 'diode': return element;
      }
    }),
  };
}
