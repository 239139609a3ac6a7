import {
  isCounted, type LeadLearned, type OfferEdit, type OfferState, type ShopCard, type ShopCardEdit, type SupplierCard, type SupplierEdit, type SupplierState,
} from '../../../catalog-schema/index.ts';
import { learnLeadTime } from '../../engine/reorder/index.ts';
import {
  countOffers, deleteOffer, findShop, findShopEdit, insertShopEdit, listLastShopEdits, listLeadDays, listSuppliers, putOffer, putShop, putSupplier,
  type Db, type ShopEditRow, type Store, type Tx,
} from '../../store/index.ts';
import type { CatalogueService } from '../catalogue/catalogue-service.ts';
import { done, refuse, refuseFault, type Outcome } from '../outcome.ts';
import { readCurrency, readShopCard, readShopOffers, readSupplierCards, storable, writeCard, writeOffer } from './supplier-cards.ts';

/** Who the shop buys from, on what terms, and what it pays in taxes. What is written keeps who wrote it and when. */
export interface SupplierService {
  list(): Promise<SupplierState[]>;
  read(id: string): Promise<Outcome<SupplierState>>;
  /** Writes a card anew, or adds a supplier. A repeated id changes nothing. */
  write(edit: SupplierEdit): Promise<Outcome<{ created: boolean; state: SupplierState }>>;
  offers(supplierId: string): Promise<Outcome<OfferState[]>>;
  /** Writes an offer in place of the one there is for the part, or takes it back. Answers the supplier's offer as it stands; null: none. */
  writeOffer(supplierId: string, edit: OfferEdit): Promise<Outcome<OfferState | null>>;
  shopCard(): Promise<ShopCard>;
  writeShopCard(edit: ShopCardEdit): Promise<Outcome<ShopCard>>;
}

export function createSupplierService(store: Store, catalogue: CatalogueService): SupplierService {
  const read = async (db: Db, id: string): Promise<Outcome<SupplierState>> => {
    const state = (await readStates(db, id))[0];
    return state === undefined ? refuseUnknown(id) : done(state);
  };
  return {
    list: () => readStates(store.db),
    read: (id) => read(store.db, id),
    write: (edit) => store.transact(async (tx) => {
      const { supplier } = edit;
      const rows = await listSuppliers(tx);
      const created = !rows.some(({ id }) => id === supplier.id);
      if (await findShopEdit(tx, edit.id) === undefined) {
        const fault = await findTaxFault(tx, supplier.tax, 'supplier.tax');
        if (fault) return fault;
        await insertShopEdit(tx, makeEdit(edit, 'supplier', supplier.id, null, supplier));
        const position = rows.find(({ id }) => id === supplier.id)?.position ?? Math.max(-1, ...rows.map((row) => row.position)) + 1;
        await putSupplier(tx, writeCard(supplier, position));
      }
      const state = await read(tx, supplier.id);
      return state.ok ? done({ created, state: state.value }) : state;
    }),
    offers: async (supplierId) => {
      if (!(await listSuppliers(store.db)).some(({ id }) => id === supplierId)) return refuseUnknown(supplierId);
      return done(await readOfferStates(store.db, supplierId));
    },
    writeOffer: (supplierId, edit) => store.transact(async (tx) => {
      if (!(await listSuppliers(tx)).some(({ id }) => id === supplierId)) return refuseUnknown(supplierId);
      const { partId, offer } = edit;
      if (await findShopEdit(tx, edit.id) === undefined) {
        if (!catalogue.current().byId.has(partId)) return refuseFault('partId', JSON.stringify(partId), 'the id of a part of the catalogue');
        if (offer !== null && offer.supplierId !== supplierId) return refuseFault('offer.supplierId', JSON.stringify(offer.supplierId), `${JSON.stringify(supplierId)}, the supplier of the address`);
        const fault = await findTaxFault(tx, offer?.tax, 'offer.tax');
        if (fault) return fault;
        await insertShopEdit(tx, makeEdit(edit, 'offer', supplierId, partId, offer));
        if (offer === null) await deleteOffer(tx, supplierId, partId);
        else await putOffer(tx, writeOffer(offer));
      }
      return done((await readOfferStates(tx, supplierId)).find((state) => state.offer.partId === partId) ?? null);
    }),
    shopCard: () => readShopCard(store.db),
    writeShopCard: (edit) => store.transact(async (tx) => {
      const { shop } = edit;
      if (await findShopEdit(tx, edit.id) === undefined) {
        const used = [...await readSupplierCards(tx), ...await readShopOffers(tx)].find(({ tax }) => tax !== undefined && !shop.taxes.some(({ id }) => id === tax));
        if (used !== undefined) return refuse({ kind: 'conflict', why: `the tax ${JSON.stringify(used.tax)} is that of a supplier or an offer and cannot be left out` });
        await insertShopEdit(tx, makeEdit(edit, 'shop', null, null, shop));
        const before = await findShop(tx);
        await putShop(tx, {
          currency: before?.currency ?? await readCurrency(tx), labourPerHour: before?.labourPerHour ?? null, misfitCost: before?.misfitCost ?? null,
          waitCostPerDay: before?.waitCostPerDay ?? null, kitPrices: before?.kitPrices ?? null,
          name: storable(shop.name), contact: storable(shop.contact), taxes: JSON.stringify(shop.taxes),
        });
      }
      return done(await readShopCard(tx));
    }),
  };
}

async function readStates(db: Db, only?: string): Promise<SupplierState[]> {
  const shopCurrency = await readCurrency(db);
  const counts = await countOffers(db);
  const edits = new Map((await listLastShopEdits(db, 'supplier', only)).map((row) => [row.supplierId, row]));
  const cards = (await readSupplierCards(db)).filter(({ id }) => only === undefined || id === only);
  const days = await listLeadDays(db, only === undefined ? {} : { supplierId: only });
  const offers = await readShopOffers(db, only === undefined ? {} : { supplierId: only });
  return cards.map((supplier): SupplierState => ({
    supplier, currency: supplier.currency ?? shopCurrency, offers: counts.get(supplier.id) ?? 0, counted: isCounted(supplier, shopCurrency),
    lead: learn(days.filter(({ supplierId }) => supplierId === supplier.id).map((row) => row.days), offers.filter(({ supplierId }) => supplierId === supplier.id).map((offer) => offer.leadDays)),
    changed: readChanged(edits.get(supplier.id)),
  }));
}

/** What the days taught, beside what the offers state: their mean is what is expected before anything has come. */
function learn(days: number[], stated: readonly number[]): LeadLearned {
  if (days.length === 0 && stated.length === 0) return { days, meanDays: null, sdDays: null };
  const meanStated = stated.length === 0 ? days.reduce((sum, each) => sum + each, 0) / days.length : stated.reduce((sum, each) => sum + each, 0) / stated.length;
  const { meanDays, sdDays } = learnLeadTime(days, { meanDays: meanStated });
  return { days, meanDays, sdDays };
}

async function readOfferStates(db: Db, supplierId: string): Promise<OfferState[]> {
  const edits = new Map((await listLastShopEdits(db, 'offer', supplierId)).map((row) => [row.partId, row]));
  return (await readShopOffers(db, { supplierId })).map((offer) => ({ offer, changed: readChanged(edits.get(offer.partId)) }));
}

async function findTaxFault(tx: Tx, tax: SupplierCard['tax'], path: string): Promise<ReturnType<typeof refuseFault> | undefined> {
  if (tax === undefined || (await readShopCard(tx)).taxes.some(({ id }) => id === tax)) return undefined;
  return refuseFault(path, JSON.stringify(tax), 'the id of one of the shop’s taxes');
}

function makeEdit({ id, by, at }: { id: string; by?: string | undefined; at: string }, what: ShopEditRow['what'], supplierId: string | null, partId: string | null, body: unknown): ShopEditRow {
  return { id, what, supplierId, partId, body: JSON.stringify(body).replace(/\p{Surrogate}/gu, '\uFFFD'), by: storable(by), at };
}

function readChanged(row: ShopEditRow | undefined): SupplierState['changed'] {
  return row === undefined ? null : { at: row.at, ...(row.by === null ? {} : { by: row.by }) };
}

function refuseUnknown(id: string): ReturnType<typeof refuse> {
  return refuse({ kind: 'not-found', what: `no supplier ${JSON.stringify(id.slice(0, 60))}` });
}
