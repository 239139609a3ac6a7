import { html, type TemplateResult } from 'lit';
import type { Measured } from '../../../catalog-schema/index.ts';
import type { ChangeResult } from '../../client/index.ts';
import '../../elements/quantity-field/element.ts';
import { valueOf } from '../../format.ts';
import { benchWords } from '../../words/bench.ts';
import type { WorkView } from '../work-view.ts';
import { commitMeasured, commitNumber, setField } from './set-field.ts';

/** What the inrush is computed from where nobody has clamped it: battery, cable, starter. */
export function renderInrushSection({ sheet, desk }: WorkView): TemplateResult {
  const from = sheet.record.demand?.from ?? {};
  const [first, ...others] = from.cable ?? [];
  const at = ['demand', 'from'];
  const setCable = (cable: { areaMm2: number; lengthMm: number } | undefined): ChangeResult =>
    setField(sheet, [...at, 'cable'], cable === undefined ? (others.length === 0 ? undefined : others) : [cable, ...others]);
  return html`<details ?open=${sheet.record.demand?.from !== undefined}><summary>${benchWords.inrushFrom}</summary><div class="figures">
    <quantity-field .label=${benchWords.from.batteryCcaA} .hint=${benchWords.fromHint.batteryCcaA} dimension="current" .value=${from.batteryCcaA}
      .commit=${commitNumber(sheet, [...at, 'batteryCcaA'])}></quantity-field>
    <quantity-field .label=${benchWords.from.restingV} .hint=${benchWords.fromHint.restingV} dimension="voltage" .value=${from.restingV}
      .commit=${commitNumber(sheet, [...at, 'restingV'])}></quantity-field>
    <quantity-field .label=${benchWords.from.cableArea} .hint=${benchWords.fromHint.cableArea} dimension="area" .value=${first?.areaMm2}
      .commit=${(value: Measured | undefined) => setCable(value === undefined ? undefined : { areaMm2: valueOf(value), lengthMm: first?.lengthMm ?? 0 })}></quantity-field>
    <quantity-field .label=${benchWords.from.cableLength} .hint=${benchWords.fromHint.cableLength} dimension="length" .unit=${desk.settings.values.unit} .value=${first?.lengthMm}
      .commit=${(value: Measured | undefined) => (first === undefined ? { ok: value === undefined, why: benchWords.from.areaFirst } as ChangeResult
        : setCable({ areaMm2: first.areaMm2, lengthMm: value === undefined ? 0 : valueOf(value) }))}></quantity-field>
    <quantity-field .label=${benchWords.from.starterOhm} .hint=${benchWords.fromHint.starterOhm} dimension="resistance" .value=${from.starterOhm}
      .commit=${commitMeasured(sheet, [...at, 'starterOhm'])}></quantity-field>
  </div></details>`;
}
