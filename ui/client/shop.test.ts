import { describe, expect, it } from 'vitest';
import type { Part } from '../../catalog-schema/index.ts';
import type { EngineClient } from '../worker/index.ts';
import { ServiceFault, type CatalogueFile, type Service } from './service.ts';
import { Shop } from './shop.ts';

const settle = (): Promise<void> => new Promise((resolve) => { setTimeout(resolve, 0); });
const fileOf = (tag: string, count: number): CatalogueFile => ({ bytes: new ArrayBuffer(count), tag });
const unreachable = (): Promise<never> => Promise.reject(new ServiceFault('unreachable', ''));

/** A server whose catalogue has a tag and as many parts as its file has bytes; an engine that counts them; and what was kept. */
function makeShop(given: { server: CatalogueFile | undefined; kept?: CatalogueFile; cannotRead?: string; parts?: Part[] }) {
  const loaded: (ArrayBuffer | readonly Part[])[] = [];
  const asked: (string | undefined)[] = [];
  const keeper = { file: given.kept };
  const service = {
    readSnapshot: (tag: string | undefined) => {
      asked.push(tag);
      if (given.server === undefined) return unreachable();
      return Promise.resolve(given.server.tag === tag ? 'unchanged' as const : given.server);
    },
    readCatalogue: () => (given.parts === undefined ? unreachable() : Promise.resolve(given.parts)),
    readPrices: unreachable, readShelf: unreachable, readHistory: unreachable, readReplacements: unreachable,
  } as unknown as Service;
  const engine = {
    load: (catalogue: ArrayBuffer | readonly Part[]) => {
      if (catalogue === given.kept?.bytes && given.cannotRead !== undefined) return Promise.reject(new Error(given.cannotRead));
      loaded.push(catalogue);
      return Promise.resolve(catalogue instanceof ArrayBuffer ? catalogue.byteLength : catalogue.length);
    },
    parts: () => Promise.resolve([]),
  } as unknown as EngineClient;
  const shop = new Shop(service, engine, { read: () => Promise.resolve(keeper.file), keep: async (file) => { keeper.file = file; } });
  return { shop, loaded, asked, keeper };
}

describe('opening the shop', () => {
  it('fetches the catalogue once and keeps it', async () => {
    const { shop, asked, keeper } = makeShop({ server: fileOf('a', 3) });
    await Promise.all([shop.open(), shop.open()]);
    expect([shop.parts.size, asked, keeper.file?.tag]).toEqual([3, [undefined], 'a']);
  });

  it('serves from what was kept without a network', async () => {
    const { shop, loaded } = makeShop({ server: undefined, kept: fileOf('a', 3) });
    await shop.open();
    await settle();
    expect([shop.parts.size, loaded.length, shop.prices, shop.shelf]).toEqual([3, 1, undefined, []]);
  });

  it('leaves what was kept where the server has the same', async () => {
    const { shop, loaded, asked } = makeShop({ server: fileOf('a', 3), kept: fileOf('a', 3) });
    await shop.open();
    await settle();
    expect([asked, loaded.length]).toEqual([['a'], 1]);
  });

  it('begins with what was kept and goes on with the server\'s newer one, so that answers are asked for anew', async () => {
    const { shop, keeper } = makeShop({ server: fileOf('b', 5), kept: fileOf('a', 3) });
    await shop.open();
    const { history } = shop;
    expect(shop.parts.size).toBe(3);
    await settle();
    expect([shop.parts.size, keeper.file?.tag, shop.history === history]).toEqual([5, 'b', false]);
  });

  it('fetches another where what was kept cannot be read any more', async () => {
    const { shop, asked } = makeShop({ server: fileOf('b', 5), kept: fileOf('a', 3), cannotRead: 'a snapshot of version 1' });
    await shop.open();
    expect([shop.parts.size, asked]).toEqual([5, [undefined]]);
  });

  it('takes the parts themselves where the server is too busy to make the file', async () => {
    const part: Part = { id: 'p', partClass: 'start-relay', title: 'P', terminals: [], circuit: [] };
    const { shop } = makeShop({ server: undefined, parts: [part] });
    await shop.open();
    expect(shop.parts.size).toBe(1);
  });

  it('says that the server was not reached where nothing was kept, and tries again when asked again', async () => {
    const { shop, asked } = makeShop({ server: undefined });
    await expect(shop.open()).rejects.toMatchObject({ kind: 'unreachable' });
    await expect(shop.open()).rejects.toMatchObject({ kind: 'unreachable' });
    expect(asked).toHaveLength(2);
  });
});
