import { html, type TemplateResult } from 'lit';
import { PART_CLASSES, type PartClass } from '../../../catalog-schema/index.ts';
import { renderChoices } from '../../elements/choices.ts';
import '../../elements/entry-field/element.ts';
import '../../elements/quantity-field/element.ts';
import { words } from '../../words.ts';
import { benchWords } from '../../words/bench.ts';
import type { WorkView } from '../work-view.ts';
import { commitNumber, setField } from './set-field.ts';

/** What kind of part it is and what is written on it. */
export function renderPartSection({ sheet }: WorkView): TemplateResult {
  const { partClass, marked } = sheet.record;
  return html`<div class="stack">${renderChoices<PartClass | 'unknown'>({
    name: 'part-class', legend: words.bench.partClass, value: partClass ?? 'unknown',
    choices: [...PART_CLASSES, 'unknown' as const].map((value) => ({ value, label: words.partClass[value] })),
    onChoose: (value) => { setField(sheet, ['partClass'], value === 'unknown' ? undefined : value); },
  })}
  <div class="figures">
    <entry-field .label=${benchWords.numbers} .hint=${benchWords.numbersHint} .value=${(marked?.numbers ?? []).join(', ')}
      .commit=${(text: string) => setField(sheet, ['marked', 'numbers'], text === '' ? undefined : text.split(',').map((entry) => entry.trim()).filter((entry) => entry !== ''))}></entry-field>
    <quantity-field .label=${benchWords.markedV} .hint=${benchWords.markedVHint} dimension="voltage" .value=${marked?.coilV}
      .commit=${commitNumber(sheet, ['marked', 'coilV'])}></quantity-field>
    <quantity-field .label=${benchWords.benchC} .hint=${benchWords.benchCHint} dimension="temperature" .value=${sheet.record.benchC}
      .commit=${commitNumber(sheet, ['benchC'])}></quantity-field>
  </div></div>`;
}
