import { html, nothing, type TemplateResult } from 'lit';
import type { BenchRecord, Fit, Part } from '../../../catalog-schema/index.ts';
import type { LengthUnit } from '../../client/index.ts';

/** The removed part under the new one, and the wires from old places to new. */
export function renderPictures(_given: { record: BenchRecord; part: Part; fit: Fit; unit: LengthUnit }): TemplateResult | typeof nothing {
  return html``;
}
