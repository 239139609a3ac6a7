import { html, nothing, type TemplateResult } from 'lit';
import type { InputFault, JobPhotograph, PhotographThing } from '../../../catalog-schema/index.ts';
import type { MeasuredPhotograph } from '../../../api/engine/photograph/index.ts';
import type { LengthUnit } from '../../client/index.ts';
import { renderChoices } from '../../elements/choices.ts';
import { formatMeasuredLength, formatNumber } from '../../format.ts';
import { photographWords } from '../../words/photograph.ts';
import { numberEdges, numberThings, spacingsShown } from './board-marks.ts';

/** A half-width above this is worth a second, closer look, mm. */
const COARSE_MM = 0.5;

/** The card: each edge found or not, why it cannot be measured by yet, and which edges are the long ones where that is not clear. */
export function renderCard(given: {
  photograph: JobPhotograph; measured: MeasuredPhotograph | undefined; removeEdge: (key: string) => void; setLong: (key: string) => void;
}): TemplateResult {
  const { photograph, measured, removeEdge, setLong } = given;
  const numbers = numberEdges(photograph, measured);
  const card = measured?.card;
  return html`<h2>${photographWords.cardTitle}</h2>
    ${numbers.size === 0 ? html`<p class="quiet">${photographWords.guide.edgeFirst(1)}</p>` : html`<ul class="rows photo-rows photo-edges">${[...numbers].map(([key, number]) => {
      const edge = measured?.edges[key];
      return html`<li><span><b>${photographWords.edge(number)}</b> ${edge === undefined ? photographWords.edgeHalf : edge.ok ? photographWords.edgeFound
        : html`<span class="not">${sayFault(edge.faults)}</span>`}</span>
        <button type="button" class="plain" aria-label=${photographWords.markEdgeAgain(number)} @click=${() => removeEdge(key)}>${photographWords.markAgain}</button></li>`;
    })}</ul>`}
    ${card === undefined ? nothing : card.ok ? html`<p>${photographWords.cardMeasured(formatNumber(card.value.pxPerMm, 1))}</p>`
      : html`<div class="caution" role="alert">${card.faults.map((fault) => html`<p>${sayCardFault(fault)}</p>`)}</div>`}
    ${measured?.cautions.map((line) => html`<p class="caution">${line}</p>`)}
    ${card?.ok && (card.value.unclear || photograph.longEdge !== undefined) ? renderChoices({
      name: 'photo-long', legend: photographWords.longEdges, value: card.value.longEdges.includes(measured!.order[0]!) ? '0' : '1',
      choices: [{ value: '0', label: photographWords.pair(1, 3) }, { value: '1', label: photographWords.pair(2, 4) }],
      onChoose: (which) => setLong(measured!.order[Number(which)]!),
    }) : nothing}`;
}

/** Every spacing, then every marked thing, each with how sure it is. */
export function renderMeasured(given: { photograph: JobPhotograph; measured: MeasuredPhotograph | undefined; unit: LengthUnit; remove: (key: string) => void }): TemplateResult {
  const { photograph, measured, unit, remove } = given;
  const things = Object.entries(photograph.things ?? {});
  if (things.length === 0) return html`<h2>${photographWords.measuredTitle}</h2><p class="quiet">${photographWords.nothingYet}</p>`;
  const numbers = { hole: numberThings(photograph, 'hole'), length: numberThings(photograph, 'length') };
  const nameOf = (key: string, thing: PhotographThing): string => (thing.what === 'terminal' ? photographWords.terminal(thing.terminal ?? '')
    : thing.what === 'hole' ? photographWords.hole(numbers.hole.get(key)!) : photographWords.length(numbers.length.get(key)!));
  const spacings = spacingsShown(measured);
  const coarse = spacings.some(({ length }) => length.ok && length.value.plusMinus > COARSE_MM)
    || Object.values(measured?.things ?? {}).some((thing) => thing.ok && (thing.value.acrossMm?.plusMinus ?? 0) > COARSE_MM);
  return html`<h2>${photographWords.measuredTitle}</h2>
    ${spacings.length === 0 ? nothing : html`<dl class="photo-spacings">${spacings.map(({ a, b, length }) => html`<div>
      <dt>${photographWords.spacing(numbers.hole.get(a) ?? 0, numbers.hole.get(b) ?? 0)}</dt>
      <dd>${length.ok ? html`<span class="number">${formatMeasuredLength(length.value, unit)}</span>` : html`<span class="not">${sayFault(length.faults)}</span>`}</dd></div>`)}</dl>`}
    ${coarse ? html`<p class="mark-do">${photographWords.coarse}</p>` : nothing}
    <ul class="rows photo-rows photo-things">${things.map(([key, thing]) => html`<li><span><b>${nameOf(key, thing)}</b> ${sayThing(thing, measured?.things[key], unit)}</span>
      <button type="button" class="plain" aria-label=${photographWords.removeThis(nameOf(key, thing))} @click=${() => remove(key)}>${photographWords.remove}</button></li>`)}</ul>`;
}

function sayThing(thing: PhotographThing, found: MeasuredPhotograph['things'][string] | undefined, unit: LengthUnit): TemplateResult {
  if (found === undefined) return html`<span class="quiet">${photographWords.unfinished}</span>`;
  if (!found.ok) return html`<span class="not">${sayFault(found.faults)}</span>`;
  const { acrossMm, offRound } = found.value;
  if (acrossMm === undefined) return html`<span class="quiet">${photographWords.middleOnly}</span>`;
  const length = formatMeasuredLength(acrossMm, unit);
  return html`<span class="number">${thing.what === 'length' ? length : thing.by === 'rim' ? photographWords.diameter(length) : photographWords.width(length)}</span>
    ${offRound ? html`<span class="mark-do">${photographWords.offRound}</span>` : nothing}`;
}

function sayFault(faults: readonly InputFault[]): string {
  return faults.map(({ found, want }) => photographWords.edgeRefused(found, want)).join('; ');
}

function sayCardFault({ path, found, want }: InputFault): string {
  const edge = /^edges\[(\d)\]/.exec(path)?.[1];
  return photographWords.cardFault(found, want, edge === undefined ? undefined : Number(edge) + 1);
}
