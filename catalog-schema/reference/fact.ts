/** One published figure as the data files hold it: one row a line, each with where it comes from. */
export interface Fact {
  readonly designation: string;
  readonly quantity: string;
  readonly value: number | string;
  readonly unit: string;
  /** the standard or text; 'common practice' has none */
  readonly source: string;
  /** read in a publication, computed from one, or written down from memory */
  readonly obtained: string;
  readonly confidence: string;
  readonly note: string;
  /** where it was read, when that is not the source itself */
  readonly readAt?: string;
}

/** Where a figure comes from, in one phrase for a person: 'IEC 60947-1 Table 4 (from memory)'. */
export function citeFact(fact: Pick<Fact, 'source' | 'obtained'>): string {
  return fact.obtained === 'from memory' ? `${fact.source} (from memory)` : fact.source;
}

/** The value of a row that must be a number; a data file that breaks this is our own mistake. */
export function numberOf(fact: Fact): number {
  if (typeof fact.value !== 'number') throw new Error(`reference: ${fact.designation} ${fact.quantity} is ${JSON.stringify(fact.value)}, not a number`);
  return fact.value;
}

/** The rows of each designation, in the order in which the file first names them. */
export function groupFacts(facts: readonly Fact[]): Map<string, Fact[]> {
  const grouped = new Map<string, Fact[]>();
  for (const fact of facts) {
    const own = grouped.get(fact.designation);
    if (own) own.push(fact);
    else grouped.set(fact.designation, [fact]);
  }
  return grouped;
}

/** The row of one quantity among the rows of a designation. */
export function findFact(facts: readonly Fact[], quantity: string): Fact {
  const found = facts.find((fact) => fact.quantity === quantity);
  if (!found) throw new Error(`reference: ${facts[0]?.designation ?? ''} has no ${quantity}`);
  return found;
}
