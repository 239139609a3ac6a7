import { html, nothing, type TemplateResult } from 'lit';
import type { InputFault, JobPhotograph } from '../../../catalog-schema/index.ts';
import type { PhotographState } from '../../client/index.ts';
import '../../elements/file-button.css';
import { formatMoment } from '../../format.ts';
import { photographWords } from '../../words/photograph.ts';

/** Two ways to a picture: the camera, or a file. `take` is given what was chosen. */
export function renderTakeButtons(take: (file: File) => void, busy: boolean): TemplateResult {
  const input = (label: string, camera: boolean): TemplateResult => html`<label class="button file-button ${camera ? 'main' : ''}">${label}
    <input type="file" accept="image/*" capture=${camera ? 'environment' : nothing} ?disabled=${busy} @change=${(event: Event) => {
      const field = event.target as HTMLInputElement;
      const [file] = field.files ?? [];
      // The same file may be chosen again after a mistake.
      field.value = '';
      if (file !== undefined) take(file);
    }}></label>`;
  return html`<div class="button-row">${input(photographWords.take, true)}${input(photographWords.choose, false)}</div>`;
}

/** What to do before there is a picture. */
export function renderLead(): TemplateResult {
  return html`<p>${photographWords.lead}</p><ul class="photo-tips">${photographWords.tips.map((tip) => html`<li>${tip}</li>`)}</ul>
    <p class="caution">${photographWords.secret}</p>`;
}

/** Why a file was not taken, in words. */
export function renderRefusal(faults: readonly InputFault[]): TemplateResult | typeof nothing {
  if (faults.length === 0) return nothing;
  return html`<div class="caution" role="alert">${faults.map(({ found, want }) => html`<p>${photographWords.refused(found, want)}</p>`)}
    ${faults.some(({ found }) => found.includes('HEIC')) ? html`<p>${photographWords.refusedHint}</p>` : nothing}</div>`;
}

/** Whether the open picture has reached the server; nothing while it has. */
export function renderSent(state: PhotographState): TemplateResult | typeof nothing {
  switch (state.kind) {
    case 'sent': return nothing;
    case 'waiting': return html`<p class="quiet" role="status">${photographWords.waiting(state.sentBytes, state.bytes)}</p>`;
    case 'refused': return html`<p class="caution" role="alert">${photographWords.sendRefused(state.why)}</p>`;
  }
}

/** The job's pictures, the one that is open marked. */
export function renderPictures(given: {
  photographs: Readonly<Record<string, JobPhotograph>>; open: string; show: (hash: string) => void; remove: () => void; take: (file: File) => void; busy: boolean;
}): TemplateResult {
  return html`<h2>${photographWords.pictures}</h2><ul class="rows photo-rows">${Object.entries(given.photographs).map(([hash, { name, at, widthPx, heightPx }]) => html`<li>
      <span><b>${name}</b> <span class="quiet">${formatMoment(at)}, ${photographWords.size(widthPx, heightPx)}</span></span>
      ${hash === given.open ? html`<span class="quiet">${photographWords.showing}</span>`
        : html`<button type="button" class="plain" aria-label="${photographWords.show}: ${name}" @click=${() => given.show(hash)}>${photographWords.show}</button>`}</li>`)}</ul>
    <h3>${photographWords.another}</h3>${renderTakeButtons(given.take, given.busy)}
    <p><button type="button" class="plain" @click=${given.remove}>${photographWords.removePicture}</button></p>`;
}
