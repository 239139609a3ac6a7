import { html, nothing, type TemplateResult } from 'lit';
import type { Fit, Prices } from '../../../catalog-schema/index.ts';
import { daysBetween, formatMoney, formatNumber } from '../../format.ts';
import { listKit } from '../../screens/fits/fit-words.ts';
import { words } from '../../words.ts';
import { benchWords } from '../../words/bench.ts';
import { fitsWords } from '../../words/fits.ts';

/** What the machine is expected to cost until it runs: five parts that add up, each with what it stands on. Nothing where the fit has no cost. */
export function renderCostTable(fit: Fit, prices: Prices | undefined): TemplateResult | typeof nothing {
  const cost = fit.expectedCost;
  if (cost === null) return nothing;
  const how = fitsWords.costHow;
  const rows = [
    ['part', how.part(saySource(fit, cost.currency))],
    ['kit', how.kit(words.list(listKit(fit.kit)))],
    ['labour', fit.minutes === undefined ? '' : how.labour(formatNumber(fit.minutes, 0))],
    ['misfit', fit.fitProbability === null ? '' : how.misfit(benchWords.percent(1 - fit.fitProbability))],
    ['wait', fit.source === undefined || prices === undefined ? '' : how.wait(daysBetween(prices.today, fit.source.arrives))],
  ] as const;
  return html`<section class="cost"><h2>${fitsWords.costTitle}</h2><table class="cost-table"><tbody>
    ${rows.map(([key, said]) => html`<tr><th scope="row">${fitsWords.costParts[key]}<small>${said}</small></th><td class="money">${formatMoney(cost[key], cost.currency)}</td></tr>`)}
    </tbody><tfoot><tr><th scope="row">${fitsWords.costTotal}</th><td class="money"><b>${formatMoney(cost.total, cost.currency)}</b></td></tr></tfoot></table></section>`;
}

/** Where one unit comes from and what it costs there: '12.50 from our shelf'. */
function saySource({ source }: Fit, currency: string): string {
  if (source === undefined) return '';
  const unit = formatMoney(source.unitPrice, currency);
  if (source.from === 'shelf') return fitsWords.oneOf(unit, fitsWords.fromShelf);
  return fitsWords.withFreight(source.qty, unit, source.from, source.freight > 0 ? formatMoney(source.freight, currency) : '');
}
