import type { Need, Offer, Supplier } from '../../../catalog-schema/index.ts';
import { Draws } from '../../sim-identify/random.ts';

const TODAY = '2026-11-25';
const DAYS = ['2026-11-24', '2026-11-25', '2026-11-26', '2026-11-28', '2026-12-02'] as const;

/**
 * A small problem with everything the contract knows: packs, least quantities, breaks that need not fall, stock limits, offers that ran
 * out, order floors, freight and its free line, shelves, alternatives with extra cost, waiting, prices to a tenth of a cent.
 */
export function generateNeed(seed: number): Need {
  const random = new Draws(seed);
  const whole = (low: number, high: number): number => low + Math.floor(random.unit() * (high - low + 1));
  const parts = ['pa', 'pb', 'pc'].slice(0, whole(1, 3));
  const fine = random.chance(0.3);
  const price = (low: number, high: number): number => (fine && random.chance(0.5) ? whole(low * 1000, high * 1000) / 1000 : whole(low * 100, high * 100) / 100);
  const suppliers = ['north', 'south', 'west'].slice(0, whole(1, 3)).map((id): Supplier => ({
    id, freight: random.chance(0.15) ? 0 : whole(0, 1500) / 100,
    ...(random.chance(0.5) ? { freeFreightFrom: whole(500, 4500) / 100 } : {}),
    ...(random.chance(0.35) ? { minOrder: whole(300, 3000) / 100 } : {}),
  }));
  const offers: Offer[] = [];
  for (const { id: supplierId } of suppliers) {
    for (const partId of parts) {
      if (!random.chance(0.65)) continue;
      const steps = random.chance(0.4) ? [...new Set([whole(2, 4), whole(3, 7)])].toSorted((a, b) => a - b) : [];
      offers.push({
        supplierId, partId, price: price(3, 16), leadDays: whole(0, 7),
        ...(steps.length > 0 ? { breaks: steps.map((minQty) => ({ minQty, price: price(2, 14) })) } : {}),
        ...(random.chance(0.3) ? { pack: whole(2, 4) } : {}),
        ...(random.chance(0.2) ? { minQty: whole(2, 5) } : {}),
        ...(random.chance(0.3) ? { inStock: whole(0, 6) } : {}),
        ...(random.chance(0.15) ? { validUntil: random.pick(['2026-11-24', '2026-11-25', '2027-01-31']) } : {}),
        ...(random.chance(0.1) ? { coreCharge: 5 } : {}),
      });
    }
  }
  const shelf = parts.filter(() => random.chance(0.4)).map((partId) => {
    const onHand = whole(0, 3);
    return { partId, onHand, ...(random.chance(0.3) ? { reserved: whole(0, onHand) } : {}), unitCost: price(2, 18) };
  });
  return {
    currency: random.chance(0.9) ? 'EUR' : random.pick(['JPY', 'KWD']), today: TODAY, suppliers, offers, shelf,
    needs: Array.from({ length: whole(1, 2) }, (_, index) => ({
      id: `n${index + 1}`, qty: whole(1, 3), by: random.pick(DAYS),
      ...(random.chance(0.6) ? { waitCostPerDay: whole(0, 600) / 100 } : {}),
      anyOf: parts.filter((_part, at) => at === 0 || random.chance(0.6)).map((partId) => ({ partId, ...(random.chance(0.4) ? { extraCost: price(0, 6) } : {}) })),
    })),
  };
}
