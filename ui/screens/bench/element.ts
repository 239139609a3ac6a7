import { html, nothing, type TemplateResult } from 'lit';
import '../../elements/bolt-list/element.ts';
import '../../elements/field-choice/element.ts';
import '../../elements/lack-list/element.ts';
import '../../elements/ohm-readings/element.ts';
import { targetOf, type MeasureTarget, type ReadingSetUp } from '../../elements/measure-target.ts';
import '../../elements/next-measurement/element.ts';
import { PlainElement } from '../../elements/plain-element.ts';
import { words } from '../../words.ts';
import { benchWords } from '../../words/bench.ts';
import type { WorkView } from '../work-view.ts';
import { renderDemandSection } from './demand-section.ts';
import { renderFindingsSection } from './findings-section.ts';
import { renderInsideSection } from './inside-section.ts';
import { renderPartSection } from './part-section.ts';
import { renderSpaceSection, type HalfSpace } from './space-section.ts';
import { renderStarterSection } from './starter-section.ts';
import { renderSystemSection } from './system-section.ts';
import { renderTerminalsSection } from './terminals-section.ts';

/** What of the record each section writes. */
const PLACES: Readonly<Record<string, readonly string[]>> = {
  part: ['partClass', 'marked', 'benchC'], terminals: ['terminals'], starter: ['starter'], ohms: ['ohms'], bolts: ['mounting'], space: ['space'], system: ['system'], demand: ['demand'],
};

/** Numbers in: everything that is measured of the part and asked by the machine, and what it says. */
export class BenchScreen extends PlainElement {
  static override properties = { view: { attribute: false }, half: { state: true }, refused: { state: true }, aim: { state: true } };
  declare view: WorkView;
  declare half: HalfSpace;
  declare refused: string;
  /** the ohm reading last asked for by a tap */
  declare aim: ReadingSetUp | undefined;
  #ledTo: string | undefined;

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
    const hasTerminals = (sheet.record.terminals ?? []).length > 0;
    const next = findings.identify?.measureNext ?? [];
    return html`<h1>${words.steps.names.bench}</h1>
      <div class="bench" @measure-aim=${(event: CustomEvent<{ target: MeasureTarget }>) => this.#take(event.detail.target)}>
        <div class="bench-in">
          ${this.#section('part', words.bench.partTitle, renderPartSection(view))}
          ${this.#section('terminals', benchWords.terminalsTitle, renderTerminalsSection(view))}
          ${partClass === 'starter-motor' ? this.#section('starter', words.bench.starterTitle, renderStarterSection(view)) : nothing}
          ${hasTerminals ? this.#section('ohms', benchWords.ohmsTitle, html`<ohm-readings .sheet=${sheet} .record=${sheet.record} .unit=${unit} .aim=${this.aim}
            .asked=${this.#askedOhms()} .conflicts=${findings.identify?.conflicts ?? []}></ohm-readings>`) : nothing}
          ${hasTerminals ? this.#section('inside', benchWords.insideTitle, renderInsideSection(view)) : nothing}
          ${this.#section('bolts', words.bench.boltsTitle, html`${sheet.jobId === undefined ? nothing : html`<p><a class="button" href="${view.base}/bench/photograph">${words.photograph.open}</a>
            <small>${words.photograph.openHint}</small></p>`}<bolt-list .sheet=${sheet} .record=${sheet.record} .unit=${unit}></bolt-list>`)}
          ${this.#section('space', words.bench.spaceTitle, renderSpaceSection(view, this.half, (half) => { this.half = half; }))}
          ${this.#section('system', words.bench.systemTitle, renderSystemSection(view, this.refused, (why) => { this.refused = why; }))}
          ${this.#section('demand', words.bench.demandTitle, renderDemandSection(view))}
        </div>
        <div class="bench-out">
          <h2>${benchWords.findingsTitle}</h2>
          ${renderFindingsSection(view, (target) => this.#take(target))}
          <lack-list .lacks=${reports.bench.lacks} .fit=${findings.fit}></lack-list>
        </div>
        <next-measurement .next=${next} .record=${sheet.record} .working=${findings.working}></next-measurement>
      </div>`;
  }

  /** The best ohm reading not taken yet, whatever else may be worth more. */
  #askedOhms(): ReadingSetUp | undefined {
    const { sheet, findings } = this.view;
    for (const { what } of findings.identify?.measureNext ?? []) {
      const target = targetOf(what, sheet.record);
      if (target?.kind === 'ohms') return target.setUp;
    }
    return undefined;
  }

  /** Opens the place where a measurement is entered. */
  #take(target: MeasureTarget): void {
    if (target.kind === 'ohms') {
      this.aim = { ...target.setUp };
      return;
    }
    this.#focusPlace(`${target.terminal}.${target.figure}`);
  }

  /** The place that the address names, once each time it names another; after the page has gone to the top of the new step. */
  protected override updated(): void {
    const { detail } = this.view;
    if (detail === this.#ledTo) return;
    this.#ledTo = detail;
    if (detail !== undefined) requestAnimationFrame(() => this.#focusPlace(detail));
  }

  /** Goes to a field by its place, or to the first control of a section by its name. */
  #focusPlace(place: string): void {
    const field = [...this.querySelectorAll<HTMLElement>('[data-place]')].find((entry) => entry.dataset['place'] === place)
      ?? [...this.querySelectorAll<HTMLElement>('section[aria-labelledby]')].find((entry) => entry.getAttribute('aria-labelledby') === `bench-${place}`);
    field?.querySelector<HTMLElement>('input, select, button, [tabindex]')?.focus();
    field?.scrollIntoView({ block: 'center' });
  }

  #section(name: string, title: string, content: TemplateResult): TemplateResult {
    return html`<section aria-labelledby="bench-${name}"><h2 id="bench-${name}">${title}</h2>
      <field-choice .sheet=${this.view.sheet} .at=${(PLACES[name] ?? []).map((key) => ['record', key])} .unit=${this.view.desk.settings.values.unit}></field-choice>${content}</section>`;
  }
}
customElements.define('bench-screen', BenchScreen);
