import type { BenchRecord, Criterion, Part } from '../../../catalog-schema/index.ts';
import type { PartFacts } from '../part-facts.ts';
import { SETTINGS, settingOf } from '../settings.ts';
import type { Finding, Notes } from './finding.ts';
import type { Kin, Member } from './kin.ts';
import type { NumberEvidence } from './marked-number.ts';
import { listOpenDemands, type Demand } from './removed-demands.ts';
import { gatherRemovedEvidence } from './removed-evidence.ts';
import { traitsOf, type Traits } from './traits.ts';

/** Candidates lighter than this, against the heaviest, change nothing that is shown. */
const LEAST_WEIGHT = 1e-3;

/**
 * The removed part, as far as the record tells which of its class it was. What a machine asks and nobody wrote down, the removed part met: so the
 * chance that a part meets it is a mean over the parts that the removed one may have been, each at the weight of what is recorded (Bayes), of the
 * product over the open demands. A part like the heaviest candidates meets all of them together, whatever the number of demands.
 * Some of the weight stands for a removed part that is none of these.
 */
export class RemovedPart {
  readonly #record: BenchRecord;
  readonly #kins: readonly Kin[];
  readonly #numbers: ReadonlyMap<string, NumberEvidence>;
  readonly #demands: readonly Demand[];
  /** candidates and, last, the weight of none of them; add up to 1 */
  #candidates: { readonly olds: readonly Traits[]; readonly weights: Float64Array } | undefined;
  /** by demand and what answers it: the chance at each candidate */
  readonly #rows = new Map<Demand, Map<string | number, Float64Array>>();

  constructor(record: BenchRecord, starter: boolean, kins: readonly Kin[], numbers: ReadonlyMap<string, NumberEvidence>) {
    this.#record = record;
    this.#kins = kins;
    this.#numbers = numbers;
    this.#demands = listOpenDemands(record, starter);
  }

  /** The chance that a part meets all that is not recorded; 1 where all is. Cost: some microseconds for each hundred candidates. */
  chanceOf(part: Part, facts: PartFacts, notes: Notes): number {
    if (this.#demands.length === 0) return 1;
    this.#note(notes);
    return this.#chanceOfAll(part, facts, this.#demands);
  }

  /** The chance that it meets the open demands of one criterion; never less than that of all. */
  chanceOfCriterion(part: Part, facts: PartFacts, criterion: Criterion): number {
    return this.#chanceOfAll(part, facts, this.#demands.filter((demand) => demand.criterion === criterion));
  }

  /** The criterion among the open demands in which an unknown finding is counted, and nowhere else; undefined where it stands by itself. */
  answers({ criterion, hangsOn, unsaid, outcome, probability }: Finding): Criterion | undefined {
    if (outcome !== 'unknown' || unsaid || probability !== undefined) return undefined;
    const open = hangsOn === 'wires' ? 'wiring' : criterion === 'wiring' ? undefined : criterion;
    return this.#demands.some((demand) => demand.criterion === open) ? open : undefined;
  }

  /** How often relatives hold a criterion that a part leaves unsaid, and the parts of its class, which weigh little beside them. */
  chanceOfUnsaid(part: Part, facts: PartFacts, ofClass: number, heldBy: (member: Member) => number | undefined): number {
    let weight = settingOf('kinPrior');
    let held = weight * ofClass;
    for (const kin of this.#kins) {
      for (const { member, likeness } of kin.partClass === part.partClass ? kin.relativesOf(part, traitsOf(part, facts)) : []) {
        const chance = heldBy(member);
        if (chance === undefined) continue;
        weight += likeness;
        held += likeness * chance;
      }
    }
    return held / weight;
  }

  #rowsOf(part: Part, facts: PartFacts, demands: readonly Demand[]): readonly Float64Array[] {
    const own = traitsOf(part, facts);
    const kin = this.#kins.find(({ partClass }) => partClass === part.partClass);
    let relatives: ReturnType<Kin['relativesOf']> | undefined;
    return demands.map((demand) => {
      if (demand.answerOf(own) !== undefined) return this.#rowOf(demand, own);
      // What it leaves unsaid is what its relatives say.
      relatives ??= kin?.relativesOf(part, own) ?? [];
      const prior = settingOf('kinPrior');
      const mean = new Float64Array(this.#weighed().weights.length).fill(prior * settingOf('removedUnsaidHolds'));
      let weight = prior;
      for (const { member, likeness } of relatives) {
        if (demand.answerOf(member.traits) === undefined) continue;
        weight += likeness;
        this.#rowOf(demand, member.traits).forEach((chance, index) => { mean[index]! += likeness * chance; });
      }
      return mean.map((sum) => sum / weight);
    });
  }

  #rowOf(demand: Demand, own: Traits): Float64Array {
    let rows = this.#rows.get(demand);
    if (!rows) this.#rows.set(demand, rows = new Map());
    const answer = demand.answerOf(own)!;
    let row = rows.get(answer);
    if (!row) {
      const { olds, weights } = this.#weighed();
      const elsewhere = settingOf(demand.elsewhere);
      const chances = olds.map((old) => demand.holds(own, old));
      const said = chances.reduce<{ sum: number; weight: number }>((all, chance, index) =>
        (chance === undefined ? all : { sum: all.sum + weights[index]! * chance, weight: all.weight + weights[index]! }), { sum: 0, weight: 0 });
      const mean = said.weight > 0 ? said.sum / said.weight : elsewhere;
      rows.set(answer, row = Float64Array.from([...chances.map((chance) => chance ?? mean), elsewhere]));
    }
    return row;
  }

  #chanceOfAll(part: Part, facts: PartFacts, demands: readonly Demand[]): number {
    const rows = this.#rowsOf(part, facts, demands);
    const mean = this.#weighed().weights.reduce((sum, weight, index) => sum + rows.reduce((product, row) => product * row[index]!, weight), 0);
    // Given the removed part, demands still hang together more than a product knows: a middling chance is too low. Rises from 0 at 0 to 1 at 1.
    return mean + settingOf('demandsTogether') * (mean * Math.max(0, 1 - mean)) ** 3;
  }

  #weighed(): { readonly olds: readonly Traits[]; readonly weights: Float64Array } {
    if (this.#candidates) return this.#candidates;
    const evidence = gatherRemovedEvidence(this.#record, this.#numbers);
    const all = this.#kins.flatMap(({ members }) => members.map((member) => ({ old: member.traits, weight: evidence.weigh(member) })));
    const most = all.reduce((greatest, { weight }) => Math.max(greatest, weight), 0);
    const kept = all.filter(({ weight }) => weight > LEAST_WEIGHT * most);
    const elsewhere = settingOf('removedElsewhere') * evidence.byChance + all.reduce((sum, { weight }) => sum + weight, 0) - kept.reduce((sum, { weight }) => sum + weight, 0);
    const total = kept.reduce((sum, { weight }) => sum + weight, elsewhere);
    return this.#candidates = { olds: kept.map(({ old }) => old), weights: Float64Array.from([...kept.map(({ weight }) => weight / total), total > 0 ? elsewhere / total : 1]) };
  }

  #note(notes: Notes): void {
    const count = this.#kins.reduce((sum, { members }) => sum + members.length, 0);
    const open = [...new Set(this.#demands.map(({ criterion }) => criterion))].join(', ');
    notes.assume(`not all that a machine asks is recorded (${open}): the removed part met it, and is taken for each of ${count} parts by what is recorded of it; `
      + `weights and chances: ${REMOVED_SETTINGS.map((name) => `${name} ${SETTINGS[name].value}`).join(', ')} (common practice, no source)`);
  }
}

const REMOVED_SETTINGS = (Object.keys(SETTINGS) as (keyof typeof SETTINGS)[]).filter((name) => name.startsWith('removed') || name.startsWith('kin') || name === 'demandsTogether');
