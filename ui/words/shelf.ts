import type { StockMoveKind } from '../../catalog-schema/index.ts';

/** What of the shelf's words every page needs; those of its own screens come with them (`shelf-screens.ts`), so that a first page does without. */
export const shelfNames = {
  title: 'Shelf',
  countingTitle: 'Counting',
  labelsTitle: 'Labels',
  free: (count: number): string => (count < 0 ? `${-count} short` : count === 0 ? 'none free' : `${count} free`),
  bin: (bin: string): string => `Bin ${bin}`,
  parts: (count: number): string => `${count} parts`,
  kinds: {
    in: 'came in', out: 'went out', reserve: 'put aside', release: 'free again', count: 'counted', return: 'came back', scrap: 'thrown away', transfer: 'moved',
  } satisfies Record<StockMoveKind, string>,
};
