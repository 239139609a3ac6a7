import { html, nothing, type TemplateResult } from 'lit';
import type { BenchRecord, Fit, Part } from '../../../catalog-schema/index.ts';
import type { LengthUnit } from '../../client/index.ts';
import { words } from '../../words.ts';
import '../old-under-new/index.ts';

interface Mounted { readonly record: BenchRecord; readonly part: Part; readonly fit: Fit; readonly unit: LengthUnit }

/** The machine's bolts under the new part's bracket; left out where neither is known. */
export function renderMountingPicture({ record, part, fit, unit }: Mounted): TemplateResult | typeof nothing {
  const bolts = record.mounting?.holes.length ?? 0;
  const holes = part.mounting?.holes.length ?? 0;
  if (bolts === 0 && holes === 0) return nothing;
  return html`<section><h2>${words.fits.mounting}</h2>
    <old-under-new .machine=${record.mounting} .bracket=${part.mounting} .placement=${fit.placement} .units=${unit}></old-under-new>
    <p><button type="button" @click=${() => print()}>${words.fits.printTrueSize}</button></p></section>`;
}

/** For paper only: the bracket at true size, to lay the real one on. */
export function renderTrueSizeSheet({ record, part, fit, unit }: Mounted): TemplateResult {
  return html`<div class="print-only"><h1>${part.title} <span class="number">${part.id}</span></h1>
    <old-under-new true-size .machine=${record.mounting} .bracket=${part.mounting} .placement=${fit.placement} .units=${unit}></old-under-new></div>`;
}
