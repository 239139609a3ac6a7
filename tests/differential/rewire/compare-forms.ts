import { createRewirer, formKeyOf, WiringMemory, type FirstPlan, type RewireOptions, type Rewirer, type WiringOutline } from '../../../api/engine/rewire/index.ts';
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
    checkPossible(byForm, part, want, differ);
    if (isRefusal(want)) refused++;
    if (byForm.listPossible(part)?.length === 0) refusedByForm++;
  }
  return { differences, parts: parts.length, refused, forms: codes.size, refusedByForm };
}

/** The plan is among those that are possible for the form; where none is possible, there is none. */
function checkPossible(rewirer: Rewirer, part: Part, { plan }: FirstPlan, differ: (what: string, found: unknown, expected: unknown) => void): void {
  const possible = rewirer.listPossible(part);
  if (possible === undefined || plan === null) return;
  const { states: _, ...outline } = plan;
  differ('place among the possible plans', possible.some((each) => JSON.stringify(each) === JSON.stringify(outline)), true);
}

function isRefusal({ plan, judged, complete }: FirstPlan): boolean {
  return plan === null && judged && complete;
}

/** All of a first plan but its words and what the switches do. */
function outlineOf({ plan, rightBothWays, leansOn, hangsOnControlOhm, complete, judged, interlock, polarity }: WiringOutline): unknown {
  const { wires, leftOff, jumpers, bareTerminals, changes } = plan ?? {};
  return [plan && { wires, leftOff, jumpers, bareTerminals, changes }, rightBothWays, leansOn, hangsOnControlOhm, complete, judged, interlock.outcome, polarity?.outcome];
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
