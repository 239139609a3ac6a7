import type { Need, Offer } from '../../catalog-schema/index.ts';
import type { Decision } from './count-cost.ts';

/** How a person without a plan orders: which offer of a need's first part is taken. The shelf comes first for everybody. */
export type Habit = (need: Need, offers: readonly Offer[]) => Offer | undefined;

/** The cheapest offer of each part, whoever sends it. */
export const takeCheapest: Habit = (_need, offers) => offers.toSorted((a, b) => a.price - b.price || a.leadDays - b.leadDays)[0];

/** Everything from one supplier, as far as it has it; else the cheapest. */
export function takeFavourite(supplierId: string): Habit {
  return (need, offers) => offers.find((offer) => offer.supplierId === supplierId) ?? takeCheapest(need, offers);
}

/** Orders by a habit. An order below a supplier's floor is filled up by more of its cheapest line, as people do. */
export function orderByHabit(need: Need, habit: Habit): Decision {
  const left = new Map(need.shelf.map(({ partId, onHand }) => [partId, onHand]));
  const fills: Decision['fills'][number][] = [];
  const lines = new Map<string, Map<string, number>>();
  for (const { id, qty, anyOf } of need.needs) {
    const { partId } = anyOf[0]!;
    const fromShelf = Math.min(qty, left.get(partId) ?? 0);
    if (fromShelf > 0) {
      left.set(partId, left.get(partId)! - fromShelf);
      fills.push({ needId: id, partId, from: 'shelf', qty: fromShelf });
    }
    if (qty === fromShelf) continue;
    const offer = habit(need, need.offers.filter((each) => each.partId === partId))!;
    const order = lines.get(offer.supplierId) ?? new Map<string, number>();
    order.set(partId, (order.get(partId) ?? 0) + qty - fromShelf);
    lines.set(offer.supplierId, order);
    fills.push({ needId: id, partId, from: offer.supplierId, qty: qty - fromShelf });
  }
  return { fills, orders: [...lines].map(([supplierId, order]) => ({ supplierId, lines: fillUp(need, supplierId, order) })) };
}

function fillUp(need: Need, supplierId: string, order: ReadonlyMap<string, number>): { partId: string; qty: number }[] {
  const offerOf = (partId: string): Offer => need.offers.find((each) => each.supplierId === supplierId && each.partId === partId)!;
  const packs = (partId: string, qty: number): number => Math.ceil(qty / (offerOf(partId).pack ?? 1)) * (offerOf(partId).pack ?? 1);
  const made = [...order].map(([partId, qty]) => ({ partId, qty: packs(partId, qty) }));
  const floor = need.suppliers.find(({ id }) => id === supplierId)!.minOrder ?? 0;
  const priceAt = ({ partId, qty }: { partId: string; qty: number }): number => (offerOf(partId).breaks ?? []).filter(({ minQty }) => minQty <= qty).at(-1)?.price ?? offerOf(partId).price;
  const goods = (): number => made.reduce((sum, line) => sum + Math.round(priceAt(line) * line.qty * 100), 0);
  const cheapest = made.toSorted((a, b) => priceAt(a) - priceAt(b))[0]!;
  while (goods() < Math.round(floor * 100)) cheapest.qty += offerOf(cheapest.partId).pack ?? 1;
  return made;
}
