import { fromMinor, minorDigitsOf, type Need, type OrderChoice } from '../../../catalog-schema/index.ts';
import { addDays, countDays } from './days.ts';
import { moveNeed } from './move-need.ts';
import { daysLate, mayUse, waitMinor, type OrderPlan, type Source } from './order-plan.ts';
import type { LeastOrders } from './least-orders.ts';
import type { OrderSolver, Solved } from './solve-orders.ts';

/** Up to so many needs, each question is answered by planning all of them anew. */
const MOST_SOLVED_ANEW = 20;
/** Of the whole time, what moving needs one by one may use up beyond that: it takes milliseconds each. */
const MOVING = 0.05;

/** Another way to have one need: what the whole then costs, and what it comes from. */
interface Way { readonly totalMinor: number; readonly source: Source; readonly leadDays: number }

/**
 * Why each need comes from where it does: the cheapest plan without that place, what waiting longer would save, what having it sooner would
 * cost, as far as a share of the whole time reaches. Each figure is the difference of two plans' totals; nothing is said where no second plan was found or proven.
 */
export function explainOrders(solver: OrderSolver, least: LeastOrders, share: number): OrderChoice[] {
  const { need } = solver;
  const anew = need.needs.length <= MOST_SOLVED_ANEW;
  return need.needs.flatMap((_need, index) => {
    const mine = least.plan.uses.filter((use) => use.need === index);
    if (mine.length === 0 || solver.secondsUntil(share + MOVING) < 0) return [];
    const comparison = anew && solver.secondsUntil(share) > 0 ? new SolvedAnew(solver, least, share) : new MovedAlone(solver, least);
    return [explainNeed(solver, least, index, mine, comparison)];
  });
}

interface Comparison {
  readonly compared: OrderChoice['compared'];
  /** the cheapest with these sources alone for one need; `free`: it may wait for nothing */
  find(index: number, allowed: (source: number) => boolean, free: boolean): Way | 'none' | 'not-known';
}

class SolvedAnew implements Comparison {
  readonly compared = 'all-needs';
  readonly #solver: OrderSolver;
  readonly #least: LeastOrders;
  readonly #share: number;
  constructor(solver: OrderSolver, least: LeastOrders, share: number) {
    this.#solver = solver;
    this.#least = least;
    this.#share = share;
  }

  find(index: number, allowed: (source: number) => boolean, free: boolean): Way | 'none' | 'not-known' {
    const { need, sources } = this.#solver;
    const asked = free ? letWait(need, index) : need;
    const solved = this.#solver.ask({ least: 'cost', open: this.#least.openUnits, allows: (use) => use.need !== index || allowed(use.source) }, this.#share, asked);
    if (solved === 'none') return 'none';
    return typeof solved === 'object' && solved.answer.status === 'optimal' && solved.order.exact ? describeWay(sources, solved, index) : 'not-known';
  }
}

class MovedAlone implements Comparison {
  readonly compared = 'this-need';
  readonly #solver: OrderSolver;
  readonly #least: LeastOrders;
  constructor(solver: OrderSolver, least: LeastOrders) {
    this.#solver = solver;
    this.#least = least;
  }

  find(index: number, allowed: (source: number) => boolean, free: boolean): Way | 'none' | 'not-known' {
    const { need, sources } = this.#solver;
    const asked = free ? letWait(need, index) : need;
    let best: Way | undefined;
    need.needs[index]!.anyOf.forEach(({ partId }, option) => sources.forEach((source, at) => {
      if (source.partId !== partId || !mayUse(need, index, source) || !allowed(at)) return;
      const moved = moveNeed(asked, sources, this.#least.plan, index, option, at);
      if (moved && (best === undefined || moved.totalMinor < best.totalMinor)) best = { totalMinor: moved.totalMinor, source, leadDays: source.leadDays };
    }));
    return best ?? 'none';
  }
}

function explainNeed({ need, sources }: OrderSolver, { totalMinor }: LeastOrders, index: number, mine: OrderPlan['uses'], by: Comparison): OrderChoice {
  const { currency, today } = need;
  const used = new Set(mine.map((use) => use.source));
  const leadDays = Math.max(...mine.map((use) => sources[use.source]!.leadDays));
  const late = Math.max(...mine.map((use) => daysLate(need, index, sources[use.source]!)));
  const amount = (minor: number): number => fromMinor(minor, currency);

  const other = by.find(index, (source) => !used.has(source), false);
  const instead = typeof other === 'object' && other.totalMinor >= totalMinor
    ? { partId: other.source.partId, from: nameOf(other.source), arrives: addDays(today, other.leadDays), more: amount(other.totalMinor - totalMinor) } : null;

  const slow = waitMinor(need, index, 1) > 0 ? by.find(index, () => true, true) : undefined;
  const days = typeof slow !== 'object' ? 0 : Math.max(0, countDays(need.needs[index]!.by, today) + slow.leadDays);
  const later = typeof slow === 'object' && days > 0 && slow.totalMinor < totalMinor ? { days, arrives: addDays(today, slow.leadDays), saves: amount(totalMinor - slow.totalMinor) } : null;

  const quick = leadDays > 0 ? by.find(index, (source) => sources[source]!.leadDays < leadDays, false) : undefined;
  const sooner = typeof quick === 'object' && quick.totalMinor >= totalMinor
    ? { days: leadDays - quick.leadDays, arrives: addDays(today, quick.leadDays), more: amount(quick.totalMinor - totalMinor) } : null;

  const choice = { needId: need.needs[index]!.id, compared: by.compared, instead, later, sooner };
  return { ...choice, why: sayWhy(need, sources, mine, late, choice, other === 'none') };
}

/** The need where waiting costs this one nothing: so it is known from which day on it would come as it then does. */
function letWait(need: Need, index: number): Need {
  return { ...need, needs: need.needs.map((each, at) => (at === index ? { ...each, waitCostPerDay: 0 } : each)) };
}

function describeWay(sources: readonly Source[], { plan, bound }: Solved, index: number): Way | 'none' {
  const mine = plan.uses.filter((use) => use.need === index);
  const last = mine.toSorted((a, b) => sources[b.source]!.leadDays - sources[a.source]!.leadDays)[0];
  return last === undefined ? 'none' : { totalMinor: bound, source: sources[last.source]!, leadDays: sources[last.source]!.leadDays };
}

function nameOf(source: Source): string { return source.kind === 'shelf' ? 'shelf' : source.supplier.id; }

function sayWhy(need: Need, sources: readonly Source[], mine: OrderPlan['uses'], late: number, { instead, later, sooner, compared }: Omit<OrderChoice, 'why'>, alone: boolean): string {
  const money = (value: number): string => `${value.toFixed(minorDigitsOf(need.currency))} ${need.currency}`;
  const days = (count: number): string => (count === 1 ? '1 day' : `${count} days`);
  const place = (from: string): string => (from === 'shelf' ? 'the shelf' : from);
  const sentences = [`${mine.map((use) => `${use.qty} x ${sources[use.source]!.partId} from ${place(nameOf(sources[use.source]!))}`).join(' and ')}${late > 0 ? `, ${days(late)} late` : ''}.`];
  if (instead) sentences.push(`${instead.partId} from ${place(instead.from)} instead, here ${instead.arrives}: ${instead.more === 0 ? 'the same total' : `${money(instead.more)} more`}.`);
  else if (alone) sentences.push(compared === 'all-needs' ? 'Nothing else can bring it.' : 'No other place can bring it whole.');
  if (later) sentences.push(`${days(later.days)} later than asked, on ${later.arrives}, would save ${money(later.saves)}.`);
  if (sooner) sentences.push(`Having it ${days(sooner.days)} sooner, on ${sooner.arrives}, would cost ${sooner.more === 0 ? 'the same' : `${money(sooner.more)} more`}.`);
  if (compared === 'this-need') sentences.push('All else stays as planned in these comparisons.');
  return sentences.join(' ');
}
