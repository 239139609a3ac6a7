import { html, type TemplateResult } from 'lit';
import type { Dimension } from '../../../catalog-schema/index.ts';
import { renderChoices } from '../../elements/choices.ts';
import '../../elements/entry-field/element.ts';
import '../../elements/quantity-field/element.ts';
import { words } from '../../words.ts';
import { benchWords } from '../../words/bench.ts';
import type { WorkView } from '../work-view.ts';
import { renderInrushSection } from './inrush-section.ts';
import { commitMeasured, commitNumber, setField } from './set-field.ts';

const NUMBERS: readonly (readonly ['inrushA' | 'continuousA' | 'longestOnS' | 'controlFuseA' | 'controlRatingA' | 'controlOhm', Dimension, boolean])[] = [
  ['inrushA', 'current', true], ['continuousA', 'current', true], ['longestOnS', 'time', false], ['controlFuseA', 'current', false],
  ['controlRatingA', 'current', false], ['controlOhm', 'resistance', true],
];

/** What the machine asks of the part: current, time, fuse, sealing. */
export function renderDemandSection(view: WorkView): TemplateResult {
  const { sheet } = view;
  const demand = sheet.record.demand ?? {};
  return html`<div class="stack"><div class="figures">
    ${NUMBERS.map(([key, dimension, measured]) => html`<quantity-field data-place=${`demand-${key}`} .label=${benchWords.demand[key]} .hint=${benchWords.demandHint[key]} .dimension=${dimension}
      .value=${demand[key]} .commit=${measured ? commitMeasured(sheet, ['demand', key]) : commitNumber(sheet, ['demand', key])}></quantity-field>`)}
    <entry-field data-place="demand-minSealing" .label=${benchWords.demand.minSealing} .hint=${benchWords.demandHint.minSealing} .value=${demand.minSealing ?? ''}
      .commit=${(text: string) => setField(sheet, ['demand', 'minSealing'], text === '' ? undefined : text.toUpperCase())}></entry-field>
  </div>
  ${renderInrushSection(view)}
  ${renderChoices({
    name: 'continuous-use', legend: benchWords.demand.continuousUse, value: demand.continuousUse === undefined ? 'unknown' : demand.continuousUse ? 'yes' : 'no',
    choices: [{ value: 'no', label: benchWords.cranksOnly }, { value: 'yes', label: benchWords.heldLong }, { value: 'unknown', label: words.notKnown }],
    onChoose: (value) => { setField(sheet, ['demand', 'continuousUse'], value === 'unknown' ? undefined : value === 'yes'); },
  })}</div>`;
}
