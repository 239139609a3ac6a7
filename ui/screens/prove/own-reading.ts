import { html, nothing, type TemplateResult } from 'lit';
import { CRANK_NODE_NAMES, CRANK_NODES, type CrankNode, type Measured, type Observation } from '../../../catalog-schema/index.ts';
import type { ChangeResult } from '../../client/index.ts';
import '../../elements/quantity-field/element.ts';
import { proveWords } from '../../words/prove.ts';
import type { Probes } from './tap-point.ts';

export interface OwnReadingView {
  readonly probes: Probes;
  /** what was read there before */
  readonly showed: Observation | undefined;
  readonly put: (probes: Probes) => void;
  readonly tell: (seen: Observation) => ChangeResult;
}

/** A reading of one's own: two points, the start switch, and what the meter showed. The same without the drawing. */
export function renderOwnReading({ probes, showed, put, tell }: OwnReadingView): TemplateResult {
  const say = proveWords;
  const { plus, minus, held } = probes;
  return html`<section class="crank-own"><h2>${say.own}</h2>
    ${plus === undefined && minus === undefined ? html`<p class="mark-do">${say.ownHint}</p>` : nothing}
    <div class="crank-probes">
      ${renderPoint('red-point', say.red, plus, minus, (node) => put({ ...probes, plus: node }))}
      ${renderPoint('black-point', say.black, minus, plus, (node) => put({ ...probes, minus: node }))}
    </div>
    <p class="button-row"><button type="button" aria-pressed=${held ? 'true' : 'false'} @click=${() => put({ ...probes, held: !held })}>${say.start}: ${held ? say.held : say.off}</button>
      ${plus === undefined && minus === undefined ? nothing : html`<button type="button" class="plain" @click=${() => put({ ...probes, plus: minus, minus: plus })}>${say.swap}</button>`}</p>
    ${plus === undefined || minus === undefined ? nothing : html`<quantity-field class="crank-own-reading" .label=${say.shows} .hint=${say.volts.hint} .dimension=${'voltage'}
      .value=${showed?.kind === 'volts' ? showed.volts : undefined}
      .commit=${(volts: Measured | 'open' | undefined) => (volts === undefined || volts === 'open' ? { ok: true } : tell({ kind: 'volts', startSwitch: held, plus, minus, volts }))}></quantity-field>`}
  </section>`;
}

function renderPoint(id: string, label: string, value: CrankNode | undefined, other: CrankNode | undefined, choose: (node: CrankNode | undefined) => void): TemplateResult {
  return html`<div class="field"><label for=${id}>${label}</label><select id=${id} @change=${(event: Event) => { const { value: node } = event.target as HTMLSelectElement; choose(node === '' ? undefined : node as CrankNode); }}>
    <option value="" ?selected=${value === undefined}>${proveWords.nowhere}</option>
    ${CRANK_NODES.filter((node) => node !== other).map((node) => html`<option value=${node} ?selected=${node === value}>${CRANK_NODE_NAMES[node]}</option>`)}</select></div>`;
}
