import type { Part, PartClass, Prices } from '../../../catalog-schema/index.ts';
import { Draws } from '../../sim-identify/random.ts';
import { mixSeeds } from './generate-catalogue.ts';

/** Invented suppliers: freight, free freight and order floor as a small shop meets them (common practice, no source). */
const SUPPLIERS: readonly (Prices['suppliers'][number] & { readonly share: number; readonly leadDays: readonly [least: number, most: number] })[] = [
  { id: 'ebbside-electrical', freight: 9.5, freeFreightFrom: 150, minOrder: 25, share: 0.2, leadDays: [1, 3] },
  { id: 'wrenmoor-factors', freight: 14, freeFreightFrom: 250, share: 0.2, leadDays: [1, 4] },
  { id: 'lantern-row-spares', freight: 6.9, minOrder: 40, share: 0.15, leadDays: [2, 5] },
  { id: 'holmwick-starter-works', freight: 18, freeFreightFrom: 400, minOrder: 60, share: 0.1, leadDays: [2, 8] },
  { id: 'cinder-quay-parts', freight: 12, freeFreightFrom: 200, share: 0.12, leadDays: [3, 7] },
  { id: 'tallow-bridge-supply', freight: 7.5, freeFreightFrom: 120, share: 0.1, leadDays: [2, 6] },
  { id: 'nettlebed-wholesale', freight: 22, freeFreightFrom: 500, minOrder: 80, share: 0.08, leadDays: [5, 14] },
  { id: 'far-strand-import', freight: 31, share: 0.05, leadDays: [10, 28] },
];

/** What a part of the class costs at its weakest, EUR. */
const BASE: Readonly<Record<PartClass, number>> = { 'start-relay': 14, contactor: 32, 'plug-in-relay': 4, 'shift-solenoid': 26, 'starter-motor': 85 };
const SHARES = { unpriced: 0.02, onShelf: 0.01, secondOffer: 0.35, thirdOffer: 0.1, soldOut: 0.08, lapsed: 0.04, packs: 0.06, leastQty: 0.05, breaks: 0.25 } as const;

/**
 * A price list over all parts: shelf, 8 suppliers with freight, offers with packs, breaks, lead times, some sold out or lapsed; about 2 % of
 * the parts have no price at all. More offers than a request may carry: the object is handed over as it is, not read from JSON.
 */
export function generatePrices(parts: Iterable<Part>, { seed, unfriendly = false }: { seed: number; unfriendly?: boolean }): Prices {
  const shelf: Prices['shelf'] = [];
  const offers: Prices['offers'] = [];
  let index = 0;
  for (const part of parts) {
    const draws = new Draws(mixSeeds(seed ^ 0x5eed, index));
    index += 1;
    if (draws.chance(SHARES.unpriced)) continue;
    const worth = unfriendly ? draws.logBetween(4, 300) : estimateWorth(part) * draws.logBetween(0.8, 1.25);
    if (draws.chance(SHARES.onShelf)) {
      const onHand = Math.floor(draws.between(1, 6));
      shelf.push({ partId: part.id, onHand, unitCost: toList(worth * draws.between(0.55, 0.8)), ...(draws.chance(0.2) ? { reserved: Math.floor(draws.between(0, onHand + 1)) } : {}) });
    }
    const count = draws.chance(SHARES.thirdOffer) ? 3 : draws.chance(SHARES.secondOffer) ? 2 : 1;
    const sellers = new Set<(typeof SUPPLIERS)[number]>();
    while (sellers.size < count) sellers.add(draws.pick(SUPPLIERS, ({ share }) => share));
    for (const seller of sellers) offers.push(drawOffer(draws, part.id, seller, worth));
  }
  return {
    currency: 'EUR', labourPerHour: 64, misfitCost: 85, waitCostPerDay: 6, today: '2026-11-25',
    kitPrices: [{ item: 'ring lug', price: 1.4 }, { item: 'receptacle', price: 0.35 }, { item: 'jumper lead', price: 3.2 }, { item: 'new hole', price: 0 }],
    shelf, suppliers: SUPPLIERS.map(({ share: _share, leadDays: _leadDays, ...supplier }) => supplier), offers,
  };
}

function drawOffer(draws: Draws, partId: string, seller: (typeof SUPPLIERS)[number], worth: number): Prices['offers'][number] {
  const price = toList(worth * draws.between(0.9, 1.15));
  return {
    supplierId: seller.id, partId, price, leadDays: Math.floor(draws.between(seller.leadDays[0], seller.leadDays[1] + 1)),
    ...(draws.chance(SHARES.breaks) ? { breaks: [{ minQty: 5, price: toList(price * 0.93) }, { minQty: 20, price: toList(price * 0.86) }] } : {}),
    ...(draws.chance(SHARES.packs) ? { pack: draws.pick([2, 5, 10]) } : {}),
    ...(draws.chance(SHARES.leastQty) ? { minQty: draws.pick([2, 3, 5]) } : {}),
    ...(draws.chance(SHARES.soldOut) ? { inStock: 0 } : draws.chance(0.3) ? { inStock: Math.floor(draws.between(1, 40)) } : {}),
    ...(draws.chance(SHARES.lapsed) ? { validUntil: '2026-10-31' } : draws.chance(0.3) ? { validUntil: '2027-03-31' } : {}),
  };
}

/** In a family the stronger, the larger and the better sealed part costs more. */
function estimateWorth(part: Part): number {
  const main = part.circuit.find((element) => element.kind === 'contact');
  const amps = main?.kind === 'contact' ? main.continuousA ?? 100 : 100;
  const power = part.starter?.powerKw ?? (part.partClass === 'starter-motor' ? 1.2 : 0);
  const sealed = part.sealing !== undefined && part.sealing >= 'IP65' ? 1.2 : 1;
  return (BASE[part.partClass] * (part.partClass === 'starter-motor' ? 1 : 0.6 + amps / 250) + 70 * power) * sealed;
}

/** As price lists have it: 12.40, 96.90. */
function toList(price: number): number {
  return price < 20 ? Math.round(price * 20) / 20 : Math.round(price * 10) / 10;
}
