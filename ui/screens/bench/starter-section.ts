import { html, type TemplateResult } from 'lit';
import type { Dimension, StarterData } from '../../../catalog-schema/index.ts';
import { renderChoices } from '../../elements/choices.ts';
import '../../elements/quantity-field/element.ts';
import { words } from '../../words.ts';
import { benchWords } from '../../words/bench.ts';
import type { WorkView } from '../work-view.ts';
import { commitNumber, setField } from './set-field.ts';

const NUMBERS: readonly (readonly [Exclude<keyof StarterData, 'rotation'>, Dimension])[] = [
  ['nominalV', 'voltage'], ['pinionTeeth', 'number'], ['pinionModuleMm', 'length'], ['noseMm', 'length'], ['powerKw', 'number'], ['lockedRotorA', 'current'], ['freeRunA', 'current'],
];

/** A removed starter motor, measured or as marked. */
export function renderStarterSection({ sheet, desk }: WorkView): TemplateResult {
  const starter = sheet.record.starter ?? {};
  return html`<div class="stack">${renderChoices({
    name: 'rotation', legend: benchWords.starter.rotation, value: starter.rotation ?? 'unknown',
    choices: [{ value: 'cw' as const, label: benchWords.starter.cw }, { value: 'ccw' as const, label: benchWords.starter.ccw }, { value: 'unknown' as const, label: words.notKnown }],
    onChoose: (value) => { setField(sheet, ['starter', 'rotation'], value === 'unknown' ? undefined : value); },
  })}
  <div class="figures">${NUMBERS.map(([key, dimension]) => html`<quantity-field data-place=${`starter-${key}`} .label=${benchWords.starter[key]} .dimension=${dimension}
    .unit=${key === 'pinionModuleMm' ? 'mm' : desk.settings.values.unit} .value=${starter[key]} .commit=${commitNumber(sheet, ['starter', key])}></quantity-field>`)}</div></div>`;
}
