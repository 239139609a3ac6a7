import { createHash } from 'node:crypto';
import { importCatalogue, type Catalogue, type InputFault, type Part } from '../../../catalog-schema/index.ts';
import { listParts, putParts, type Store, type Tx } from '../../store/index.ts';

/** The catalogue as it stands in memory; replaced as a whole, never changed. */
export interface CatalogueSnapshot {
  readonly parts: Catalogue;
  readonly byId: ReadonlyMap<string, Part>;
  /** the parts as JSON, ready to be sent */
  readonly json: string;
  /** names this content */
  readonly etag: string;
}

export interface CatalogueService {
  /** What fits are computed against; loaded once and after each import. */
  current(): CatalogueSnapshot;
  /** Takes in the good rows of a list, and says what is wrong with the others. */
  importParts(rows: readonly unknown[]): Promise<{ imported: number; faults: readonly InputFault[] }>;
  /** The same inside a transaction that does more; call `reload` once it has been committed. */
  importPartsIn(tx: Tx, rows: readonly unknown[]): Promise<{ parts: Catalogue; imported: number; faults: readonly InputFault[] }>;
  reload(): Promise<void>;
}

export async function createCatalogueService(store: Store): Promise<CatalogueService> {
  let snapshot = await loadSnapshot(store);

  const service: CatalogueService = {
    current: () => snapshot,
    reload: async () => {
      snapshot = await loadSnapshot(store);
    },
    importParts: async (rows) => {
      const { imported, faults } = await store.transact((tx) => service.importPartsIn(tx, rows));
      await service.reload();
      return { imported, faults };
    },
    importPartsIn: async (tx, rows) => {
      const present = (await listParts(tx)).map((row) => JSON.parse(row.json) as Part);
      const { parts, imported, faults } = importCatalogue(rows, present);
      const positions = new Map(parts.map((part, position) => [part.id, position]));
      await putParts(tx, imported.map((part) => ({ id: part.id, position: positions.get(part.id)!, json: JSON.stringify(part) })));
      return { parts, imported: imported.length, faults };
    },
  };
  return service;
}

async function loadSnapshot(store: Store): Promise<CatalogueSnapshot> {
  const rows = await listParts(store.db);
  const json = `[${rows.map((row) => row.json).join(',')}]`;
  // What was let in had been read by the schema of its day; later versions of the schema only add keys.
  const parts = rows.map((row) => JSON.parse(row.json) as Part);
  return {
    parts, json,
    byId: new Map(parts.map((part) => [part.id, part])),
    etag: `"${createHash('sha256').update(json).digest('base64url').slice(0, 22)}"`,
  };
}
