import { z } from 'zod';
import { leadsTo } from './bench-record.ts';
import { circuitElement } from './part.ts';
import { crankAsk, crankFault } from './prove-case.ts';

// The answers of every door. They are written by our own code, so these shapes are for types, JSON Schema and OpenAPI;
// they are strict so that a test that parses an answer finds a key the contract does not know.

const spoken = { cautions: z.array(z.string()), assumptions: z.array(z.string()) };

/** Worth is in bits where nothing has a price, in money where prices were given: `worthUnit` says which. */
export const measureNextEntry = z.strictObject({ what: z.string(), why: z.string(), worth: z.number() });
const measureNext = { measureNext: z.array(measureNextEntry), worthUnit: z.string() };

export const terminalRole = z.enum([
  'battery-stud', 'starter-stud', 'stud', 'coil', 'coil+', 'coil-', 'start', 'cranking-feed', 'common', 'no', 'nc', 'unused',
]);
export type TerminalRole = z.infer<typeof terminalRole>;

export const identifyAnswer = z.strictObject({
  coils: z.array(z.strictObject({
    between: z.tuple([z.string(), z.string()]), ohmAt20C: z.number(),
    nominalV: z.array(z.strictObject({ volts: z.number(), probability: z.number() })), amps: z.number(), watts: z.number(),
  })),
  threads: z.array(z.strictObject({
    terminal: z.string(),
    candidates: z.array(z.strictObject({ thread: z.string(), series: z.string(), probability: z.number() })),
  })),
  tabs: z.array(z.strictObject({
    terminal: z.string(),
    candidates: z.array(z.strictObject({ widthMm: z.number(), thicknessMm: z.number(), probability: z.number() })),
  })),
  circuits: z.array(z.strictObject({
    form: z.string(), probability: z.number(), circuit: z.array(circuitElement), roles: z.record(z.string(), terminalRole),
  })),
  conflicts: z.array(z.strictObject({ paths: z.array(z.string()), why: z.string() })),
  ...measureNext, ...spoken,
});
export type IdentifyAnswer = z.infer<typeof identifyAnswer>;

export const switchState = z.strictObject({
  startSwitch: z.boolean(), interlocks: z.boolean(), engineRuns: z.boolean(), pulledIn: z.boolean(), starterLive: z.boolean(),
  /** the settled current that leaves through the start-switch wire, A */
  controlA: z.number(),
});
export type SwitchState = z.infer<typeof switchState>;

export const plan = z.strictObject({
  wires: z.array(z.strictObject({ tag: z.string(), from: z.string(), to: z.string(), moved: z.boolean(), newEnd: z.boolean() })),
  jumpers: z.array(z.strictObject({ from: z.string(), to: z.string() })),
  leftOff: z.array(z.string()), bareTerminals: z.array(z.string()),
  /** moved + new ends + jumpers + wires left off */
  changes: z.number(),
  states: z.array(switchState),
});
export type Plan = z.infer<typeof plan>;

export const REFUSAL_CODES = [
  'shorts-a-wire', 'over-fuse', 'defeats-interlock', 'never-pulls-in', 'always-pulled-in', 'starter-always-live', 'latches',
  'chatters', 'back-feeds', 'cranking-feed-lost', 'no-terminal', 'polarity', 'wire-not-traced',
] as const;
export const refusal = z.strictObject({ code: z.enum(REFUSAL_CODES), why: z.string() });
export type Refusal = z.infer<typeof refusal>;
export type RefusalCode = Refusal['code'];

export const rewireAnswer = z.strictObject({
  plans: z.array(plan), complete: z.boolean(), refusals: z.array(refusal), ...spoken,
});
export type RewireAnswer = z.infer<typeof rewireAnswer>;

export const CRITERIA = [
  'coil-voltage', 'coil-duty', 'coil-current', 'pull-in', 'contact-form', 'contact-inrush', 'contact-continuous', 'wiring',
  'interlock', 'polarity', 'stud', 'tab', 'mounting', 'space', 'sealing', 'ambient',
  'voltage', 'rotation', 'pinion', 'power', 'nose',
] as const;
export const criterion = z.enum(CRITERIA);
export type Criterion = z.infer<typeof criterion>;
/** Criteria whose failure can hurt somebody. */
export const SAFETY_CRITERIA: ReadonlySet<Criterion> = new Set<Criterion>([
  'coil-voltage', 'coil-duty', 'coil-current', 'contact-inrush', 'wiring', 'interlock', 'polarity', 'voltage', 'rotation',
]);

export const check = z.strictObject({
  criterion, outcome: z.enum(['pass', 'work', 'unknown', 'fail']), safety: z.boolean(),
  needed: z.string(), offered: z.string(), why: z.string(),
});
export type Check = z.infer<typeof check>;

export const placement = z.strictObject({
  rotationDeg: z.number(), flipped: z.boolean(), shiftMm: z.tuple([z.number(), z.number()]),
  newHoles: z.array(z.strictObject({
    xMm: z.number(), yMm: z.number(), diameterMm: z.number(), in: z.enum(['panel', 'bracket']),
  })),
});
export type Placement = z.infer<typeof placement>;

export const verdict = z.enum(['direct', 'adapt', 'unproven', 'no']);
export type Verdict = z.infer<typeof verdict>;

export const kitItem = z.strictObject({ item: z.string(), qty: z.number(), detail: z.string() });
export type KitItem = z.infer<typeof kitItem>;

export const expectedCost = z.strictObject({
  currency: z.string(), total: z.number(), part: z.number(), kit: z.number(), labour: z.number(), misfit: z.number(), wait: z.number(),
});

/** Where one unit would come from for the part and wait of `expectedCost`. */
export const unitSource = z.strictObject({
  /** 'shelf', or a supplier's id */
  from: z.string(),
  /** units bought: whole packs, and more where that is cheaper */
  qty: z.number(), unitPrice: z.number(), freight: z.number(), arrives: z.string(),
});
export type UnitSource = z.infer<typeof unitSource>;

/** What the shop saw of this part, and the 95 % Wilson score interval of the share that holds. */
export const learned = z.strictObject({
  held: z.number(), cameBack: z.number(), low: z.number(), high: z.number(),
  /** the kind of machine the counts are of; absent where they are of all machines */
  machineKind: z.string().optional(),
});
export type Learned = z.infer<typeof learned>;

export const fit = z.strictObject({
  partId: z.string(), verdict, fitProbability: z.number().nullable(), expectedCost: expectedCost.nullable(),
  checks: z.array(check), rewire: plan.nullable(), placement: placement.nullable(), kit: z.array(kitItem),
  /** minutes of the listed work */
  minutes: z.number().optional(),
  source: unitSource.optional(), learned: learned.optional(),
});
export type Fit = z.infer<typeof fit>;

/** `settles` names the checks that the reading decides; it is taken at the bench, or asked of the maker of the part. */
export const fitReading = measureNextEntry.extend({ settles: z.array(criterion).optional(), from: z.enum(['bench', 'maker']).optional() });
export type FitReading = z.infer<typeof fitReading>;

export const fitAnswer = z.strictObject({ considered: z.number(), fits: z.array(fit), ...measureNext, measureNext: z.array(fitReading), ...spoken });
export type FitAnswer = z.infer<typeof fitAnswer>;

/** `outcomes`: what each result would mean; `leaves`: the faults that it leaves most probable. `practice`: a customary check says so; null otherwise. */
const nextTest = z.strictObject({
  test: z.string(), why: z.string(), worth: z.number(), risk: z.enum(['none', 'low', 'high']), ask: crankAsk,
  how: z.array(z.string()), cautions: z.array(z.string()), practice: z.string().nullable(),
  outcomes: z.array(z.strictObject({ reads: z.string(), chance: z.number(), leaves: z.array(z.strictObject({ fault: crankFault, probability: z.number() })) })),
});

export const proveAnswer = z.strictObject({
  faults: z.array(z.strictObject({ fault: crankFault, probability: z.number() })),
  proven: crankFault.nullable(), cleared: z.array(crankFault),
  orderable: z.enum(['start-relay', 'starter', 'battery', 'cable']).nullable(),
  conflicts: z.array(z.strictObject({ paths: z.array(z.string()), why: z.string() })),
  nextTest: z.array(nextTest),
  /** what a proof hangs on, most first: without it the fault would be less probable, and by how much; empty without a proof */
  carriedBy: z.array(z.strictObject({ path: z.string(), why: z.string() })),
  worthUnit: z.string(), ...spoken,
});
export type ProveAnswer = z.infer<typeof proveAnswer>;

const orderPlan = {
  status: z.enum(['optimal', 'feasible', 'infeasible']), total: z.number(), bound: z.number(),
  fills: z.array(z.strictObject({
    needId: z.string(), partId: z.string(), from: z.string(), qty: z.number(), arrives: z.string(), daysLate: z.number(),
  })),
  orders: z.array(z.strictObject({
    supplierId: z.string(), lines: z.array(z.strictObject({ partId: z.string(), qty: z.number(), unitPrice: z.number() })),
    goods: z.number(), freight: z.number(),
  })),
  unmet: z.array(z.strictObject({ needId: z.string(), why: z.string() })),
};
export const orderPlanAnswer = z.strictObject(orderPlan);
export type OrderPlanAnswer = z.infer<typeof orderPlanAnswer>;

/**
 * What a choice for one need rests on. `compared`: against plans solved anew for all needs, or against this plan with this need alone moved
 * elsewhere. `instead`: the cheapest way without the places it comes from now; `later`: what is saved if it may come so many days after
 * `by` at no cost; `sooner`: what it costs to have it before it comes now. `more` and `saves` are in the currency.
 */
export const orderChoice = z.strictObject({
  needId: z.string(), compared: z.enum(['all-needs', 'this-need']),
  instead: z.strictObject({ partId: z.string(), from: z.string(), arrives: z.string(), more: z.number() }).nullable(),
  later: z.strictObject({ days: z.number(), arrives: z.string(), saves: z.number() }).nullable(),
  sooner: z.strictObject({ days: z.number(), arrives: z.string(), more: z.number() }).nullable(),
  why: z.string(),
});
export type OrderChoice = z.infer<typeof orderChoice>;

export const OTHER_PLANS = ['shelf-only', 'fastest', 'fewest-orders'] as const;
/** A plan beside the least one: what more it costs, or why there is none. `proven`: none of its kind costs less. */
export const otherPlan = z.strictObject({
  which: z.enum(OTHER_PLANS), plan: orderPlanAnswer.nullable(), more: z.number().nullable(), proven: z.boolean(), why: z.string(),
});
export type OtherPlan = z.infer<typeof otherPlan>;

/** `choices` and `others` as far as the time reached. */
export const sourceAnswer = z.strictObject({
  ...orderPlan, choices: z.array(orderChoice).optional(), others: z.array(otherPlan).optional(), ...spoken,
});
export type SourceAnswer = z.infer<typeof sourceAnswer>;

export const findAnswer = z.strictObject({
  hits: z.array(z.strictObject({
    partId: z.string(), number: z.string(), issuer: z.string(),
    how: z.enum(['same', 'normalised', 'replaces', 'likely-misread', 'similar', 'words']),
    score: z.number(), currentIds: z.array(z.string()),
    /** the number is not the part's own: somebody says that it replaces it */
    claim: z.strictObject({ source: z.string().optional() }).optional(),
    /** what this shop found of the part, fitted for this number where that is known; `forNumber` says so */
    shop: z.strictObject({ held: z.number(), cameBack: z.number(), forNumber: z.boolean() }).optional(),
    /** what happened to the number so that it was read as it was asked, by one way of the least misreading */
    changes: z.array(z.strictObject({ kind: z.enum(['confused', 'swapped', 'lost', 'added', 'other']), read: z.string(), is: z.string() })).optional(),
  })),
  ...spoken,
});
export type NumberChange = NonNullable<FindAnswer['hits'][number]['changes']>[number];
export type FindAnswer = z.infer<typeof findAnswer>;

export const TRACE_MEASUREMENTS = [
  'ohmChassisMade', 'ohmChassisOpen', 'ohmBatteryPlus', 'ohmStarterCable', 'voltsOff', 'voltsRun', 'voltsStart',
] as const;
/** What a reading at a wire's free end comes to. */
export const traceOutcome = z.enum(['live', 'part', 'dead', 'joined', 'through', 'open']);
export type TraceOutcome = z.infer<typeof traceOutcome>;

/** A reading to take at a wire's free end, and where the wire can still lead after each way it can come out. */
export const traceNext = measureNextEntry.extend({
  measure: z.enum(TRACE_MEASUREMENTS),
  separates: z.array(z.strictObject({ outcome: traceOutcome, leaves: z.array(leadsTo) })),
  cautions: z.array(z.string()),
});
export type TraceNext = z.infer<typeof traceNext>;

/** Of each wire that is not traced, or was traced by readings: where it can still lead, and the reading that tells more, best first. */
export const traceAnswer = z.strictObject({
  wires: z.array(z.strictObject({
    tag: z.string(),
    /** where it can lead by its readings; empty where they contradict one another */
    remaining: z.array(leadsTo),
    /** the one that is left */
    leadsTo: leadsTo.nullable(),
    conflicts: z.array(z.strictObject({ paths: z.array(z.string()), why: z.string() })),
    measureNext: z.array(traceNext),
    /** of this wire alone */
    cautions: z.array(z.string()),
  })),
  worthUnit: z.string(), ...spoken,
});
export type TraceAnswer = z.infer<typeof traceAnswer>;
