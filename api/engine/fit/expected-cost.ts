import { amountInMinor, fromMinor, type Fit, type KitItem, type Prices } from '../../../catalog-schema/index.ts';
import { describeSetting, settingOf, type SettingName } from '../settings.ts';
import type { OneUnit, Supply } from '../source/index.ts';
import { UNHEARD, type Notes } from './finding.ts';

/** What one unit of everything costs here, and what a misfit and an hour's work do. */
export interface CostTerms {
  readonly supply: Supply;
  readonly rates: Pick<Prices, 'labourPerHour' | 'misfitCost' | 'waitCostPerDay'>;
  /** by the name of the kit's item, the last of a name counts */
  readonly kitPrices: ReadonlyMap<string, number>;
}

/** The cost of having the machine running with one part, whole minor units of the currency; `misfitMinor` hangs on its probability. */
export interface CostInMinor {
  readonly unit: OneUnit;
  readonly kitMinor: number;
  readonly labourMinor: number;
  readonly misfitMinor: number;
  readonly totalMinor: number;
}

/** Prices of kit items where the price list has none, by item. */
const KIT_SETTINGS: Readonly<Record<string, SettingName>> = {
  'ring lug': 'ringLugPrice', receptacle: 'receptaclePrice', 'receptacle with branch tab': 'branchReceptaclePrice', splice: 'splicePrice',
  'socket contact': 'socketContactPrice', 'jumper lead': 'jumperLeadPrice', 'new hole': 'newHolePrice',
};

export function readCostTerms(prices: Prices, supply: Supply): CostTerms {
  const { labourPerHour, misfitCost, waitCostPerDay } = prices;
  return { supply, rates: { labourPerHour, misfitCost, waitCostPerDay }, kitPrices: new Map((prices.kitPrices ?? []).map(({ item, price }) => [item, price])) };
}

/**
 * Part and wait as `source` would have one unit needed today; kit; labour for the listed work; the cost of a misfit at the chance of one.
 * Each is rounded half-even to the currency's minor unit, the total is their sum.
 * @returns undefined where nobody sells the part
 */
export function findCost(terms: CostTerms, partId: string, kit: readonly KitItem[], minutes: number, fitProbability: number, notes: Notes): CostInMinor | undefined {
  const unit = terms.supply.unitOf(partId);
  if (!unit) return undefined;
  const { kitMinor, labourMinor } = workInMinor(terms, kit, minutes, notes);
  const misfitMinor = misfitInMinor(terms, fitProbability);
  return { unit, kitMinor, labourMinor, misfitMinor, totalMinor: unit.partMinor + unit.waitMinor + kitMinor + labourMinor + misfitMinor };
}

/** What the listed work costs, whatever the part does. */
function workInMinor(terms: CostTerms, kit: readonly KitItem[], minutes: number, notes: Notes): { kitMinor: number; labourMinor: number } {
  return { kitMinor: kitInMinor(terms, kit.reduce((sum, { item, qty }) => sum + qty * priceOfKit(terms, item, notes), 0)), labourMinor: labourInMinor(terms, minutes) };
}

/** @param price of all items together */
export function kitInMinor({ supply }: CostTerms, price: number): number {
  return amountInMinor(price, supply.currency);
}

export function labourInMinor({ supply, rates }: CostTerms, minutes: number): number {
  return amountInMinor((minutes / 60) * (rates.labourPerHour ?? 0), supply.currency);
}

export function misfitInMinor({ supply, rates }: CostTerms, fitProbability: number): number {
  return amountInMinor((1 - fitProbability) * (rates.misfitCost ?? 0), supply.currency);
}

/** In the answer's words: decimal numbers of the currency. */
export function describeCost({ unit, kitMinor, labourMinor, misfitMinor, totalMinor }: CostInMinor, currency: string): NonNullable<Fit['expectedCost']> {
  const money = (minor: number): number => fromMinor(minor, currency);
  return {
    currency, total: money(totalMinor), part: money(unit.partMinor), kit: money(kitMinor), labour: money(labourMinor), misfit: money(misfitMinor),
    wait: money(unit.waitMinor),
  };
}

/** What the figures leave out or took for nothing. */
export function noteCost({ rates }: CostTerms, notes: Notes): void {
  const absent = [
    rates.labourPerHour === undefined ? 'labourPerHour' : '', rates.misfitCost === undefined ? 'misfitCost' : '', rates.waitCostPerDay === undefined ? 'waitCostPerDay' : '',
  ].filter((name) => name !== '');
  if (absent.length > 0) notes.assume(`${absent.join(', ')}: not given with the prices, counted as 0`);
  notes.assume('labour counts the minutes of the listed work; taking the old part off and putting the new one on is alike for all parts and not counted');
  notes.assume('part and wait: one unit needed today, from the shelf or in an order of its own with packs, breaks, order floor and freight; a core charge comes back and is not counted');
}

/** The price of a kit item as an answer would count it; nothing is noted. */
export function kitPriceOf(terms: CostTerms, item: string): number {
  return priceOfKit(terms, item, UNHEARD);
}

function priceOfKit({ kitPrices }: CostTerms, item: string, notes: Notes): number {
  const given = kitPrices.get(item);
  if (given !== undefined) return given;
  const setting = KIT_SETTINGS[item];
  if (!setting) throw new Error(`kit item ${item} has no price in the table of settings`);
  notes.assume(describeSetting(setting));
  return settingOf(setting);
}
