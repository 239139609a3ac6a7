import { describe, expect, it } from 'vitest';
import { NO_CURRENCY, type StockRow } from '../../catalog-schema/index.ts';
import type { Desk } from './desk.ts';
import { ServiceFault } from './service.ts';
import { ShelfBooks } from './shelf-books.ts';
import type { Errand } from './device.ts';

const row: StockRow = { partId: 'p', bin: 'A1', onHand: 4, reserved: 1, free: 3, unitCost: 10, currency: 'EUR', seq: 3 };

function makeDesk(author = 'Ans') {
  const world = { errands: [] as Errand[], refuses: false, waits: false, reads: 0, fetched: [] as string[] };
  let ids = 0;
  const desk = {
    service: { readStock: async () => { world.reads += 1; return [row]; } },
    shop: { open: async () => {}, refreshShelf: async () => {}, parts: { fetch: async (wanted: string[]) => { world.fetched.push(...wanted); } }, prices: undefined },
    settings: { values: { author } }, now: () => new Date('2026-11-25T10:00:00Z'), newId: () => `id-${ids += 1}`,
    device: {
      waiting: [], submit: async (errand: Errand) => {
        if (world.refuses) throw new ServiceFault('taken', 'none free');
        world.errands.push(errand);
        return world.waits ? 'waiting' : 'sent';
      },
    },
  } as unknown as Desk;
  return { world, books: new ShelfBooks(desk) };
}

describe('the books as a screen reads and writes them', () => {
  it('read the rows and the names of their parts', async () => {
    const { world, books } = makeDesk();
    expect([books.rows, books.currency]).toEqual([undefined, NO_CURRENCY]);
    await books.read();
    expect([books.rows, books.currency, world.fetched]).toEqual([[row], 'EUR', ['p']]);
  });

  it('book moves with an id, a moment and a name, and are read again after', async () => {
    const { world, books } = makeDesk();
    expect(await books.book([{ kind: 'out', partId: 'p', bin: 'A1', qty: 1 }])).toBe('sent');
    expect(world.errands).toEqual([{ kind: 'moves', body: { moves: [{ kind: 'out', partId: 'p', bin: 'A1', qty: 1, id: 'id-1', at: '2026-11-25T10:00:00.000Z', by: 'Ans' }] } }]);
    expect(world.reads).toBe(1);
  });

  it('leave the name out where nobody said theirs', async () => {
    const { world, books } = makeDesk('');
    await books.book([{ kind: 'out', partId: 'p', bin: 'A1', qty: 1 }]);
    expect(JSON.stringify(world.errands)).not.toContain('"by"');
  });

  it('tell a no, and are read again all the same', async () => {
    const { world, books } = makeDesk();
    world.refuses = true;
    await expect(books.book([{ kind: 'out', partId: 'p', bin: 'A1', qty: 1 }])).rejects.toThrow(/none free/);
    expect(world.reads).toBe(1);
  });

  it('book a large count in pieces, and wait where one of them waits', async () => {
    const { world, books } = makeDesk();
    world.waits = true;
    const moves = Array.from({ length: 1_100 }, () => ({ at: '2026-11-25T09:00:00.000Z', move: { kind: 'count' as const, partId: 'p', bin: 'A1', qty: 1 } }));
    expect(await books.bookAt(moves, 'Kit')).toBe('waiting');
    expect(world.errands.map((errand) => (errand.kind === 'moves' ? errand.body.moves.length : 0))).toEqual([500, 500, 100]);
  });
});
