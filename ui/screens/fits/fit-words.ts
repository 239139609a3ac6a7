import type { Fit, KitItem, Prices, ShelfRow } from '../../../catalog-schema/index.ts';
import { sayCheckWhy } from '../../elements/say-why.ts';
import { formatArrival } from '../../format.ts';
import { words } from '../../words.ts';
import { fitsWords } from '../../words/fits.ts';
import { findWhereabouts } from '../get/where-to-get.ts';

/** What a fit takes, in a few words: what to make up (without sizes), what to move, what to drill. 'nothing but the part' where it takes nothing. */
export function sayWhatItTakes(fit: Fit): string {
  const moved = fit.rewire?.wires.filter((wire) => wire.moved).length ?? 0;
  const leftOff = fit.rewire?.leftOff.length ?? 0;
  const holes = fit.placement?.newHoles.length ?? 0;
  const all = [
    ...listKit(fit.kit),
    ...(moved > 0 ? [fitsWords.moves(moved)] : []),
    ...(leftOff > 0 ? [fitsWords.leavesOff(leftOff)] : []),
    ...(holes > 0 ? [fitsWords.holes(holes)] : []),
    ...(fit.placement?.flipped === true ? [fitsWords.turnedOver] : []),
  ];
  return all.length === 0 ? fitsWords.takesNothing : words.list(all);
}

/** What is to be made up, without sizes, alike items counted together, in the order in which they first come: '3 × ring lug'. */
export function listKit(kit: readonly KitItem[]): string[] {
  const counts = new Map<string, number>();
  for (const { item, qty } of kit) counts.set(item, (counts.get(item) ?? 0) + qty);
  return [...counts].map(([item, qty]) => fitsWords.kitItem(qty, item, ''));
}

/** Where the part is: 'bin C4, 3 free', the day it comes, or that nobody offers it. By the source that its cost counts with, where it has one. */
export function sayWhere({ partId, source }: Pick<Fit, 'partId' | 'source'>, shelf: readonly ShelfRow[], prices: Prices | undefined): string {
  if (source !== undefined && source.from !== 'shelf' && prices !== undefined) return fitsWords.comes(formatArrival(source.arrives, prices.today));
  const where = findWhereabouts(partId, 1, shelf, prices);
  switch (where.kind) {
    case 'shelf': return fitsWords.inBin(where.bin, where.free);
    case 'offer': return fitsWords.comes(formatArrival(where.offer.arrives, prices!.today));
    case 'nowhere': return fitsWords.nowhere;
  }
}

/** The reason that a refused or unproven fit is so: its first failed check, else its first open one. */
export function sayReason(fit: Fit): string {
  const telling = fit.checks.find((check) => check.outcome === 'fail') ?? fit.checks.find((check) => check.outcome === 'unknown');
  return telling === undefined ? '' : `${words.criteria[telling.criterion]}: ${sayCheckWhy(telling.why)}`;
}
