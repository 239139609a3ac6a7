import { html, type TemplateResult } from 'lit';
import { words } from '../../words.ts';
import type { StepName } from '../step-states.ts';
import type { WorkView } from '../work-view.ts';

/** Steps that stand on a machine; a counter sheet has none. */
const JOB_ONLY: ReadonlySet<StepName> = new Set<StepName>(['prove', 'as-left', 'record']);

/** The detail of Bench that is a screen of its own: /jobs/ID/bench/photograph. */
const PHOTOGRAPH = 'photograph';

/** Fetches the screen of a step; each is a script of its own. */
export async function loadStep(step: StepName, detail: string | undefined): Promise<void> {
  switch (step) {
    case 'prove': await import('../prove/element.ts'); return;
    case 'as-found': await import('../as-found/element.ts'); return;
    case 'bench': await (detail === PHOTOGRAPH ? import('../photograph/element.ts') : import('../bench/element.ts')); return;
    case 'fits': await import('../fits/element.ts'); return;
    case 'get': await import('../get/element.ts'); return;
    case 'as-left': await import('../as-left/element.ts'); return;
    case 'record': await import('../record/element.ts'); return;
  }
}

/** The screen of the step that is open. */
export function renderStep(view: WorkView): TemplateResult {
  if (view.sheet.jobId === undefined && JOB_ONLY.has(view.step)) {
    return html`<h1>${words.steps.names[view.step]}</h1><p>${words.counter.jobOnly}</p>
      <p><a class="button" href="/start">${words.counter.makeJob}</a></p>`;
  }
  switch (view.step) {
    case 'prove': return html`<prove-screen .view=${view}></prove-screen>`;
    case 'as-found': return html`<as-found-screen .view=${view}></as-found-screen>`;
    case 'bench': return view.detail === PHOTOGRAPH ? renderPhotograph(view) : html`<bench-screen .view=${view}></bench-screen>`;
    case 'fits': return html`<fits-screen .view=${view}></fits-screen>`;
    case 'get': return html`<get-screen .view=${view}></get-screen>`;
    case 'as-left': return html`<as-left-screen .view=${view}></as-left-screen>`;
    case 'record': return html`<record-screen .view=${view}></record-screen>`;
  }
}

/** A picture is kept with a job; a counter sheet is kept nowhere. */
function renderPhotograph(view: WorkView): TemplateResult {
  return view.sheet.jobId === undefined ? html`<h1>${words.photograph.title}</h1><p>${words.photograph.jobOnly}</p><p><a class="button" href="/start">${words.counter.makeJob}</a></p>`
    : html`<photograph-screen .view=${view}></photograph-screen>`;
}
