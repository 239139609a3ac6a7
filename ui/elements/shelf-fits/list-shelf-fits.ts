import type { Criterion, Fit, FitAnswer, Part, StockRow } from '../../../catalog-schema/index.ts';

/** Why a part on the shelf is shown for another. */
export type ShelfFitKind = 'same' | 'successor' | 'other';

/** A part that lies free on the shelf and may go on. */
export interface ShelfFit {
  readonly partId: string;
  readonly kind: ShelfFitKind;
  /** where most of it is free */
  readonly bin: string;
  readonly free: number;
  /** what the matching says of it; undefined where it was not asked, or refuses it: the part itself is shown all the same */
  readonly fit: Fit | undefined;
  /** checks that nobody has the readings for */
  readonly open: readonly Criterion[];
  /** its coil returns through the case and that of the part in the hand does not: interlocks in the return would be passed by */
  readonly throughCase: boolean;
}

/**
 * What fits and lies on the shelf: the part itself, those that took its place, then the others in the order of the matching, those whose coil
 * returns another way last: a number alone does not tell what the machine's interlocks act on. Of an answer that refuses a part only the part
 * itself is listed.
 * @param known the part in the hand and its successors, where it was found by a number
 */
export function listShelfFits(answer: FitAnswer, rows: readonly StockRow[], known: { readonly partId: string; readonly currentIds: readonly string[] } | undefined, partOf: (partId: string) => Part | undefined): ShelfFit[] {
  const fits = new Map(answer.fits.map((fit) => [fit.partId, fit]));
  const first = known === undefined ? [] : [known.partId, ...known.currentIds.filter((id) => id !== known.partId)];
  const others = answer.fits.filter(({ partId, verdict }) => verdict !== 'no' && !first.includes(partId)).map(({ partId }) => partId);
  const inHand = known === undefined ? undefined : partOf(known.partId);
  const differs = (partId: string): boolean => inHand !== undefined && !returnsThroughCase(inHand) && returnsThroughCase(partOf(partId));
  return [...first, ...others.filter((id) => !differs(id)), ...others.filter(differs)].flatMap((partId): ShelfFit[] => {
    const bins = rows.filter((row) => row.partId === partId && row.free > 0).toSorted((a, b) => b.free - a.free || (a.bin < b.bin ? -1 : 1));
    const fit = fits.get(partId);
    // A successor that the matching refuses does not go on, whatever its number says.
    if (bins.length === 0 || (fit?.verdict === 'no' && partId !== known?.partId)) return [];
    return [{
      partId, kind: partId === known?.partId ? 'same' : first.includes(partId) ? 'successor' : 'other', bin: bins[0]!.bin, free: bins[0]!.free,
      fit: fit?.verdict === 'no' ? undefined : fit, open: (fit?.checks ?? []).filter(({ outcome }) => outcome === 'unknown').map(({ criterion }) => criterion),
      throughCase: differs(partId),
    }];
  });
}

function returnsThroughCase(part: Part | undefined): boolean {
  return part?.circuit.some((element) => element.kind === 'coil' && element.between.includes('case')) ?? false;
}
