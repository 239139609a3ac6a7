import type { BenchRecord, CoilElement, Part, PartClass } from '../../../catalog-schema/index.ts';
import { factsOf, type PartFacts } from '../part-facts.ts';
import { wiringFormOf } from '../rewire/index.ts';
import { bitOf, type ColumnGate, type Fate, type Gates, type ProfileGate, type SealingGate, type Unsaid } from '../retrieve/index.ts';
import { firstCodeWhere, type Column, type Snapshot } from '../snapshot/index.ts';
import { checkCoilCurrent } from './coil-current.ts';
import { checkCoilDuty } from './coil-duty.ts';
import { checkCoilVoltage } from './coil-voltage.ts';
import { checkContactForm } from './contact-form.ts';
import { checkContactContinuous, checkContactInrush } from './contact-rating.ts';
import { judgeFinding, multiplyIndependent } from './evaluate-part.ts';
import { UNHEARD, type Finding, type Judged, type Notes } from './finding.ts';
import type { FitMachine } from './machine.ts';
import { checkMounting } from './mounting.ts';
import { checkPullIn } from './pull-in.ts';
import { checkNose, checkPinion, checkPower, checkRotation, checkStarterVoltage, refuseOtherThanStarter } from './starter-checks.ts';
import { checkAmbient, checkSealing, checkSpace } from './surroundings.ts';
import { checkInterlock, checkWiring } from './wiring.ts';

// A record's demands as numbers, taken by asking the checks themselves: once at the best a column can hold, once for a part that does not
// say, and along its distinct numbers by halving. So a demand is known here exactly as the check has it, whatever the check computes.
//
// Why a part that is out here fails its check, and why no probability here is too low:
// - Each check asked here hangs on the record, the part's class and the column asked for, and gets better, or stays, as the column does
//   (`ASKS` says in which direction; equal numbers fare best for module and nose). So where it fails at a number, it fails beyond it.
// - A column shows a part at least as good as its check finds it (`index-columns.ts`), and the example asked about is best in all else.
// - Checks that hang on more are left out here, or asked at their best: a check left out can only make a part worse.
// - A probability is the product over findings, those that hang on one unknown counted once by the least; over some of the findings,
//   each at its best, it is not lower than over all.

type Check = (part: Part, notes: Notes) => Finding | null;

/** A part that is at its best everywhere; what a check is asked about is changed in it. */
interface Example {
  readonly coil?: Partial<CoilElement>;
  readonly contact?: { readonly inrushA?: number | undefined; readonly continuousA?: number | undefined };
  readonly rest?: Partial<Part>;
}

interface Ask {
  readonly column: Column;
  /** 'least': more is better; 'most': less is better; 'near': best near a number of the record */
  readonly direction: 'least' | 'most' | 'near';
  readonly check: (machine: FitMachine) => Check;
  readonly example: (value: number) => Example;
  /** the number that fares best, where it is not simply much or little */
  readonly bestAt?: (record: BenchRecord) => number | undefined;
}

interface AskUnsaid {
  readonly unsaid: Unsaid;
  readonly check: (machine: FitMachine) => Check;
  readonly example: Example;
}

const MUCH = 1e12;
const LITTLE = 1e-12;
const coilCheck = (check: (record: BenchRecord, part: Part, facts: ReturnType<typeof factsOf>, notes: Notes) => Finding | null) =>
  ({ record }: FitMachine): Check => (part, notes) => check(record, part, factsOf(part), notes);
const partCheck = (check: (record: BenchRecord, part: Part, notes: Notes) => Finding | null) => ({ record }: FitMachine): Check => (part, notes) => check(record, part, notes);
const body = (lengthMm: number, widthMm: number, heightMm: number): Example => ({ rest: { body: { lengthMm, widthMm, heightMm } } });
const duty = (value: number): Example => ({
  coil: { duty: value === Number.POSITIVE_INFINITY ? { type: 'continuous' } : value === -1 ? { type: 'intermittent' } : { type: 'intermittent', maxOnS: value } },
});

const RELAY_ASKS: readonly Ask[] = [
  { column: 'dutyS', direction: 'least', bestAt: () => Number.POSITIVE_INFINITY, check: coilCheck(checkCoilDuty), example: duty },
  { column: 'holdOhm', direction: 'least', check: coilCheck(checkCoilCurrent), example: (ohmAt20C) => ({ coil: { ohmAt20C } }) },
  { column: 'pullInV', direction: 'most', check: coilCheck(checkPullIn), example: (pullInV) => ({ coil: { pullInV } }) },
  { column: 'inrushA', direction: 'least', check: coilCheck(checkContactInrush), example: (inrushA) => ({ contact: { inrushA, continuousA: MUCH } }) },
  { column: 'continuousA', direction: 'least', check: coilCheck(checkContactContinuous), example: (continuousA) => ({ contact: { inrushA: MUCH, continuousA } }) },
];
const STARTER_ASKS: readonly Ask[] = [
  {
    column: 'pinionModuleMm', direction: 'near', check: partCheck(checkPinion), bestAt: ({ starter }) => starter?.pinionModuleMm,
    example: (pinionModuleMm) => ({ rest: { starter: { pinionModuleMm } } }),
  },
  { column: 'powerKw', direction: 'least', check: partCheck(checkPower), example: (powerKw) => ({ rest: { starter: { powerKw } } }) },
  { column: 'noseMm', direction: 'near', check: partCheck(checkNose), bestAt: ({ starter }) => starter?.noseMm, example: (noseMm) => ({ rest: { starter: { noseMm } } }) },
];
const SURROUNDING_ASKS: readonly Ask[] = [
  { column: 'ambientMinC', direction: 'most', bestAt: () => -MUCH, check: partCheck(checkAmbient), example: (min) => ({ rest: { ambientC: { min, max: MUCH } } }) },
  { column: 'ambientMaxC', direction: 'least', check: partCheck(checkAmbient), example: (max) => ({ rest: { ambientC: { min: -MUCH, max } } }) },
  { column: 'bodyLongMm', direction: 'most', check: partCheck(checkSpace), example: (value) => body(value, LITTLE, LITTLE) },
  // The shorter side of a square is as long as its longer one.
  { column: 'bodyShortMm', direction: 'most', check: partCheck(checkSpace), example: (value) => body(value, value, LITTLE) },
  { column: 'bodyHighMm', direction: 'most', check: partCheck(checkSpace), example: (value) => body(LITTLE, LITTLE, value) },
];

const mountingCheck = (machine: FitMachine): Check => (part, notes) => checkMounting(machine.record, part, machine.placements, notes).finding;
const RELAY_UNSAID: readonly AskUnsaid[] = [
  { unsaid: 'dutyS', check: coilCheck(checkCoilDuty), example: { coil: { duty: undefined } } },
  { unsaid: 'dutyTime', check: coilCheck(checkCoilDuty), example: duty(-1) },
  { unsaid: 'holdOhm', check: coilCheck(checkCoilCurrent), example: { coil: { ohmAt20C: undefined } } },
  { unsaid: 'holdOhm', check: coilCheck(checkPullIn), example: { coil: { ohmAt20C: undefined } } },
  { unsaid: 'inrushA', check: coilCheck(checkContactInrush), example: { contact: { continuousA: MUCH } } },
  { unsaid: 'continuousA', check: coilCheck(checkContactContinuous), example: { contact: { inrushA: MUCH } } },
];
const STARTER_UNSAID: readonly AskUnsaid[] = [
  { unsaid: 'pinionModuleMm', check: partCheck(checkPinion), example: { rest: { starter: {} } } },
  { unsaid: 'powerKw', check: partCheck(checkPower), example: { rest: { starter: {} } } },
  { unsaid: 'noseMm', check: partCheck(checkNose), example: { rest: { starter: {} } } },
];
const SURROUNDING_UNSAID: readonly AskUnsaid[] = [
  { unsaid: 'ambientC', check: partCheck(checkAmbient), example: { rest: { ambientC: undefined } } },
  { unsaid: 'body', check: partCheck(checkSpace), example: { rest: { body: undefined } } },
  { unsaid: 'sealing', check: partCheck(checkSealing), example: { rest: { sealing: undefined } } },
  { unsaid: 'mounting', check: mountingCheck, example: { rest: { mounting: undefined } } },
];

/** The gates of a record, and what a part in doubt at one of them is judged by. */
export interface FitGates extends Gates {
  /** every wire is traced, so that a part without a wiring is refused, or its search was cut off */
  readonly isTraced: boolean;
  /** the findings that every part of a profile has in common, and those of what a slot's mask leaves unsaid */
  findingsOf(profile: ProfileGate, mask: number): readonly Judged[];
  /** the findings at the gates in whose doubtful stretch a part lies, at its own numbers; `doubtful` as of the slot judge */
  findingsAt(profile: ProfileGate, row: number, doubtful: number): readonly Judged[];
}

/** Asks the checks what they demand. Some milliseconds, mostly for how often a class holds what a part leaves unsaid: that is only counted where asked for. */
export function gatesOf(machine: FitMachine, snapshot: Snapshot): FitGates {
  const { record, starter } = machine;
  const asks = [...(starter ? STARTER_ASKS : RELAY_ASKS), ...SURROUNDING_ASKS];
  const sample: PartClass = starter ? 'starter-motor' : record.partClass ?? 'start-relay';
  const gated = asks.flatMap((ask) => {
    const gate = gateOf(machine, snapshot, ask, sample);
    return gate ? [{ ask, gate }] : [];
  });
  const sealing = sealingGate(machine, snapshot, sample);
  const classes = new Map<PartClass, ClassGate>();
  const untraced = starter ? [] : findUntraced(machine, sample);

  const common = new Map<number, readonly Judged[]>();
  const classOf = new Map<number, ClassGate>();
  const profiles = snapshot.profiles.flatMap((_, profile): ProfileGate[] => {
    const { part: example, facts } = snapshot.exampleOf(profile);
    if (isForOtherVoltage(machine, example, facts)) return [];
    const findings = judgeProfile(machine, example);
    if (!findings) return [];
    let ofClass = classes.get(example.partClass);
    if (!ofClass) classes.set(example.partClass, ofClass = createClassGate(machine, example.partClass, asks));
    if (ofClass.isOut) return [];
    const all = [...findings, ...ofClass.findings, ...untraced];
    common.set(profile, all);
    classOf.set(profile, ofClass);
    return [{
      profile, doubt: all.some(({ outcome }) => outcome === 'unknown'), outMask: ofClass.outMask,
      doubtMask: ofClass.doubtMask, chanceOf: (mask) => multiplyIndependent(keepBest([...all, ...ofClass!.findingsOf(mask)])),
    }];
  });
  return {
    columns: gated.map(({ gate }) => gate), sealing, profiles, isTraced: !starter && untraced.length === 0,
    findingsOf: ({ profile }, mask) => keepBest([...common.get(profile)!, ...classOf.get(profile)!.findingsOf(mask)]),
    findingsAt: ({ profile }, row, doubtful) => {
      const { partClass } = classOf.get(profile)!;
      const found = gated.flatMap(({ ask, gate }, at) => {
        if (((doubtful >>> at) & 1) === 0) return [];
        const { codes, values } = snapshot.column(gate.column);
        return askCheck(machine, ask.check(machine), exampleOf(partClass, record, ask.example(values[codes[row]! - 1]!))) ?? [];
      });
      const code = sealing && ((doubtful >>> gated.length) & 1) === 1 ? snapshot.sealingCodes[snapshot.sealing[row]!]! : undefined;
      return code === undefined ? found : [...found, ...[askCheck(machine, (part) => checkSealing(record, part), exampleOf(partClass, record, { rest: { sealing: code } }))].flatMap((each) => each ?? [])];
    },
  };
}

/** One finding a criterion, as a part has: where several reasons for a doubt were asked for, the one that leaves it the best chance. */
function keepBest(findings: readonly Judged[]): Judged[] {
  const best = new Map<string, Judged>();
  for (const finding of findings) {
    const there = best.get(finding.criterion);
    if (!there || finding.probability > there.probability) best.set(finding.criterion, finding);
  }
  return [...best.values()];
}

/** What the parts of one class share. */
interface ClassGate {
  readonly partClass: PartClass;
  /** a check fails even the best part of the class */
  readonly isOut: boolean;
  /** of the best part: doubts that no number takes away */
  readonly findings: readonly Judged[];
  readonly outMask: number;
  readonly doubtMask: number;
  findingsOf(mask: number): readonly Judged[];
}

function createClassGate(machine: FitMachine, partClass: PartClass, asks: readonly Ask[]): ClassGate {
  const { record, starter } = machine;
  const best = asks.flatMap((ask) => {
    const found = plainAsk(ask.check(machine), exampleOf(partClass, record, ask.example(bestOf(ask, record))));
    return found ? [found] : [];
  });
  const inDoubt = best.filter(({ finding }) => finding.outcome === 'unknown');
  // One finding a criterion: two columns of one check have one answer.
  const findings = [...new Map(inDoubt.map((each) => [each.finding.criterion, each])).values()];
  const unsaid = [...(starter ? STARTER_UNSAID : RELAY_UNSAID), ...SURROUNDING_UNSAID].flatMap((ask) => {
    const found = plainAsk(ask.check(machine), exampleOf(partClass, record, ask.example));
    return found ? [{ bit: bitOf(ask.unsaid), found }] : [];
  });
  const withoutMounting = record.mounting === undefined ? unsaid.filter(({ bit }) => bit === bitOf('mounting')).map(({ found }) => found) : [];
  const common = [...findings, ...withoutMounting];
  const commonCriteria = new Set(common.map(({ finding }) => finding.criterion));
  // What is in doubt for every part of the class is in doubt once.
  const telling = unsaid.filter(({ found }) => !commonCriteria.has(found.finding.criterion));
  const maskOf = (outcome: Finding['outcome']): number => telling.filter(({ found }) => found.finding.outcome === outcome).reduce((mask, { bit }) => mask | bit, 0);
  const judged = new Map<PlainAnswer, Judged>();
  const judge = (answer: PlainAnswer): Judged => {
    let known = judged.get(answer);
    if (!known) judged.set(answer, known = judgeFinding(machine, answer.part, answer.finding, answer.check, UNHEARD));
    return known;
  };
  return {
    partClass, isOut: best.some(({ finding }) => finding.outcome === 'fail'), outMask: maskOf('fail'), doubtMask: maskOf('unknown'),
    get findings() {
      return common.map(judge);
    },
    findingsOf: (mask) => telling.filter(({ bit, found }) => (mask & bit) !== 0 && found.finding.outcome === 'unknown').map(({ found }) => judge(found)),
  };
}

/** Most profiles are for another class or voltage: told by the numbers the checks compare, without their words. */
function isForOtherVoltage({ record, starter }: FitMachine, part: Part, facts: PartFacts): boolean {
  const differs = (volts: number): boolean => Math.abs(volts - record.system.nominalV) > 1e-9;
  if (starter !== (part.partClass === 'starter-motor')) return true;
  return starter ? part.starter?.nominalV !== undefined && differs(part.starter.nominalV) : facts.working.length === 0 || facts.working.some(({ nominalV }) => differs(nominalV));
}

/** Checks that hang on no column, of a part that stands for its profile; undefined where one fails. */
function judgeProfile(machine: FitMachine, example: Part): Judged[] | undefined {
  const { record } = machine;
  const teethAndModule = record.starter?.pinionModuleMm ?? example.starter?.pinionModuleMm ?? 1;
  const part: Part = { ...example, id: '', ...(example.starter ? { starter: { ...example.starter, pinionModuleMm: teethAndModule } } : {}) };
  const checks: Check[] = machine.starter
    ? [refuseOtherThanStarter, (each) => checkStarterVoltage(record, each), (each) => checkRotation(record, each), (each, notes) => checkPinion(record, each, notes)]
    : [(each) => checkCoilVoltage(record, factsOf(each)), (each) => checkContactForm(record, each, factsOf(each))];
  const findings: Judged[] = [];
  for (const check of checks) {
    const finding = check(part, UNHEARD);
    if (finding?.outcome === 'fail') return undefined;
    if (finding?.outcome !== 'unknown') continue;
    const found = judgeFinding(machine, part, finding, check, UNHEARD);
    // The module is not the profile's: how often others are like it in that may be anything.
    findings.push(finding.criterion === 'pinion' && finding.ifUnlike !== undefined ? { ...found, probability: 1 } : found);
  }
  // Whatever the ohms, volts and ratings of the others of its form.
  if (!machine.starter && machine.rewirer.refusesForm(wiringFormOf(example))) return undefined;
  return findings;
}

/** Where no wire is recorded, or one that has to be is not traced, the wiring of every part is in doubt. */
function findUntraced(machine: FitMachine, sample: PartClass): Judged[] {
  const { record, rewirer } = machine;
  // A part with a motor of its own needs no starter wire: what it misses every part misses.
  const example = exampleOf(sample, record, {});
  const part: Part = { ...example, circuit: [...example.circuit, { kind: 'motor', between: ['2', 'case'] }] };
  const first = (record.wires ?? []).length > 0 ? rewirer.findFirstPlan(part) : null;
  if (first?.judged) return [];
  const nobody: Check = () => {
    throw new Error('what follows from the wiring is not counted over a class');
  };
  return [checkWiring(record, part, first), checkInterlock(record, first)].filter(({ outcome }) => outcome === 'unknown')
    .map((finding) => judgeFinding(machine, part, finding, nobody, UNHEARD));
}

function gateOf(machine: FitMachine, snapshot: Snapshot, ask: Ask, partClass: PartClass): ColumnGate | undefined {
  const { record } = machine;
  const check = ask.check(machine);
  const outcomeAt = (value: number): Finding['outcome'] | undefined => check(exampleOf(partClass, record, ask.example(value)), UNHEARD)?.outcome;
  const best = bestOf(ask, record);
  if (outcomeAt(best) === undefined) return undefined;
  const { values } = snapshot.column(ask.column);
  const count = values.length;
  const at = (code: number): Finding['outcome'] | undefined => outcomeAt(values[code - 1]!);
  // A time that is not given stands before all times: it is asked for as something unsaid.
  const from = ask.column === 'dutyS' && values[0] === -1 ? 2 : 1;
  const rising = (bad: (outcome: Finding['outcome'] | undefined) => boolean): number => firstCodeWhere(count, (code) => code >= from && !bad(at(code)));
  const falling = (bad: (outcome: Finding['outcome'] | undefined) => boolean, start = from): number => firstCodeWhere(count, (code) => code >= start && bad(at(code))) - 1;
  const fails = (outcome: Finding['outcome'] | undefined): boolean => outcome === 'fail';
  const unsure = (outcome: Finding['outcome'] | undefined): boolean => outcome === 'fail' || outcome === 'unknown';
  // Where even the best is in doubt, the doubt is the class's, not the number's.
  const doubts = outcomeAt(best) === 'unknown' ? fails : unsure;
  switch (ask.direction) {
    case 'least': return { column: ask.column, low: rising(fails), high: count, sureLow: rising(doubts), sureHigh: count };
    case 'most': return { column: ask.column, low: from, high: falling(fails), sureLow: from, sureHigh: falling(doubts) };
    case 'near': {
      const middle = firstCodeWhere(count, (code) => values[code - 1]! >= best);
      const below = (bad: typeof fails): number => firstCodeWhere(middle - 1, (code) => !bad(at(code)));
      const above = (bad: typeof fails): number => firstCodeWhere(count, (code) => code >= middle && bad(at(code))) - 1;
      return { column: ask.column, low: below(fails), high: above(fails), sureLow: below(doubts), sureHigh: above(doubts) };
    }
    default: throw new Error(`direction ${String(ask.direction satisfies never)} is not known`);
  }
}

function bestOf({ direction, bestAt }: Ask, record: BenchRecord): number {
  if (bestAt) return bestAt(record) ?? 1;
  return direction === 'least' ? MUCH : LITTLE;
}

function sealingGate(machine: FitMachine, snapshot: Snapshot, partClass: PartClass): SealingGate | undefined {
  const { record } = machine;
  if (record.demand?.minSealing === undefined) return undefined;
  const fates = snapshot.sealingCodes.map((sealing): Fate => {
    if (sealing === '') return 'doubt';
    const outcome = checkSealing(record, exampleOf(partClass, record, { rest: { sealing } }))?.outcome;
    return outcome === 'fail' ? 'out' : outcome === 'unknown' ? 'doubt' : 'sure';
  });
  const least = (position: number): number => snapshot.sealingCodes.reduce((most, code, at) => {
    if (code === '' || fates[at] === 'out') return most;
    return Math.min(most, code[position] === 'X' ? 0 : Number(code[position]) + 1);
  }, Number.POSITIVE_INFINITY);
  return { fates, leastSolids: least(2), leastWater: least(3) };
}

/** What a check said of an example; judged only where its probability is asked for. */
interface PlainAnswer { readonly part: Part; readonly finding: Finding; readonly check: Check }

function plainAsk(check: Check, part: Part): PlainAnswer | undefined {
  const finding = check(part, UNHEARD);
  return finding ? { part, finding, check } : undefined;
}

function askCheck(machine: FitMachine, check: Check, part: Part): Judged | undefined {
  const finding = check(part, UNHEARD);
  return finding ? judgeFinding(machine, part, finding, check, UNHEARD) : undefined;
}

/** A part that is at its best but for what the example says. Its id is nobody's, so no number and no history speaks for it. */
function exampleOf(partClass: PartClass, { system, starter }: BenchRecord, { coil, contact, rest }: Example): Part {
  return {
    id: '', partClass, title: '', terminals: [],
    circuit: [
      { kind: 'coil', id: 'c', between: ['3', '4'], nominalV: system.nominalV, ohmAt20C: MUCH, pullInV: LITTLE, duty: { type: 'continuous' }, ...coil },
      { kind: 'contact', id: 'k', between: ['1', '2'], form: 'NO', coils: ['c'], ...(contact ?? { inrushA: MUCH, continuousA: MUCH }) },
    ],
    body: { lengthMm: LITTLE, widthMm: LITTLE, heightMm: LITTLE }, sealing: 'IP69', ambientC: { min: -MUCH, max: MUCH },
    ...rest,
    // Teeth, rotation and voltage are the profile's.
    ...(partClass === 'starter-motor' ? { starter: { nominalV: system.nominalV, rotation: starter?.rotation, pinionTeeth: starter?.pinionTeeth, ...rest?.starter } } : {}),
  };
}
