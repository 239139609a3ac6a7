import { FAULTS, intervalOf, type CrankFault, type Observation, type ProveAnswer, type ProveCase } from '../../../catalog-schema/index.ts';
import { cautionOfBattery, cautionOfCapacitors, cautionOfMaker } from '../cautions.ts';
import { describeInstrument } from '../settings.ts';
import { CrankingCircuit } from './cranking-circuit.ts';
import { collectEvidence } from './evidence.ts';
import { FAULT_SHARES, loadTestLimitV } from './fault-table.ts';
import { listHypotheses, type Hypothesis } from './hypotheses.ts';
import { DRAWS, MachineMaker } from './machine.ts';
import { hasInstrument, listTests, rankTests, weighTests } from './next-test.ts';
import { NormalDraws } from './normal-draws.ts';
import { CAUTION_OF_BRIDGING, CAUTION_OF_START, cautionsOf, CRANK_TESTS, CUSTOMARY, sayHow, testOf, type CrankTest } from './tests-to-do.ts';
import { Weigher, type Weighed } from './weigh.ts';

export interface ProveOptions {
  /** how often each fault is found, before anything was seen; absent ones keep the table's share */
  readonly shares?: Readonly<Partial<Record<CrankFault, number>>>;
  /** false: `carriedBy` stays empty, which spares weighing the case once for each thing seen */
  readonly carriers?: boolean;
}

/** A proof asks for this much, where the case does not say. */
const THRESHOLD = 0.95;
/** No reading may lie further from the proven fault, in sigmas; and nothing seen may be less probable under it. */
const MOST_SIGMAS = 4;
const LEAST_SIGN = 0.012;
/** Where it is not said how warm it is (common practice, no source). */
const USUAL_C = 20;
const CLEARED_BELOW = 0.01;
const CLEARED_OF_PRIOR = 0.1;

/**
 * Which part of a cranking circuit failed, by physics: each fault is a change in the circuit with a distribution of its size; the circuit is
 * solved for many machines of each, and what they would show is compared with what was seen.
 */
export function prove(crankCase: ProveCase, { shares, carriers = true }: ProveOptions = {}): ProveAnswer {
  const { system, seen, threshold = THRESHOLD } = crankCase;
  const maker = new MachineMaker(system);
  const normals = new NormalDraws(DRAWS, 20_261_125);
  const hypotheses = listHypotheses(shares);
  const weigh = (some: readonly Observation[]) => weighCase(some, hypotheses, maker, normals);
  const { evidence, weigher, weighed, chances, probability } = weigh(seen);
  const prior = new Map<CrankFault, number>(FAULTS.map((fault) => [fault, 0]));
  for (const { fault, share } of hypotheses) prior.set(fault, prior.get(fault)! + share);
  const order = FAULTS.toSorted((a, b) => probability.get(b)! - probability.get(a)! || FAULTS.indexOf(a) - FAULTS.indexOf(b));
  const top = order[0]!;
  // The way of the fault that explains the evidence best stands for it.
  const winner = weighed.filter(({ hypothesis }) => hypothesis.fault === top).reduce((a, b) => (b.logEvidence + Math.log(b.hypothesis.share) > a.logEvidence + Math.log(a.hypothesis.share) ? b : a));
  const quarrels = [...new Set([...findQuarrels(winner, evidence), ...findLoadQuarrels(top, crankCase)])].toSorted((a, b) => a - b);
  const proven = seen.some(top === 'none' ? hasCranked : canProve) && probability.get(top)! >= threshold && quarrels.length === 0 ? top : null;
  const failedLoad = seen.some((observation) => hasFailedLoad(observation, system));
  const cleared = FAULTS.filter((fault) => probability.get(fault)! < CLEARED_BELOW && probability.get(fault)! < CLEARED_OF_PRIOR * prior.get(fault)!);
  return {
    faults: roundShares(order.map((fault) => ({ fault, probability: probability.get(fault)! }))),
    proven, cleared, orderable: orderableOf(proven, failedLoad),
    conflicts: quarrels.length === 0 ? [] : [{ paths: quarrels.map((index) => `seen[${index}]`), why: sayQuarrel(quarrels, seen, top) }],
    nextTest: proposeTests(crankCase, proven, failedLoad, quarrels, weighed.map((one, index) => ({ weighed: one, probability: chances[index]! })), weigher, normals),
    carriedBy: proven === null || !carriers ? [] : findCarriers(seen, proven, probability.get(proven)!, (some) => weigh(some).probability.get(proven)!),
    worthUnit: 'bit',
    cautions: listCautions(crankCase), assumptions: listAssumptions(crankCase, shares),
  };
}

/** All hypotheses against some observations: the probability of each of them, and of each fault. */
function weighCase(seen: readonly Observation[], hypotheses: readonly Hypothesis[], maker: MachineMaker, normals: NormalDraws) {
  const evidence = collectEvidence(seen, maker.nominalV);
  const weigher = new Weigher(new CrankingCircuit(), maker, evidence, normals);
  const weighed = weigher.weighAll(hypotheses);
  const chances = normalize(weighed.map(({ hypothesis, logEvidence }) => Math.log(hypothesis.share) + logEvidence));
  const probability = new Map<CrankFault, number>(FAULTS.map((fault) => [fault, 0]));
  weighed.forEach(({ hypothesis: { fault } }, index) => probability.set(fault, probability.get(fault)! + chances[index]!));
  return { evidence, weigher, weighed, chances, probability };
}

/**
 * At most so many observations are left out in turn to see what a proof hangs on: those that can prove before mere words, and the last ones
 * first. Each takes a weighing of all the others, so that a long case leaves out fewer: some `MOST_WEIGHED_AGAIN` observations are weighed in all.
 */
const MOST_CARRIERS = 3;
const MOST_WEIGHED_AGAIN = 12;
/** Without something that carries it a proof has lost at least this. */
const LEAST_CARRIED = 0.01;

function findCarriers(seen: readonly Observation[], proven: CrankFault, probability: number, without: (some: readonly Observation[]) => number): ProveAnswer['carriedBy'] {
  const most = Math.min(MOST_CARRIERS, Math.max(1, Math.floor(MOST_WEIGHED_AGAIN / seen.length)));
  return seen.map((_, index) => index).toSorted((a, b) => Number(canProve(seen[b]!)) - Number(canProve(seen[a]!)) || b - a).slice(0, most)
    .map((index) => ({ index, left: without(seen.filter((_, other) => other !== index)) }))
    .filter(({ left }) => probability - left >= LEAST_CARRIED)
    .toSorted((a, b) => a.left - b.left || a.index - b.index)
    .map(({ index, left }) => ({ path: `seen[${index}]`, why: `${sayObservation(seen[index]!)}: without it ${proven} would be ${Math.round(100 * left)} % probable, with it ${Math.floor(1000 * probability) / 10} %` }));
}

/** Sounds, and that it does not crank or cranks slowly, never prove anything by themselves. */
function canProve(observation: Observation): boolean {
  switch (observation.kind) {
    case 'sound': return false;
    case 'crank': return observation.seen === 'normal' || observation.seen === 'spins-without-engaging';
    case 'volts': case 'amps': case 'bridge-studs': case 'turn-by-hand': case 'battery-load': return true;
    default: throw new Error(`no such observation: ${JSON.stringify(observation satisfies never)}`);
  }
}

/** That nothing is wrong is proven only by seeing it. */
function hasCranked(observation: Observation): boolean { return observation.kind === 'crank' && observation.seen === 'normal' && observation.startSwitch !== false; }

/** Indices of what does not agree with the best explanation, in order. */
function findQuarrels({ residuals, signs }: Weighed, evidence: ReturnType<typeof collectEvidence>): number[] {
  const far = evidence.readings.filter((_, k) => Math.abs(residuals[k]!) > MOST_SIGMAS).map(({ index }) => index);
  const strange = evidence.signs.filter((_, k) => signs[k]! < LEAST_SIGN).map(({ index }) => index);
  return [...far, ...strange].toSorted((a, b) => a - b);
}

/** A battery that is not weak does not fail the load test, and a weak one does not pass it: else there are two faults, or none of these. */
function findLoadQuarrels(top: CrankFault, { seen, system }: ProveCase): number[] {
  return seen.flatMap((observation, index) => {
    if (observation.kind !== 'battery-load') return [];
    const { low } = intervalOf(observation.volts, 'voltmeter');
    const { nominalV, ambientC = USUAL_C } = system;
    const passes = low > loadTestLimitV(ambientC, observation.ratioOfCca, nominalV);
    return (top === 'battery-weak' ? passes : hasFailedLoad(observation, system)) ? [index] : [];
  });
}

function orderableOf(proven: CrankFault | null, failedLoad: boolean): ProveAnswer['orderable'] {
  switch (proven) {
    case 'relay-contacts': case 'relay-coil-open': case 'relay-stuck-closed': return 'start-relay';
    case 'starter-open': case 'starter-dragging': case 'starter-drive': return 'starter';
    case 'battery-cable': case 'start-cable': return 'cable';
    case 'battery-weak': return failedLoad ? 'battery' : null;
    case 'battery-connection': case 'ground-connection': case 'coil-feed': case 'coil-return': case 'engine-locked': case 'none': case null: return null;
    default: throw new Error(`no such fault: ${JSON.stringify(proven satisfies never)}`);
  }
}

/** A load test has failed when its whole interval lies below the limit. */
function hasFailedLoad(observation: Observation, { nominalV, ambientC = USUAL_C }: ProveCase['system']): boolean {
  if (observation.kind !== 'battery-load') return false;
  return intervalOf(observation.volts, 'voltmeter').high < loadTestLimitV(ambientC, observation.ratioOfCca, nominalV);
}

function proposeTests(
  { seen, instruments, system }: ProveCase, proven: CrankFault | null, failedLoad: boolean, quarrels: readonly number[],
  weighed: readonly { weighed: Weighed; probability: number }[], weigher: Weigher, normals: NormalDraws,
): ProveAnswer['nextTest'] {
  if (proven !== null) {
    // The only open question after a proof: whether the battery is to be bought or charged.
    const load = CRANK_TESTS.find(({ ask }) => ask.kind === 'battery-load')!;
    return proven === 'battery-weak' && !failedLoad && hasInstrument(load, instruments) ? [sayTest(load)] : [];
  }
  const ranked = rankTests(weighTests(weighed, weigher, system.nominalV, normals, listTests(instruments, seen)));
  // What quarrels is taken again before anything else, unless that is risky: a slip shows at once.
  const again = quarrels.map((index) => testOf(seen[index]!)).filter((test, at, all) => test.risk !== 'high' && hasInstrument(test, instruments) && all.indexOf(test) === at);
  return [
    ...again.map((test) => ({ ...sayTest(test), test: `Once more: ${test.test}`, why: 'it does not agree with the rest: a slip of probe, pen or ear shows at once' })),
    ...ranked.map(({ test, bits, outcomes }) => ({
      ...sayTest(test), why: `${test.why} (${round(bits, 2)} bit in about ${test.minutes} min)`, worth: round(bits, 4),
      outcomes: outcomes.map(({ reads, chance, leaves }) => ({ reads, chance: round(chance, 4), leaves: leaves.map(({ fault, probability }) => ({ fault, probability: round(probability, 4) })) })),
    })),
  ];
}

function sayTest({ test, why, risk, ask, customary }: CrankTest): ProveAnswer['nextTest'][number] {
  return { test, why, worth: 0, risk, ask, how: sayHow(ask), cautions: cautionsOf(ask), practice: customary === true ? CUSTOMARY : null, outcomes: [] };
}

function sayQuarrel(indices: readonly number[], seen: readonly Observation[], fault: CrankFault): string {
  const named = indices.map((index) => sayObservation(seen[index]!)).join('; ');
  return `No single fault explains everything that was seen. The nearest, ${fault}, does not go with: ${named}. Take ${indices.length === 1 ? 'it' : 'them'} again; if ${indices.length === 1 ? 'it stands' : 'they stand'}, there is more than one fault.`;
}

function sayObservation(observation: Observation): string {
  const numberOf = (value: Extract<Observation, { kind: 'volts' }>['volts']): number => (typeof value === 'number' ? value : value.value);
  switch (observation.kind) {
    case 'sound': return `heard ${observation.heard}`;
    case 'crank': return `cranking ${observation.seen}${observation.startSwitch === false ? ' with the start switch off' : ''}`;
    case 'volts': return `${numberOf(observation.volts)} V from ${observation.plus} to ${observation.minus}, start switch ${observation.startSwitch ? 'on' : 'off'}`;
    case 'amps': return `${numberOf(observation.amps)} A in the battery cable`;
    case 'bridge-studs': return `studs bridged: ${observation.seen}`;
    case 'turn-by-hand': return `engine turned by hand: ${observation.seen}`;
    case 'battery-load': return `${numberOf(observation.volts)} V under load`;
    default: throw new Error(`no such observation: ${JSON.stringify(observation satisfies never)}`);
  }
}

function listCautions({ system: { nominalV }, instruments }: ProveCase): string[] {
  const capacitors = cautionOfCapacitors(nominalV);
  return [
    CAUTION_OF_START, CAUTION_OF_BRIDGING,
    ...(instruments === undefined || instruments.includes('meter') ? ['Not longer than some ten seconds of START at a time, and let the starter cool between.'] : []),
    cautionOfBattery(),
    ...(capacitors === undefined ? [] : [capacitors]),
    cautionOfMaker(),
  ];
}

function listAssumptions({ system, seen, threshold }: ProveCase, shares: ProveOptions['shares']): string[] {
  const lines: string[] = [];
  if (threshold === undefined) lines.push(`${THRESHOLD}: probability from which a fault counts as proven (the contract's default)`);
  if (system.ambientC === undefined) lines.push('20 C: ambient temperature when it is not given (common practice, no source)');
  if (system.batteryCcaA === undefined) lines.push('The battery\'s cold-cranking current is not given: 230 A on 12 V, within a factor of about two (common practice, no source)');
  lines.push(shares !== undefined && Object.keys(shares).length > 0 ? 'How often each fault is found: as the shop has set or learned it, else by the table (common practice, no source)' : `How often each fault is found: battery-weak ${FAULT_SHARES['battery-weak'].share}, and so on by the table (common practice, no source)`);
  lines.push('True pull-in 0.4 to 0.7, drop-out 0.15 to 0.45 of nominal (common practice, no source)');
  if (seen.some((one) => one.kind === 'volts' && typeof one.volts === 'number')) lines.push(describeInstrument('voltmeter'));
  if (seen.some((one) => one.kind === 'amps' && typeof one.amps === 'number')) lines.push(describeInstrument('clamp'));
  return lines;
}

function normalize(logs: readonly number[]): number[] {
  const most = Math.max(...logs);
  const raw = logs.map((log) => Math.exp(log - most));
  const total = raw.reduce((sum, value) => sum + value, 0);
  return raw.map((value) => value / total);
}

/** Six decimals that still add up to 1: the first takes what rounding leaves. */
function roundShares(list: readonly { fault: CrankFault; probability: number }[]): ProveAnswer['faults'] {
  const rounded = list.map(({ fault, probability }) => ({ fault, probability: round(probability, 6) }));
  const rest = rounded.slice(1).reduce((sum, { probability }) => sum + Math.round(probability * 1e6), 0);
  rounded[0] = { fault: rounded[0]!.fault, probability: (1_000_000 - rest) / 1e6 };
  return rounded;
}

function round(value: number, decimals: number): number {
  const by = 10 ** decimals;
  return Math.round(value * by) / by;
}
