import type { FindAnswer, ReplacementRow, Replacements } from '../../../catalog-schema/index.ts';
import { normaliseNumber } from '../normalise-number.ts';
import { rankOf, type PartSource } from './part-source.ts';

interface Counts { held: number; cameBack: number }

/** What a shop found of parts, by part and by the number a part took the place of. */
export class ShopFindings {
  readonly #source: PartSource;
  readonly #ofPart = new Map<string, Counts>();
  /** by number without case and separators: of each part, and the number as it was written first */
  readonly #forNumber = new Map<string, Map<string, Counts & { number: string }>>();

  constructor(rows: Replacements, source: PartSource) {
    this.#source = source;
    for (const row of rows) {
      if (row.number === undefined) addTo(this.#ofPart, row.partId, row);
      else {
        const wanted = normaliseNumber(row.number);
        const parts = this.#forNumber.get(wanted) ?? new Map<string, Counts & { number: string }>();
        const before = parts.get(row.partId);
        parts.set(row.partId, { number: before?.number ?? row.number, held: (before?.held ?? 0) + row.held, cameBack: (before?.cameBack ?? 0) + row.cameBack });
        this.#forNumber.set(wanted, parts);
      }
    }
  }

  /** What was found of a part fitted for this number; without that, of the part whatever it was fitted for. */
  of(partId: string, wanted: string | undefined): FindAnswer['hits'][number]['shop'] {
    const own = wanted === undefined ? undefined : this.#forNumber.get(wanted)?.get(partId);
    if (own) return { held: own.held, cameBack: own.cameBack, forNumber: true };
    const all = this.#ofPart.get(partId);
    return all && all.held + all.cameBack > 0 ? { held: all.held, cameBack: all.cameBack, forNumber: false } : undefined;
  }

  /** Parts of the catalogue that were fitted for this number and held at least once, in order of id. */
  heldFor(wanted: string): { rank: number; number: string }[] {
    return [...this.#forNumber.get(wanted) ?? []].flatMap(([partId, { held, number }]) => {
      const rank = held > 0 ? rankOf(this.#source, partId) : undefined;
      return rank === undefined ? [] : [{ rank, number }];
    }).sort((a, b) => a.rank - b.rank);
  }

  /** 0 to 1: the mean of how often it holds, from an even prior (Laplace's rule of succession); 0.5 where nothing is known. */
  trustIn(partId: string, wanted: string | undefined): number {
    const { held, cameBack } = this.of(partId, wanted) ?? { held: 0, cameBack: 0 };
    return (held + 1) / (held + cameBack + 2);
  }
}

function addTo(counts: Map<string, Counts>, key: string, { held, cameBack }: Pick<ReplacementRow, 'held' | 'cameBack'>): void {
  const before = counts.get(key) ?? { held: 0, cameBack: 0 };
  counts.set(key, { held: before.held + held, cameBack: before.cameBack + cameBack });
}
