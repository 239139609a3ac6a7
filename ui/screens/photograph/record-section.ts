import { html, nothing, type TemplateResult } from 'lit';
import type { BenchRecord, JobPhotograph, Measured } from '../../../catalog-schema/index.ts';
import type { MeasuredPhotograph } from '../../../api/engine/photograph/index.ts';
import type { ChangeResult, LengthUnit } from '../../client/index.ts';
import { renderChoices } from '../../elements/choices.ts';
import '../../elements/quantity-field/element.ts';
import { formatLength } from '../../format.ts';
import { words } from '../../words.ts';
import { photographWords } from '../../words/photograph.ts';
import { findForRecord } from './into-record.ts';
import type { FieldChange } from '../../client/index.ts';

const SIDES = ['down', 'left', 'up', 'right'] as const;

/** Heights above the card, and how the picture lies to the part. */
export function renderTaken(given: { photograph: JobPhotograph; unit: LengthUnit; set: (path: readonly string[], value: FieldChange['value']) => ChangeResult }): TemplateResult {
  const { photograph, unit, set } = given;
  const height = (what: 'holes' | 'terminals', label: string): TemplateResult => html`<quantity-field .label=${label} .hint=${photographWords.raisedHint} dimension="length" figure="height"
    .unit=${unit} .value=${photograph.raisedMm?.[what]} .commit=${(value: Measured | undefined) => set(['raisedMm', what], value ?? null)}></quantity-field>`;
  return html`<h2>${photographWords.takenTitle}</h2><div class="figures">
      ${height('holes', photographWords.raisedHoles)} ${height('terminals', photographWords.raisedTerminals)}</div>
    <div class="stack">${renderChoices({
      name: 'photo-side', legend: photographWords.bracketSide, value: photograph.bracketSide ?? 'down',
      choices: SIDES.map((value) => ({ value, label: photographWords.bracketSides[value] })),
      onChoose: (value) => { set(['bracketSide'], value === 'down' ? null : value); },
    })}
    ${renderChoices({
      name: 'photo-from', legend: photographWords.seenFrom, value: photograph.seenFrom ?? 'body',
      choices: (['body', 'behind'] as const).map((value) => ({ value, label: photographWords.seenFroms[value] })),
      onChoose: (value) => { set(['seenFrom'], value === 'body' ? null : value); },
    })}</div>`;
}

/** What would go into the record, and the one touch that puts it there. */
export function renderIntoRecord(given: {
  record: BenchRecord; photograph: JobPhotograph; measured: MeasuredPhotograph | undefined; unit: LengthUnit; base: string; failed: string;
  put: (changes: readonly FieldChange[]) => void;
}): TemplateResult {
  const { record, photograph, measured, unit } = given;
  const found = measured === undefined ? undefined : findForRecord(record, photograph, measured);
  const title = html`<h2>${photographWords.recordTitle}</h2>`;
  if (found === undefined || found.holes + found.terminals === 0) return html`${title}<p class="quiet">${photographWords.nothingToPut}</p>`;
  const bolts = record.mounting?.holes.length ?? 0;
  const parts = [...(found.holes > 0 ? [photographWords.holes(found.holes)] : []), ...(found.terminals > 0 ? [photographWords.terminals(found.terminals)] : [])];
  const inRecord = found.changes.length === 0;
  return html`${title}
    ${found.holes > 1 && measured?.plusMinusMm !== undefined ? html`<p>${photographWords.plusMinus(formatLength(measured.plusMinusMm, unit))}
      ${found.takenMm === undefined ? nothing : photographWords.holeTaken(formatLength(found.takenMm, unit))}</p>` : nothing}
    ${inRecord ? html`<p role="status"><b>${photographWords.inRecord}</b> ${photographWords.leadsOn}</p>
      <div class="button-row"><a class="button" href="${given.base}/bench">${words.steps.names.bench}</a><a class="button" href="${given.base}/as-found">${words.steps.names['as-found']}</a></div>`
      : html`${found.holes > 0 && bolts > 0 ? html`<p class="mark-do">${photographWords.replaces(bolts)}</p>` : nothing}
      <p><button type="button" class="main" @click=${() => given.put(found.changes)}>${photographWords.put(parts)}</button></p>`}
    ${given.failed === '' ? nothing : html`<p class="not" role="alert">${photographWords.cannot(given.failed)}</p>`}`;
}
