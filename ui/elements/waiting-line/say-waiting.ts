import type { WaitingItem } from '../../client/index.ts';
import { formatNumber } from '../../format.ts';
import { words } from '../../words.ts';

/** What waits, in words; `nameOf` gives a part's title. */
export function sayWaiting({ what, count, errand, photograph }: WaitingItem, nameOf: (partId: string) => string): string {
  const { items } = words.offline;
  if (what === 'changes') return items.changes(count);
  if (what === 'photograph') {
    const { bytes = 0, sentBytes = 0 } = photograph ?? {};
    return items.photograph(bytes === 0 ? 0 : Math.floor((100 * sentBytes) / bytes), formatNumber(bytes / 1e6, 1));
  }
  switch (errand?.kind) {
    case 'start-job': return items['start-job'];
    case 'reserve': return (errand.body.jobId === undefined ? items.sell : items.reserve)(errand.body.qty, nameOf(errand.body.partId));
    case 'release': return items.release;
    case 'order-line': return items['order-line'](errand.body.qty, nameOf(errand.body.partId));
    case 'moves': {
      const { moves } = errand.body;
      const [kinds, parts] = [[...new Set(moves.map(({ kind }) => words.shelf.kinds[kind]))], [...new Set(moves.map(({ partId }) => nameOf(partId)))]];
      return items.moves(words.list(kinds), parts.length > 3 ? words.shelf.parts(parts.length) : words.list(parts));
    }
    case 'order-acts': return items['order-acts'](errand.body.number, words.list([...new Set(errand.body.acts.map(({ kind }) => words.orders.deeds[kind]))]));
    case 'outcome': return items.outcome(nameOf(errand.body.partId));
    case undefined: return '';
  }
}
