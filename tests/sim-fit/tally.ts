import { SAFETY_CRITERIA, type BenchRecord, type Criterion, type Fit, type FitAnswer } from '../../catalog-schema/index.ts';
import { Calibration } from './calibration.ts';
import { listFalsehoods, type Blame, type Falsehood } from './judge-answer.ts';
import type { Oracle } from './oracle.ts';
import { TRAPS, type Trap, type TruePart, type World } from './truth.ts';

/** A hit costs at most this much more than the least. */
const HIT_SHARE = 1.05;
/** A rating is a guarantee: fuses bear 1.1 times theirs (ISO 8820, from memory), contacts close on as much (common practice, no source). */
const GUARANTEE = 1.1;

export interface CaseFound { readonly record: BenchRecord; readonly partId: string; readonly what: string; readonly answer: Fit | undefined; readonly world: number }

/** What was found over many cases of one level. */
export class Tally {
  cases = 0;
  /** cases in which nothing came out direct or adapt; and nothing at all but refusals */
  nothingSure = 0;
  nothing = 0;
  /** cases with a part that works and is for sale */
  sold = 0;
  first = 0;
  firstFive = 0;
  /** the same against the least cost of a part that the catalogue writes up in full: a cheaper one may work, and nobody could know it */
  soldWhole = 0;
  firstWhole = 0;
  firstFiveWhole = 0;
  /** parts that work: all, with every value in the catalogue, and of those direct or adapt */
  works = 0;
  worksSure = 0;
  whole = 0;
  wholeSure = 0;
  wholeRefused = 0;
  accepted = 0;
  /** of the parts written up in full that work and came out unproven: what was unknown */
  readonly keptBack = new Map<Criterion, number>();
  readonly calibration = new Calibration();
  /** the same, counting only criteria that the answer judged */
  readonly calibrationJudged = new Calibration();
  /** by criterion: how often an unknown one truly holds; and what is claimed and true of fits where it is the only unknown */
  readonly unknowns = new Map<Criterion, { count: number; holds: number; alone: number; claimed: number; right: number }>();
  readonly safety = new Map<string, number>();
  readonly other = new Map<string, number>();
  readonly traps = new Map<Trap, { armed: number; refused: number; unproven: number; accepted: number; unasked: number }>();
  /** why the least of those written up in full is not among the first five: refused by, or kept back by; else dearer ones that stand before it */
  readonly missed = new Map<string, number>();
  readonly found: CaseFound[] = [];
  worstRatio = 1;

  add(world: World, oracle: Oracle, record: BenchRecord, answer: FitAnswer): void {
    this.cases++;
    const byId = new Map(answer.fits.map((fit) => [fit.partId, fit]));
    const sure = answer.fits.filter(isSure);
    if (sure.length === 0) this.nothingSure++;
    if (answer.fits.length === 0) this.nothing++;
    this.accepted += sure.length;
    this.#countHits(world, oracle, record, answer);
    for (const part of world.parts) {
      const truth = oracle.judge(part.truth);
      const fit = byId.get(part.truth.id);
      const falsehoods = fit ? listFalsehoods(oracle, part, fit, record) : [];
      if (truth.broken.length === 0) this.#countWorking(part, fit, record, world);
      else this.#countTrap(oracle, part, fit, falsehoods);
      if (fit) this.#countListed(world, part, fit, record, falsehoods);
    }
  }

  #countHits(world: World, oracle: Oracle, record: BenchRecord, answer: FitAnswer): void {
    const costOf = new Map(world.parts.map(({ truth }) => [truth.id, oracle.judge(truth).cost ?? Number.POSITIVE_INFINITY]));
    const leastOf = (parts: readonly TruePart[]): number => Math.min(...parts.map(({ truth }) => costOf.get(truth.id)!));
    const placeOf = (least: number): number => answer.fits.slice(0, 5).findIndex(({ partId }) => costOf.get(partId)! <= HIT_SHARE * least + 1e-9);
    const least = leastOf(world.parts);
    if (!Number.isFinite(least)) return;
    const at = placeOf(least);
    this.sold++;
    if (at === 0) this.first++;
    if (at >= 0) this.firstFive++;
    const leastWhole = leastOf(world.parts.filter(isWhole));
    if (!Number.isFinite(leastWhole)) return;
    const atWhole = placeOf(leastWhole);
    this.soldWhole++;
    if (atWhole === 0) this.firstWhole++;
    if (atWhole >= 0) this.firstFiveWhole++;
    else {
      const { id } = world.parts.find((part) => isWhole(part) && costOf.get(part.truth.id) === leastWhole)!.truth;
      const why = whyMissed(answer.fits.find(({ partId }) => partId === id));
      this.missed.set(why, (this.missed.get(why) ?? 0) + 1);
      this.found.push({ record, partId: id, what: 'a part that works and costs least is not in the first five', answer: answer.fits[0], world: world.seed });
    }
  }

  #countWorking(part: TruePart, fit: Fit | undefined, record: BenchRecord, world: World): void {
    this.works++;
    if (fit && isSure(fit)) this.worksSure++;
    if (!isWhole(part)) return;
    this.whole++;
    if (fit && isSure(fit)) this.wholeSure++;
    if (fit && !isSure(fit)) for (const { criterion, outcome } of fit.checks) if (outcome === 'unknown') this.keptBack.set(criterion, (this.keptBack.get(criterion) ?? 0) + 1);
    if (fit) return;
    this.wholeRefused++;
    this.found.push({ record, partId: part.truth.id, what: 'a part that works is refused', answer: undefined, world: world.seed });
  }

  #countTrap(oracle: Oracle, part: TruePart, fit: Fit | undefined, falsehoods: readonly Falsehood[]): void {
    const claims = (part.truth.replaces ?? []).some(({ number }) => oracle.machine.old.truth.numbers?.some((each) => each.number === number));
    const kinds: Trap[] = [...(part.trap !== undefined && part.family === oracle.machine.old.family ? [part.trap] : []), ...(claims ? ['claim' as const] : [])];
    for (const kind of kinds) {
      const row = this.traps.get(kind) ?? { armed: 0, refused: 0, unproven: 0, accepted: 0, unasked: 0 };
      this.traps.set(kind, row);
      row.armed++;
      if (!fit || fit.verdict === 'no') row.refused++;
      else if (fit.verdict === 'unproven') row.unproven++;
      else if (falsehoods.some(({ blame }) => blame === 'judged')) row.accepted++;
      else row.unasked++;
    }
  }

  #countListed(world: World, part: TruePart, fit: Fit, record: BenchRecord, falsehoods: readonly Falsehood[]): void {
    if (fit.fitProbability !== null) {
      const checked = new Set(fit.checks.map(({ criterion }) => criterion));
      this.calibration.add(fit.fitProbability, falsehoods.length === 0);
      this.calibrationJudged.add(fit.fitProbability, !falsehoods.some(({ criterion }) => checked.has(criterion)));
    }
    const unknown = fit.checks.filter(({ outcome }) => outcome === 'unknown');
    for (const { criterion } of unknown) {
      const row = this.unknowns.get(criterion) ?? { count: 0, holds: 0, alone: 0, claimed: 0, right: 0 };
      this.unknowns.set(criterion, row);
      row.count++;
      if (!falsehoods.some((each) => each.criterion === criterion)) row.holds++;
      if (unknown.length > 1) continue;
      row.alone++;
      row.claimed += fit.fitProbability ?? 0;
      if (falsehoods.length === 0) row.right++;
    }
    if (!isSure(fit)) return;
    for (const { criterion, blame, ratio } of falsehoods) {
      const safety = SAFETY_CRITERIA.has(criterion);
      const key = safety ? keyOf(criterion, blame, ratio > GUARANTEE) : `${criterion}, ${blame}`;
      const table = safety ? this.safety : this.other;
      table.set(key, (table.get(key) ?? 0) + 1);
      if (safety && ratio <= GUARANTEE) this.worstRatio = Math.max(this.worstRatio, ratio);
      if (safety || blame === 'judged') this.found.push({ record, partId: part.truth.id, what: `false ${fit.verdict}: ${key}`, answer: fit, world: world.seed });
    }
  }

  /** False direct or adapt on a safety criterion, with this blame; only those over the guarantee, or those within it too. */
  countSafety(blames: readonly Blame[], withinToo: boolean): number {
    return [...this.safety].reduce((sum, [key, count]) => {
      const [, blame, how] = key.split(', ');
      return blames.includes(blame as Blame) && (withinToo || how === 'really') ? sum + count : sum;
    }, 0);
  }

  describeSafety(): string[] {
    return [...this.safety].toSorted().map(([key, count]) => `  ${key}: ${count}`);
  }

  describeUnknowns(): string[] {
    return [...this.unknowns].toSorted((a, b) => b[1].count - a[1].count).map(([criterion, { count, holds, alone, claimed, right }]) =>
      `  ${criterion.padEnd(18)} unknown ${String(count).padStart(6)}, holds ${share(holds, count)}; alone ${String(alone).padStart(6)}${alone === 0 ? '' : `, claimed ${share(claimed, alone)}, works ${share(right, alone)}`}`);
  }

  describeTraps(): string[] {
    return TRAPS.flatMap((trap) => {
      const row = this.traps.get(trap);
      return row ? [`  ${trap.padEnd(14)} ${String(row.armed).padStart(6)} must not be fitted: refused ${row.refused}, unproven ${row.unproven}, accepted ${row.accepted}, accepted where a reading was off or nobody recorded the demand ${row.unasked}`] : [];
    });
  }
}

function share(part: number, of: number): string {
  return `${(100 * part / of).toFixed(1)} %`;
}

function keyOf(criterion: Criterion, blame: Blame, really: boolean): string {
  return `${criterion}, ${blame}, ${really ? 'really' : 'within the guarantee'}`;
}

function whyMissed(fit: Fit | undefined): string {
  if (!fit) return 'refused';
  const unknown = fit.checks.filter(({ outcome }) => outcome === 'unknown').map(({ criterion }) => criterion);
  return unknown.length > 0 ? `unproven by ${unknown.length > 2 ? 'three or more' : unknown.join(' and ')}` : 'behind others';
}

function isSure({ verdict }: Fit): boolean {
  return verdict === 'direct' || verdict === 'adapt';
}

/** The catalogue leaves nothing out that a check could ask for. */
function isWhole({ truth, row }: TruePart): boolean {
  return JSON.stringify({ ...truth, numbers: 0 }) === JSON.stringify({ ...row, numbers: 0 });
}
