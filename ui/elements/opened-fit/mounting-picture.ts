import { html, nothing, type TemplateResult } from 'lit';
import { PAPER_NAMES, PAPERS, type PaperName } from '../../../catalog-schema/gauge-sheet/index.ts';
import type { BenchRecord, Fit, Part } from '../../../catalog-schema/index.ts';
import type { LengthUnit } from '../../client/index.ts';
import { fitsWords } from '../../words/fits.ts';
import { STEP_WORDS } from '../../worker/as-left.ts';
import { renderChoices } from '../choices.ts';
import '../old-under-new/index.ts';
import '../pattern-sheet/element.ts';

interface Mounted { readonly record: BenchRecord; readonly part: Part; readonly fit: Fit; readonly unit: LengthUnit }

/** The old part under the new one: terminals with the wires' ways, bolts under bracket; left out where nothing of either is known. */
export function renderMountingPicture({ record, part, fit, unit }: Mounted): TemplateResult | typeof nothing {
  const drills = (fit.placement?.newHoles.length ?? 0) > 0;
  if (!hasHoles(record, part) && (fit.rewire === null || (record.terminals ?? []).length === 0)) return nothing;
  return html`<section class="under"><h2>${fitsWords.mounting}</h2>
    ${drills ? html`<p class="caution">${STEP_WORDS.drillDetail}</p>` : nothing}
    <old-under-new .machine=${record.mounting} .bracket=${part.mounting} .placement=${fit.placement} .units=${unit}
      .plan=${fit.rewire} .oldTerminals=${record.terminals ?? []} .newTerminals=${part.terminals} .wires=${record.wires ?? []}></old-under-new></section>`;
}

/** The way to the bracket on paper: which paper, and print. */
export function renderPatternChoice({ record, part }: Pick<Mounted, 'record' | 'part'>, paper: PaperName, onPaper: (paper: PaperName) => void): TemplateResult | typeof nothing {
  if (!hasHoles(record, part)) return nothing;
  return html`<section><h2>${fitsWords.pattern.title}</h2><p>${fitsWords.pattern.lead}</p>
    <div class="pattern-choice">${renderChoices({
      name: 'pattern-paper', legend: fitsWords.pattern.paper, value: paper, onChoose: onPaper,
      choices: PAPER_NAMES.map((value) => ({ value, label: PAPERS[value].name })),
    })}<button type="button" @click=${() => print()}>${fitsWords.pattern.print}</button></div></section>`;
}

/** For paper only: the bracket at true size, to lay the real one on. */
export function renderPatternSheet({ record, part, fit, unit }: Mounted, paper: PaperName): TemplateResult | typeof nothing {
  if (!hasHoles(record, part)) return nothing;
  return html`<pattern-sheet class="print-only" .machine=${record.mounting} .bracket=${part.mounting} .placement=${fit.placement} .units=${unit} .paper=${paper}
    .heading=${`${part.id}: ${part.title}`}></pattern-sheet>`;
}

function hasHoles(record: BenchRecord, part: Part): boolean {
  return (record.mounting?.holes.length ?? 0) + (part.mounting?.holes.length ?? 0) > 0;
}
