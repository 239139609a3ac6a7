import { html, nothing, type TemplateResult } from 'lit';
import '../../elements/bolt-list/element.ts';
import '../../elements/lack-list/element.ts';
import '../../elements/ohm-readings/element.ts';
import { PlainElement } from '../../elements/plain-element.ts';
import { words } from '../../words.ts';
import type { WorkView } from '../work-view.ts';
import { renderDemandSection } from './demand-section.ts';
import { renderFindingsSection } from './findings-section.ts';
import { renderPartSection } from './part-section.ts';
import { renderSpaceSection, type HalfSpace } from './space-section.ts';
import { renderStarterSection } from './starter-section.ts';
import { renderSystemSection } from './system-section.ts';
import { renderTerminalsSection } from './terminals-section.ts';

/** Numbers in: everything that is measured of the part and asked by the machine, and what it says. */
export class BenchScreen extends PlainElement {
  static override properties = { view: { attribute: false }, half: { state: true }, refused: { state: true } };
  declare view: WorkView;
  declare half: HalfSpace;
  declare refused: string;

  constructor() {
    super();
    this.half = {};
    this.refused = '';
  }

  protected override render(): TemplateResult {
    const { view } = this;
    const { sheet, desk, reports, findings } = view;
    const { unit } = desk.settings.values;
    const { partClass } = sheet.record;
    return html`<h1>${words.steps.names.bench}</h1>
      <div class="bench">
        <div class="bench-in">
          ${this.#section('part', words.bench.partTitle, renderPartSection(view))}
          ${this.#section('terminals', words.bench.terminalsTitle, renderTerminalsSection(view))}
          ${partClass === 'starter-motor' ? this.#section('starter', words.bench.starterTitle, renderStarterSection(view)) : nothing}
          ${(sheet.record.terminals ?? []).length === 0 ? nothing : this.#section('ohms', words.bench.ohmsTitle, html`<ohm-readings .sheet=${sheet} .record=${sheet.record} .unit=${unit}></ohm-readings>`)}
          ${this.#section('bolts', words.bench.boltsTitle, html`<bolt-list .sheet=${sheet} .record=${sheet.record} .unit=${unit}></bolt-list>`)}
          ${this.#section('space', words.bench.spaceTitle, renderSpaceSection(view, this.half, (half) => { this.half = half; }))}
          ${this.#section('system', words.bench.systemTitle, renderSystemSection(view, this.refused, (why) => { this.refused = why; }))}
          ${this.#section('demand', words.bench.demandTitle, renderDemandSection(view))}
        </div>
        <div class="bench-out">
          <h2>${words.bench.findingsTitle}</h2>
          ${renderFindingsSection(view)}
          <lack-list .lacks=${reports.bench.lacks} .fit=${findings.fit}></lack-list>
        </div>
      </div>`;
  }

  #section(name: string, title: string, content: TemplateResult): TemplateResult {
    return html`<section aria-labelledby="bench-${name}"><h2 id="bench-${name}">${title}</h2>${content}</section>`;
  }
}
customElements.define('bench-screen', BenchScreen);
