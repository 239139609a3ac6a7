import type { Fit, FitFilter, Prices, Verdict } from '../../../catalog-schema/index.ts';

export type VerdictChoice = 'may-go-on' | Verdict;
/** 'shelf', or a supplier's id, or anywhere. */
export type PlaceChoice = { readonly kind: 'anywhere' } | { readonly kind: 'shelf' } | { readonly kind: 'supplier'; readonly id: string };

export const VERDICT_CHOICES: readonly VerdictChoice[] = ['may-go-on', 'direct', 'adapt', 'unproven', 'no'];

/** Which of the fits the list shows. */
export interface ListFilter { readonly verdict: VerdictChoice; readonly place: PlaceChoice }

export const NO_FILTER: ListFilter = { verdict: 'may-go-on', place: { kind: 'anywhere' } };

/** Where parts are to be had today: free on the shelf, on offer by which suppliers. */
export interface Supply { readonly onShelf: ReadonlySet<string>; readonly offeredBy: ReadonlyMap<string, ReadonlySet<string>> }

/** What the prices say of today: an offer that has run out is none. */
export function readSupply(prices: Prices | undefined): Supply {
  const offeredBy = new Map<string, Set<string>>((prices?.suppliers ?? []).map(({ id }) => [id, new Set()]));
  for (const { supplierId, partId, validUntil } of prices?.offers ?? []) {
    if (validUntil === undefined || validUntil >= prices!.today) offeredBy.get(supplierId)?.add(partId);
  }
  return { onShelf: new Set((prices?.shelf ?? []).filter(({ onHand, reserved = 0 }) => onHand > reserved).map(({ partId }) => partId)), offeredBy };
}

/** The fits that a filter lets through, in the order given. */
export function filterFits(fits: readonly Fit[], filter: ListFilter, supply: Supply): Fit[] {
  return fits.filter((fit) => hasVerdict(fit, filter.verdict) && isAt(fit, filter.place, supply));
}

/** The same filter in the words of a question to `fit`. */
export function questionOfFilter({ verdict, place }: ListFilter): { all: boolean; only: FitFilter } {
  return {
    all: verdict === 'no',
    only: {
      verdicts: verdict === 'may-go-on' ? ['direct', 'adapt', 'unproven'] : [verdict],
      ...(place.kind === 'shelf' ? { onShelf: true } : {}), ...(place.kind === 'supplier' ? { supplierId: place.id } : {}),
    },
  };
}

function hasVerdict({ verdict }: Fit, choice: VerdictChoice): boolean {
  return choice === 'may-go-on' ? verdict !== 'no' : verdict === choice;
}

function isAt({ partId }: Fit, place: PlaceChoice, supply: Supply): boolean {
  switch (place.kind) {
    case 'anywhere': return true;
    case 'shelf': return supply.onShelf.has(partId);
    case 'supplier': return supply.offeredBy.get(place.id)?.has(partId) ?? false;
  }
}
