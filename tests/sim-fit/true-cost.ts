import type { Part, Prices, Terminal } from '../../catalog-schema/index.ts';
import type { Hung } from './judge-wiring.ts';
import { ringGoesOn } from './threads-known.ts';
import type { Goes } from './place-bolts.ts';
import type { Machine, TrueWire } from './truth.ts';

// What it truly costs to have the machine running with a part that works: landed part, waiting, kit and labour, in the prices' currency.

/** Minutes a hand really takes: not the product's own table, and none of them round. */
const MINUTES = { move: 3.4, newEnd: 5.3, jumper: 11.5, leaveOff: 1.7, newHole: 17, turnOver: 6 } as const;

export interface Work { readonly minutes: number; readonly kit: readonly string[] }

/** Work of hanging the wires so. */
export function workOfWiring(machine: Machine, part: Part, { places, jumpers }: Hung): Work {
  let minutes = jumpers.length * MINUTES.jumper;
  const kit = jumpers.map(() => 'jumper lead');
  const crowded = new Set<string>();
  for (const wire of machine.wires) {
    const to = places.get(wire.tag);
    if (to === null || to === undefined) {
      minutes += MINUTES.leaveOff;
      continue;
    }
    if (samePlaceOf(machine, part, wire.wasOn) !== to) minutes += MINUTES.move;
    const terminal = part.terminals.find(({ id }) => id === to);
    const second = terminal !== undefined && (terminal.form === 'tab' || terminal.form === 'pin') && crowded.has(to);
    crowded.add(to);
    const item = newEndFor(wire, terminal, second);
    if (item === undefined) continue;
    minutes += MINUTES.newEnd;
    kit.push(item);
  }
  return { minutes, kit };
}

/** What has to be crimped on for this terminal (undefined is the bracket's bolt), if anything. */
function newEndFor({ end }: TrueWire, terminal: Terminal | undefined, second: boolean): string | undefined {
  if (!terminal) return end.form === 'ring' ? undefined : 'ring lug';
  switch (terminal.form) {
    case 'stud': return end.form === 'ring' && ringGoesOn(end.holeMm, terminal.thread) ? undefined : 'ring lug';
    case 'screw': return end.form === 'receptacle' || (end.form === 'ring' && !ringGoesOn(end.holeMm, terminal.thread)) ? 'ring lug' : undefined;
    case 'tab': return second ? 'receptacle with branch tab' : isTight(end, terminal) ? undefined : 'receptacle';
    case 'lead': return end.form === 'bare' ? undefined : 'splice';
    case 'pin': return end.form === 'bare' ? undefined : 'socket contact';
    default: throw new Error(`terminal form ${String(terminal.form satisfies never)} is not known`);
  }
}

export function isTight(end: TrueWire['end'], { tabWidthMm }: Terminal): boolean {
  return end.form === 'receptacle' && tabWidthMm !== undefined && Math.abs(end.tabWidthMm - tabWidthMm) <= 0.3 + 1e-9;
}

function samePlaceOf({ old }: Machine, part: Part, wasOn: string): string | undefined {
  const from = old.truth.terminals.find(({ id }) => id === wasOn);
  if (!from?.at) return wasOn;
  const { at } = from;
  const alike = part.terminals.filter(({ form }) => form === from.form)
    .toSorted((a, b) => Math.hypot(a.at!.xMm - at.xMm, a.at!.yMm - at.yMm) - Math.hypot(b.at!.xMm - at.xMm, b.at!.yMm - at.yMm) || (a.id < b.id ? -1 : 1));
  return (alike[0] ?? part.terminals.find(({ id }) => id === wasOn))?.id;
}

export function workOfMounting({ flipped, newHoles }: Goes): Work {
  return { minutes: newHoles * MINUTES.newHole + (flipped ? MINUTES.turnOver : 0), kit: Array.from({ length: newHoles }, () => 'new hole') };
}

export function priceWork(work: readonly Work[], prices: Prices): number {
  const kitPrice = new Map((prices.kitPrices ?? []).map(({ item, price }) => [item, price]));
  const minutes = work.reduce((sum, each) => sum + each.minutes, 0);
  return minutes / 60 * (prices.labourPerHour ?? 0) + work.flatMap(({ kit }) => kit).reduce((sum, item) => sum + (kitPrice.get(item) ?? 0), 0);
}

/** Landed price of one unit needed today, with the cost of waiting for it; undefined where nobody has it. */
export function landOne(partId: string, prices: Prices): number | undefined {
  const wait = prices.waitCostPerDay ?? 0;
  let least: number | undefined;
  const take = (cost: number): void => { if (least === undefined || cost < least) least = cost; };
  for (const row of prices.shelf) if (row.partId === partId && row.onHand - (row.reserved ?? 0) >= 1) take(row.unitCost);
  for (const offer of prices.offers) {
    if (offer.partId !== partId || (offer.validUntil !== undefined && offer.validUntil < prices.today)) continue;
    const supplier = prices.suppliers.find(({ id }) => id === offer.supplierId)!;
    const pack = offer.pack ?? 1;
    for (let qty = pack; qty <= Math.min(offer.inStock ?? Infinity, 200); qty += pack) {
      if (qty < (offer.minQty ?? 1)) continue;
      const unit = (offer.breaks ?? []).filter(({ minQty }) => qty >= minQty).at(-1)?.price ?? offer.price;
      const goods = Math.round(unit * qty * 100) / 100;
      if (goods < (supplier.minOrder ?? 0)) continue;
      take(goods + (goods >= (supplier.freeFreightFrom ?? Infinity) ? 0 : supplier.freight) + wait * offer.leadDays);
    }
  }
  return least;
}
