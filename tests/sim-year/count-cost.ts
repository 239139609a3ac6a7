import type { Need } from '../../catalog-schema/index.ts';

/** What somebody decides: units of a part from the shelf or a supplier for a need, and what is ordered. */
export interface Decision {
  readonly fills: readonly { readonly needId: string; readonly partId: string; readonly from: string; readonly qty: number }[];
  readonly orders: readonly { readonly supplierId: string; readonly lines: readonly { readonly partId: string; readonly qty: number }[] }[];
}

/** Landed and waiting cost of a decision, in cents, counted from prices and calendar alone; throws where it cannot be carried out. */
export function countCost(need: Need, { fills, orders }: Decision): { readonly landed: number; readonly waiting: number } {
  const cents = (amount: number): number => Math.round(amount * 100);
  const stop = (why: string): never => { throw new Error(why); };
  let [landed, waiting] = [0, 0];
  const bought = new Map<string, number>();
  for (const { supplierId, lines } of orders) {
    const supplier = need.suppliers.find(({ id }) => id === supplierId) ?? stop(`no supplier ${supplierId}`);
    let goods = 0;
    for (const { partId, qty } of lines) {
      const offer = need.offers.find((each) => each.supplierId === supplierId && each.partId === partId) ?? stop(`${supplierId} has no ${partId}`);
      if (qty % (offer.pack ?? 1) !== 0) stop(`${qty} of ${partId} are no whole packs`);
      const price = (offer.breaks ?? []).filter(({ minQty }) => minQty <= qty).at(-1)?.price ?? offer.price;
      goods += cents(price * qty);
      bought.set(`${supplierId} ${partId}`, qty);
    }
    if (goods < cents(supplier.minOrder ?? 0)) stop(`the order from ${supplierId} is too small`);
    landed += goods + (supplier.freeFreightFrom !== undefined && goods >= cents(supplier.freeFreightFrom) ? 0 : cents(supplier.freight));
  }
  const taken = new Map<string, number>();
  for (const { needId, partId, from, qty } of fills) {
    const key = `${from} ${partId}`;
    taken.set(key, (taken.get(key) ?? 0) + qty);
    const option = need.needs.find(({ id }) => id === needId)!.anyOf.find((each) => each.partId === partId) ?? stop(`${partId} does not serve ${needId}`);
    landed += cents((option.extraCost ?? 0) * qty);
    if (from === 'shelf') landed += cents(need.shelf.find((row) => row.partId === partId)!.unitCost * qty);
  }
  for (const [key, qty] of taken) {
    const [from, partId] = key.split(' ') as [string, string];
    const there = from === 'shelf' ? need.shelf.find((row) => row.partId === partId)?.onHand ?? 0 : bought.get(key) ?? 0;
    if (qty > there) stop(`${qty} of ${partId} used from ${from}, ${there} there`);
  }
  for (const { id, qty, by, waitCostPerDay = 0 } of need.needs) {
    const mine = fills.filter(({ needId }) => needId === id);
    if (mine.reduce((sum, fill) => sum + fill.qty, 0) !== qty) stop(`${id} is not met`);
    const lead = Math.max(...mine.map(({ from, partId }) => (from === 'shelf' ? 0 : need.offers.find((each) => each.supplierId === from && each.partId === partId)!.leadDays)));
    const late = Math.max(0, Math.round((Date.parse(need.today) - Date.parse(by)) / 86_400_000) + lead);
    waiting += cents(waitCostPerDay * late);
  }
  return { landed, waiting };
}
