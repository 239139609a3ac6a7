import { html, nothing, type TemplateResult } from 'lit';
import { FAULT_NAMES, type CrankFault, type FaultSharesAnswer, type Measured } from '../../../catalog-schema/index.ts';
import type { ChangeResult } from '../../client/index.ts';
import '../../elements/quantity-field/element.ts';
import { proveWords } from '../../words/prove.ts';

export interface SharesView {
  readonly shares: FaultSharesAnswer;
  /** why the last change was not taken; '' where it was */
  readonly failed: string;
  /** undefined takes the shop's own figure away */
  readonly set: (fault: CrankFault, share: number | undefined) => void;
}

/** How often each fault is found here, before anything is seen: by the product's table, by the shop's own word, by its closed jobs. */
export function renderShares({ shares, failed, set }: SharesView): TemplateResult {
  const say = proveWords.shares;
  const commit = (fault: CrankFault) => (value: Measured | 'open' | undefined): ChangeResult => {
    if (value !== undefined && (typeof value !== 'number' || value < 0)) return { ok: false, why: say.notNegative };
    set(fault, value === undefined ? undefined : value / 100);
    return { ok: true };
  };
  return html`<details class="crank-shares"><summary>${say.title}</summary>
    <p class="quiet">${say.lead}</p>
    ${failed === '' ? nothing : html`<p class="not" role="alert">${failed}</p>`}
    <div class="figures">${shares.used.map(({ fault, share, n, reason }) => html`<quantity-field .label=${FAULT_NAMES[fault]} .dimension=${'number'}
      .hint=${say.hint(Math.round(share * 1000) / 10, n, reason)} .value=${shares.own[fault] === undefined ? undefined : Math.round(shares.own[fault] * 1000) / 10} .commit=${commit(fault)}></quantity-field>`)}</div></details>`;
}
