import type { PlainAnswer } from './plain-rewire.ts';

/** Counts what a run of cases was made of: a comparison over cases of one kind shows little. */
export class Mix {
  #counts = new Map<string, number>();
  #cases = 0;

  add(plain: PlainAnswer): void {
    this.#cases++;
    this.#count(plain.plans.length > 0 ? 'with a plan' : 'without a plan');
    if (plain.plans.some((plan) => plan.waysRight.includes(false))) this.#count('with a plan that leans on the case');
    if (plain.plans.some((plan) => plan.jumpers.length > 0)) this.#count('with a jumper in some plan');
    if (plain.plans.length > 20) this.#count('with more than 20 plans');
    this.#count(`obvious plan ${plain.obvious}`);
    for (const code of plain.obviousCodes) this.#count(`refused as ${code}`);
  }

  /** Share of the cases, 0 to 1. */
  shareOf(kind: string): number {
    return this.#cases === 0 ? 0 : (this.#counts.get(kind) ?? 0) / this.#cases;
  }

  /** One line a kind, most frequent first. */
  describe(): string[] {
    return [...this.#counts].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1))
      .map(([kind, count]) => `${(100 * count / this.#cases).toFixed(1).padStart(5)} %  ${kind}`);
  }

  #count(kind: string): void {
    this.#counts.set(kind, (this.#counts.get(kind) ?? 0) + 1);
  }
}
