import type { Need, Offer, Supplier } from '../../catalog-schema/index.ts';
import { Draws } from '../sim-identify/random.ts';

/** A shop's suppliers and what they offer, and the needs of each working week of a year. */
export interface Year { readonly suppliers: readonly Supplier[]; readonly offers: readonly Offer[]; readonly weeks: readonly Week[] }
export interface Week { readonly today: string; readonly needs: Need['needs']; readonly shelf: Need['shelf'] }

const WEEKS = 50;
const DAY_MS = 86_400_000;
const START = Date.parse('2026-01-05');
const dayOf = (day: number): string => new Date(START + day * DAY_MS).toISOString().slice(0, 10);
const cents = (value: number): number => Math.round(value * 100) / 100;

/** Twice a week somebody orders for what has come in since: a handful of machines, most of them needed as soon as can be. */
export function drawYear(seed: number): Year {
  const draws = new Draws(seed);
  const whole = (low: number, high: number): number => low + Math.floor(draws.unit() * (high - low + 1));
  const suppliers = ['ebbside', 'wrenmoor', 'lantern', 'holmwick', 'cinder'].map((id): Supplier => ({
    id, freight: cents(draws.logBetween(5, 22)), ...(draws.chance(0.8) ? { freeFreightFrom: whole(90, 350) } : {}), ...(draws.chance(0.5) ? { minOrder: whole(20, 60) } : {}),
  }));
  const parts = Array.from({ length: 80 }, (_, index) => ({ id: `p${index}`, price: draws.logBetween(8, 170), often: draws.logBetween(0.2, 5) }));
  const offers = parts.flatMap((part) => suppliers.filter(() => draws.chance(0.6)).map((supplier): Offer => {
    const price = cents(part.price * draws.between(0.88, 1.2));
    return {
      supplierId: supplier.id, partId: part.id, price, leadDays: whole(1, 8),
      ...(draws.chance(0.25) ? { breaks: [{ minQty: 3, price: cents(price * 0.93) }, { minQty: 6, price: cents(price * 0.87) }] } : {}), ...(draws.chance(0.1) ? { pack: 2 } : {}),
    };
  }));
  const offered = parts.filter(({ id }) => offers.some(({ partId }) => partId === id));
  const weeks = Array.from({ length: 2 * WEEKS }, (_, half): Week => {
    const day = Math.floor(half / 2) * 7 + (half % 2) * 3;
    const today = dayOf(day);
    return {
      today,
      needs: Array.from({ length: whole(2, 7) }, (_none, index) => {
        const first = draws.pick(offered, ({ often }) => often);
        const others = draws.chance(0.45) ? offered.filter(({ price, id }) => id !== first.id && price < first.price * 1.3 && draws.chance(0.04)).slice(0, 3) : [];
        return {
          id: `n${half}-${index}`, qty: draws.chance(0.85) ? 1 : whole(2, 3), by: dayOf(day + (draws.chance(0.6) ? 0 : whole(2, 9))), waitCostPerDay: whole(2, 25),
          anyOf: [{ partId: first.id }, ...others.map(({ id }) => ({ partId: id, extraCost: cents(draws.logBetween(3, 30)) }))],
        };
      }),
      shelf: offered.filter(() => draws.chance(0.08)).map(({ id, price }) => ({ partId: id, onHand: 1, unitCost: cents(price) })),
    };
  });
  return { suppliers, offers, weeks };
}
