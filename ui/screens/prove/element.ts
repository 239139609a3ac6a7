import { html, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { keyOfObservation, type CrankAsk, type CrankFault, type CrankInstrument, type Observation } from '../../../catalog-schema/index.ts';
import type { ChangeResult } from '../../client/index.ts';
import '../../elements/crank-picture/index.ts';
import '../../elements/field-choice/element.ts';
import { PlainElement } from '../../elements/plain-element.ts';
import { formatMeasured } from '../../format.ts';
import { sayFault } from '../../say-fault.ts';
import { words } from '../../words.ts';
import { proveWords } from '../../words/prove.ts';
import type { WorkView } from '../work-view.ts';
import { findInterlocks } from './interlocks-act.ts';
import { renderMachine } from './machine-section.ts';
import { LOAD, renderOtherTests } from './other-tests.ts';
import { renderOwnReading } from './own-reading.ts';
import './prove.css';
import { sayConsequence, sayVerdict } from './say-verdict.ts';
import { findSeen, keyOfPath, renderChances, renderSeen } from './seen-section.ts';
import { renderShares } from './shares-section.ts';
import { renderSymptoms } from './symptom-section.ts';
import { tapPoint, type Probes } from './tap-point.ts';
import { renderTest } from './test-section.ts';

const NO_PROBES: Probes = { plus: undefined, minus: undefined, held: true };

/** Which part failed: the circuit drawn with what the evidence says of each part, what was seen, the test that tells most next, the verdict. */
export class ProveScreen extends PlainElement {
  static override properties = { view: { attribute: false }, probes: { state: true }, chosen: { state: true }, unfolded: { state: true }, load: { state: true }, sharesFailed: { state: true } };
  declare view: WorkView;
  /** where the person has put the probes; none: where the next test asks */
  declare probes: Probes;
  /** a test that the person prefers to the proposed one */
  declare chosen: CrankAsk | undefined;
  declare unfolded: boolean;
  declare load: typeof LOAD;
  declare sharesFailed: string;
  /** a reading has just been told: the field of the next test takes the focus once it is there */
  #goOn = false;

  constructor() {
    super();
    this.probes = NO_PROBES;
    this.unfolded = false;
    this.load = LOAD;
    this.sharesFailed = '';
  }

  protected override render(): TemplateResult {
    const { sheet, desk, proof } = this.view;
    const { answer } = proof;
    const prove = sheet.document.prove ?? {};
    const seen = prove.seen ?? {};
    const sound = seen['sound on'];
    const crank = seen['crank on'];
    const heard = sound?.kind === 'sound' ? sound.heard : undefined;
    const cranked = crank?.kind === 'crank' ? crank.seen : undefined;
    const tests = answer?.nextTest ?? [];
    const proposed = tests[0];
    const ask = this.chosen ?? proposed?.ask;
    const test = ask === undefined ? undefined : tests.find((each) => keyOfObservation(each.ask) === keyOfObservation(ask));
    const carrying = (answer?.carriedBy ?? []).flatMap(({ path }) => keyOfPath(path, proof.keys) ?? []);
    const quarrelling = (answer?.conflicts ?? []).flatMap(({ paths }) => paths).flatMap((path) => keyOfPath(path, proof.keys) ?? []);
    const own = this.probes.plus !== undefined || this.probes.minus !== undefined;
    const atTest: Probes = ask?.kind === 'volts' ? { plus: ask.plus, minus: ask.minus, held: ask.startSwitch } : { ...NO_PROBES, held: this.probes.held };
    const drawn = own ? this.probes : atTest;
    const ownSeen = own ? this.#seenAt(this.probes, seen) : undefined;
    const drawnSeen = own ? ownSeen : this.#seenAt(atTest, seen);
    return html`<h1>${words.steps.names.prove}</h1>
      ${this.#renderVerdict(carrying.flatMap((key) => seen[key] ?? []))}
      <div class="prove">
        <div class="prove-told">
          <field-choice .sheet=${sheet} .at=${[['prove']]} .unit=${desk.settings.values.unit}></field-choice>
          ${renderSymptoms({
            heard, cranked, folded: !this.unfolded, unfold: () => { this.unfolded = true; },
            tell: (told) => { this.#tell(told); }, takeBack: (told) => { this.#takeAway(keyOfObservation(told)); },
          })}
          ${answer === undefined || (answer.proven !== null && this.chosen === undefined && proposed === undefined) ? nothing : renderTest({
            ask, test, own: this.chosen !== undefined, showed: ask === undefined ? undefined : findSeen(seen, ask), load: this.load, goBack: () => { this.chosen = undefined; },
            setLoad: (load) => { this.load = load; }, tell: (told) => this.#tell(told, true),
          })}
        </div>
        <div class="prove-drawn"><h2 class="visually-hidden">${proveWords.picture}</h2>
          <crank-picture .answer=${answer} .interlocks=${findInterlocks(sheet.record)} .startSwitch=${drawn.held} .plus=${drawn.plus} .minus=${drawn.minus}
            .reading=${drawnSeen?.kind === 'volts' ? formatMeasured(drawnSeen.volts, 'V') : '? V'}
            @point-tap=${(event: CustomEvent<{ node: NonNullable<Probes['plus']> }>) => { this.#put(tapPoint(this.probes, event.detail.node)); }}
            @start-tap=${() => { this.#put({ ...(own ? this.probes : NO_PROBES), held: !drawn.held }); }}></crank-picture>
          <p class="quiet crank-hint">${proveWords.pictureHint}</p>
          ${renderOwnReading({ probes: this.probes, showed: ownSeen, put: (probes) => { this.#put(probes); }, tell: (told) => this.#tell(told) })}
          ${renderOtherTests({ tests, shown: ask, chosen: this.chosen, choose: (other) => { this.#choose(other); } })}
        </div>
        <div class="prove-told">
          ${renderSeen({
            seen, carrying: new Set(carrying), quarrelling: new Set(quarrelling), takeAway: (key) => { this.#takeAway(key); },
            show: (entry) => { if (entry.kind === 'volts') this.probes = { plus: entry.plus, minus: entry.minus, held: entry.startSwitch }; },
          })}
          ${answer === undefined ? nothing : renderChances(answer, Object.keys(seen).length > 0)}
          ${renderMachine({
            prove, instruments: this.#instruments, change: (changes) => sheet.change(changes), setInstruments: (list) => { this.#setInstruments(list); },
            assumptions: answer?.assumptions ?? [], cautions: answer?.cautions ?? [],
          })}
          ${proof.shares === undefined ? nothing : renderShares({ shares: proof.shares, failed: this.sharesFailed, set: (fault, share) => { void this.#setShare(fault, share); } })}
        </div>
      </div>`;
  }

  #renderVerdict(carrying: readonly Observation[]): TemplateResult {
    const { proof, sheet, base } = this.view;
    const { answer } = proof;
    const anySeen = Object.keys(sheet.document.prove?.seen ?? {}).length > 0;
    if (proof.failed !== '') return html`<p class="caution" role="alert">${proof.failed}</p>`;
    if (answer === undefined) return html`<p role="status">${proveWords.working}</p>`;
    const consequence = sayConsequence(answer);
    return html`<div class="crank-verdict" role="status" data-proven=${answer.proven === null ? 'false' : 'true'}>
      <p>${sayVerdict(answer, carrying, anySeen)}</p>
      ${consequence === '' ? anySeen ? nothing : html`<p class="quiet">${proveWords.lead}</p>` : html`<p>${consequence}${answer.orderable === null ? nothing : html` <a href="${base}/fits">${proveWords.toFits}</a>`}</p>`}
      ${answer.conflicts.map(({ why }) => html`<p class="mark-do">${proveWords.verdict.conflict}: ${why}</p>`)}
      ${proof.current ? nothing : html`<p class="quiet">${proveWords.working}</p>`}</div>`;
  }

  #seenAt({ plus, minus, held }: Probes, seen: Readonly<Record<string, Observation>>): Observation | undefined {
    return plus === undefined || minus === undefined ? undefined : findSeen(seen, { kind: 'volts', plus, minus, startSwitch: held });
  }

  get #instruments(): readonly CrankInstrument[] {
    return this.view.sheet.document.prove?.instruments ?? this.view.desk.settings.values.instruments ?? ['meter', 'clamp', 'load-tester'];
  }

  async #setShare(fault: CrankFault, share: number | undefined): Promise<void> {
    const { desk, proof, takeShares } = this.view;
    const { [fault]: _before, ...others } = proof.shares?.own ?? {};
    try {
      takeShares(await desk.service.writeFaultShares({ own: share === undefined ? others : { ...others, [fault]: share }, at: desk.now().toISOString() }));
      this.sharesFailed = '';
    } catch (error) {
      this.sharesFailed = sayFault(error);
    }
  }

  #setInstruments(list: readonly CrankInstrument[]): void {
    this.view.desk.settings.set({ instruments: list });
    this.view.sheet.change([{ field: ['prove', 'instruments'], value: [...list] }]);
  }

  /** Writes what was seen, one field for what was done: what another device tells of something else never meets it. */
  #tell(told: Observation, goOn = false): ChangeResult {
    const result = this.view.sheet.change([{ field: ['prove', 'seen', keyOfObservation(told)], value: told }]);
    if (!result.ok) return result;
    if (told.kind === 'sound' || told.kind === 'crank') this.unfolded = this.unfolded && told.startSwitch === false;
    this.chosen = undefined;
    if (told.kind === 'volts' && !goOn) this.probes = { ...NO_PROBES, held: this.probes.held };
    this.#goOn = goOn;
    return result;
  }

  #takeAway(key: string): void {
    this.view.sheet.change([{ field: ['prove', 'seen', key], value: null }]);
  }

  #put(probes: Probes): void {
    this.probes = probes;
    if (probes.plus === undefined || probes.minus === undefined) return;
    // Straight to the figure: two taps and a reading.
    void this.updateComplete.then(() => this.#focusField('.crank-own-reading'));
  }

  #choose(ask: CrankAsk): void {
    this.chosen = ask;
    void this.updateComplete.then(() => {
      if (this.querySelector('.crank-reading') !== null) return this.#focusField('.crank-reading');
      const title = this.querySelector<HTMLElement>('#crank-test-title');
      title?.focus({ preventScroll: true });
      title?.scrollIntoView({ block: 'center' });
    });
  }

  protected override updated(changed: PropertyValues): void {
    if (!changed.has('view') || !this.#goOn || !this.view.proof.current) return;
    this.#goOn = false;
    void this.#focusField('.crank-reading');
  }

  async #focusField(selector: string): Promise<void> {
    const field = this.querySelector<PlainElement>(selector);
    if (field === null) return;
    await field.updateComplete;
    field.querySelector('input')?.focus({ preventScroll: true });
    field.scrollIntoView({ block: 'nearest' });
  }
}
customElements.define('prove-screen', ProveScreen);
