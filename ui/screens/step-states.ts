import { evidenceOf, type BenchRecord, type Criterion, type FitAnswer, type IdentifyAnswer, type JobDocument, type LeadsTo, type ProveAnswer } from '../../catalog-schema/index.ts';
import { isChoiceStale, stateOfSignOff, type AsLeftBasis } from '../worker/as-left.ts';

export const STEP_NAMES = ['prove', 'as-found', 'bench', 'fits', 'get', 'as-left', 'record'] as const;
export type StepName = (typeof STEP_NAMES)[number];

/** 'look' stands for "needs a look": something in the step cannot be right as it stands, or no longer is. */
export type StepState = 'empty' | 'begun' | 'done' | 'look';

/** Something a step does not know yet. `names` are terminals or wires. */
export type Lack =
  | { readonly kind: 'no-proof' }
  | { readonly kind: 'evidence-quarrels' }
  /** what is proven pays for another part than the chosen one, or for none */
  | { readonly kind: 'proves-another' }
  | { readonly kind: 'no-class' }
  | { readonly kind: 'no-terminals' }
  | { readonly kind: 'no-wires' }
  | { readonly kind: 'no-wire-to'; readonly leadsTo: LeadsTo }
  | { readonly kind: 'not-traced'; readonly names: readonly string[] }
  | { readonly kind: 'no-end'; readonly names: readonly string[] }
  | { readonly kind: 'no-stud-size'; readonly names: readonly string[] }
  | { readonly kind: 'no-pitch'; readonly names: readonly string[] }
  | { readonly kind: 'no-tab-width'; readonly names: readonly string[] }
  | { readonly kind: 'no-ohms' }
  | { readonly kind: 'no-bolts' }
  | { readonly kind: 'readings-conflict' }
  | { readonly kind: 'not-chosen' }
  | { readonly kind: 'chosen-no-longer-fits' }
  | { readonly kind: 'wires-changed-since-chosen' }
  | { readonly kind: 'not-got' }
  | { readonly kind: 'got-another' }
  | { readonly kind: 'step-bad' }
  | { readonly kind: 'not-signed-off' }
  /** it was signed off, and wires, choice or ticks have changed since */
  | { readonly kind: 'sign-off-lapsed' };

export interface StepReport { readonly state: StepState; readonly lacks: readonly Lack[] }
export type StepReports = Readonly<Record<StepName, StepReport>>;

/** What a job stands on beside its document. */
export interface StepFacts {
  readonly document: JobDocument;
  readonly record: BenchRecord;
  /** what the engine says of what was seen, as it stands; absent until it has answered */
  readonly proof?: ProveAnswer | undefined;
  readonly fit: FitAnswer | undefined;
  /** what the engine finds now of the chosen part; undefined until it has answered */
  readonly basis: AsLeftBasis | undefined;
  readonly identify: IdentifyAnswer | undefined;
  /** parts put aside or ordered for this job */
  readonly gotPartIds: readonly string[];
}

/** The state of each of the seven steps, with what each still lacks. No step waits for another. */
export function reportSteps(facts: StepFacts): StepReports {
  return {
    prove: reportProve(facts),
    'as-found': reportAsFound(facts.record),
    bench: reportBench(facts),
    fits: reportFits(facts),
    get: reportGet(facts),
    'as-left': reportAsLeft(facts.document),
    record: reportRecord(facts),
  };
}

/** The criterion that stays unknown in a fit while something is lacking; undefined where none does directly. */
export function criterionOfLack(lack: Lack): Criterion | undefined {
  switch (lack.kind) {
    case 'no-terminals': case 'no-wires': case 'no-wire-to': case 'not-traced': return 'wiring';
    case 'no-end': case 'no-stud-size': case 'no-pitch': return 'stud';
    case 'no-tab-width': return 'tab';
    case 'no-ohms': return 'coil-current';
    case 'no-bolts': return 'mounting';
    case 'no-proof': case 'evidence-quarrels': case 'proves-another': case 'no-class': case 'readings-conflict': case 'not-chosen': case 'chosen-no-longer-fits':
    case 'wires-changed-since-chosen': case 'not-got': case 'got-another': case 'step-bad': case 'not-signed-off': case 'sign-off-lapsed':
      return undefined;
  }
}

/** How many of the fits hang on a criterion: unknown there, and not refused for something else. */
export function countHanging(fit: FitAnswer | undefined, criterion: Criterion): { hanging: number; of: number } {
  const open = (fit?.fits ?? []).filter((entry) => entry.verdict !== 'no');
  const hanging = open.filter((entry) => entry.checks.some((check) => check.criterion === criterion && check.outcome === 'unknown'));
  return { hanging: hanging.length, of: open.length };
}

function reportProve({ document, record, proof }: StepFacts): StepReport {
  const begun = Object.keys(document.prove?.seen ?? {}).length > 0;
  if (begun && proof !== undefined) {
    if (proof.conflicts.length > 0) return { state: 'look', lacks: [{ kind: 'evidence-quarrels' }] };
    if (proof.proven !== null && document.chosen !== undefined && !evidenceOf(document, proof, record.partClass).orderable) return { state: 'look', lacks: [{ kind: 'proves-another' }] };
    if (proof.proven !== null) return { state: 'done', lacks: [] };
  }
  if (!begun && document.proved !== undefined) return { state: 'done', lacks: [] };
  return { state: begun ? 'begun' : 'empty', lacks: [{ kind: 'no-proof' }] };
}

function reportAsFound(record: BenchRecord): StepReport {
  const wires = record.wires ?? [];
  const terminals = record.terminals ?? [];
  const lacks: Lack[] = [];
  if (terminals.length === 0) lacks.push({ kind: 'no-terminals' });
  if (wires.length === 0) lacks.push({ kind: 'no-wires' });
  else {
    for (const role of ['battery', 'starter', 'start-switch'] as const) {
      if (!wires.some((wire) => wire.leadsTo === role)) lacks.push({ kind: 'no-wire-to', leadsTo: role });
    }
  }
  const untraced = wires.filter((wire) => wire.leadsTo === undefined || wire.leadsTo === 'unknown');
  if (untraced.length > 0) lacks.push({ kind: 'not-traced', names: untraced.map((wire) => wire.tag) });
  const bare = wires.filter((wire) => wire.end === undefined);
  if (bare.length > 0) lacks.push({ kind: 'no-end', names: bare.map((wire) => wire.tag) });
  if (wires.length === 0 && terminals.length === 0) return { state: 'empty', lacks };
  if (wires.some((wire) => wire.leadsTo === 'unknown')) return { state: 'look', lacks };
  return { state: lacks.length === 0 ? 'done' : 'begun', lacks };
}

function reportBench({ record, identify }: StepFacts): StepReport {
  const terminals = record.terminals ?? [];
  const studs = terminals.filter((terminal) => terminal.form === 'stud' || terminal.form === 'screw');
  const tabs = terminals.filter((terminal) => terminal.form === 'tab');
  const lacks: Lack[] = [];
  if (record.partClass === undefined) lacks.push({ kind: 'no-class' });
  if (terminals.length === 0) lacks.push({ kind: 'no-terminals' });
  const unsized = studs.filter((stud) => stud.thread === undefined && stud.majorDiameterMm === undefined);
  if (unsized.length > 0) lacks.push({ kind: 'no-stud-size', names: unsized.map((stud) => stud.id) });
  const pitchless = studs.filter((stud) => stud.thread === undefined && stud.majorDiameterMm !== undefined && stud.pitchMm === undefined);
  if (pitchless.length > 0) lacks.push({ kind: 'no-pitch', names: pitchless.map((stud) => stud.id) });
  const widthless = tabs.filter((tab) => tab.tabWidthMm === undefined);
  if (widthless.length > 0) lacks.push({ kind: 'no-tab-width', names: widthless.map((tab) => tab.id) });
  if ((record.ohms ?? []).length === 0) lacks.push({ kind: 'no-ohms' });
  if ((record.mounting?.holes ?? []).length === 0) lacks.push({ kind: 'no-bolts' });
  if ((identify?.conflicts ?? []).length > 0) return { state: 'look', lacks: [{ kind: 'readings-conflict' }, ...lacks] };
  if (lacks.length === 0) return { state: 'done', lacks };
  return { state: hasBenchFigures(record) ? 'begun' : 'empty', lacks };
}

function reportFits({ document, record, fit, basis }: StepFacts): StepReport {
  const { chosen } = document;
  if (chosen === undefined) {
    const askable = (record.terminals ?? []).length > 0 || (record.wires ?? []).length > 0 || hasBenchFigures(record);
    return { state: askable ? 'begun' : 'empty', lacks: [{ kind: 'not-chosen' }] };
  }
  const now = fit?.fits.find((entry) => entry.partId === chosen.partId);
  if (now?.verdict === 'no') return { state: 'look', lacks: [{ kind: 'chosen-no-longer-fits' }] };
  if (isChoiceStale(chosen, record, basis)) return { state: 'look', lacks: [{ kind: 'wires-changed-since-chosen' }] };
  return { state: 'done', lacks: [] };
}

function reportGet({ document, gotPartIds }: StepFacts): StepReport {
  const { chosen } = document;
  if (chosen !== undefined && gotPartIds.includes(chosen.partId)) return { state: 'done', lacks: [] };
  if (gotPartIds.length > 0 && chosen !== undefined) return { state: 'look', lacks: [{ kind: 'got-another' }] };
  if (gotPartIds.length > 0) return { state: 'done', lacks: [] };
  return { state: 'empty', lacks: [{ kind: chosen === undefined ? 'not-chosen' : 'not-got' }] };
}

function reportAsLeft(document: JobDocument): StepReport {
  const done = Object.values(document.asLeft ?? {});
  if (done.some((step) => step.outcome === 'bad')) return { state: 'look', lacks: [{ kind: 'step-bad' }] };
  switch (stateOfSignOff(document)) {
    case 'stands': return { state: 'done', lacks: [] };
    case 'lapsed': return { state: 'look', lacks: [{ kind: 'sign-off-lapsed' }] };
    case 'none': return { state: done.length > 0 ? 'begun' : 'empty', lacks: [{ kind: 'not-signed-off' }] };
  }
}

/** The customer's page is done once the sign-off on it stands. */
function reportRecord(facts: StepFacts): StepReport {
  switch (stateOfSignOff(facts.document)) {
    case 'stands': return { state: 'done', lacks: [] };
    case 'lapsed': return { state: 'look', lacks: [{ kind: 'sign-off-lapsed' }] };
    case 'none': return { state: hasAnything(facts) ? 'begun' : 'empty', lacks: [{ kind: 'not-signed-off' }] };
  }
}

function hasBenchFigures(record: BenchRecord): boolean {
  const measured = (record.terminals ?? []).some((terminal) => terminal.thread !== undefined || terminal.majorDiameterMm !== undefined
    || terminal.tabWidthMm !== undefined || terminal.pitchMm !== undefined);
  return measured || (record.ohms ?? []).length > 0 || record.mounting !== undefined || record.space !== undefined
    || record.demand !== undefined || record.marked !== undefined || record.starter !== undefined;
}

function hasAnything({ document, record }: StepFacts): boolean {
  return document.chosen !== undefined || hasBenchFigures(record) || (record.wires ?? []).length > 0;
}
