import { html, type TemplateResult } from 'lit';
import type { MachineRoom, Measured } from '../../../catalog-schema/index.ts';
import type { ChangeResult } from '../../client/index.ts';
import '../../elements/quantity-field/element.ts';
import { valueOf } from '../../format.ts';
import { benchWords } from '../../words/bench.ts';
import type { WorkView } from '../work-view.ts';
import { setField } from './set-field.ts';

const SIDES = ['lengthMm', 'widthMm', 'heightMm'] as const;
export type HalfSpace = Partial<MachineRoom>;

/**
 * The room the machine leaves. The record holds all three sides or none, so what is typed is kept in `half` until the third
 * is there; `keep` stores it.
 */
export function renderSpaceSection({ sheet, desk }: WorkView, half: HalfSpace, keep: (half: HalfSpace) => void): TemplateResult {
  const space: HalfSpace = sheet.record.space ?? half;
  const commit = (side: (typeof SIDES)[number] | 'plusMinusMm') => (value: Measured | undefined): ChangeResult => {
    const { [side]: _gone, ...others } = space;
    const next: HalfSpace = value === undefined ? others : { ...others, [side]: valueOf(value) };
    const { lengthMm, widthMm, heightMm, plusMinusMm } = next;
    keep(next);
    if (lengthMm !== undefined && widthMm !== undefined && heightMm !== undefined) {
      return setField(sheet, ['space'], { lengthMm, widthMm, heightMm, ...(plusMinusMm !== undefined && { plusMinusMm }) });
    }
    return sheet.record.space === undefined ? { ok: true } : setField(sheet, ['space'], undefined);
  };
  const plusMinus = html`<quantity-field .label=${benchWords.spacePlusMinus} .hint=${benchWords.spacePlusMinusHint} dimension="length"
    .unit=${desk.settings.values.unit} .value=${space.plusMinusMm} .commit=${commit('plusMinusMm')}></quantity-field>`;
  const waiting = sheet.record.space === undefined && SIDES.some((side) => half[side] !== undefined);
  return html`<div class="figures">${SIDES.map((side) => html`<quantity-field .label=${benchWords.space[side]} .hint=${benchWords.spaceHint[side]} dimension="length"
    .unit=${desk.settings.values.unit} .value=${space[side]} .commit=${commit(side)}></quantity-field>`)}${plusMinus}</div>
    ${waiting ? html`<p class="mark-do">${benchWords.spaceWaits}</p>` : ''}`;
}
