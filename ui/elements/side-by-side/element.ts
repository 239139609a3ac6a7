import { html, nothing, type TemplateResult } from 'lit';
import { commonScale, faceTerminals, WidthWatcher } from '../../drawing/index.ts';
import { sayWhere } from '../../screens/fits/fit-words.ts';
import { NamedFits } from '../../screens/fits/named-fits.ts';
import { writePicked } from '../../screens/fits/picked.ts';
import type { WorkView } from '../../screens/work-view.ts';
import { words } from '../../words.ts';
import { fitsWords } from '../../words/fits.ts';
import '../part-outline/element.ts';
import { followChanges, PlainElement } from '../plain-element.ts';
import { compareParts, type Beside, type Cell, type CompareRow } from './compare-rows.ts';

/** Room of a drawing in its column, px: in the narrowest column there is, and where the names of the rows stand beside them. */
const PICTURE_PX = { narrow: 168, wide: 208 } as const;
/** From this width of the comparison the names of rows have a column of their own, px. */
const WIDE_PX = 960;

/** Up to three parts beside the removed one: what differs first, drawings to one scale. On a phone the removed part's column stays in place. */
export class SideBySide extends PlainElement {
  static override properties = { view: { attribute: false }, partIds: { attribute: false } };
  declare view: WorkView;
  declare partIds: readonly string[];
  #named = new NamedFits();
  #width = new WidthWatcher(this, 1_400);

  constructor() {
    super();
    this.partIds = [];
    followChanges(this, () => [this.#named]);
  }

  protected override willUpdate(): void {
    this.#named.look(this.view, this.partIds);
  }

  protected override render(): TemplateResult {
    const { view } = this;
    const { base, desk, findings, sheet } = view;
    const fits = this.partIds.map((id) => this.#named.find(view, id));
    const back = html`<p><a class="button" href="${base}/fits">${fitsWords.backToList}</a></p>`;
    const beside = this.partIds.flatMap((id, index): Beside[] => {
      const [part, fit] = [desk.shop.parts.get(id), fits[index]];
      return part === undefined || fit === undefined || fit === 'waiting' ? [] : [{ part, fit }];
    });
    const title = html`${back}<h1>${fitsWords.besideTitle}</h1>`;
    if (findings.working || fits.includes('waiting')) return html`${title}<p role="status">${words.working}</p>`;
    if (beside.length === 0) return html`${title}<p>${this.#named.failed === '' ? fitsWords.noneHere : this.#named.failed}</p>`;
    const rows = compareParts({
      record: sheet.record, identify: findings.identify, unit: desk.settings.values.unit, beside,
      sayWhere: (fit) => (fit.verdict === 'no' ? '' : sayWhere(fit, desk.shop.shelf, desk.shop.prices)),
    });
    const [differing, alike] = [rows.filter(({ differs }) => differs), rows.filter(({ differs }) => !differs)];
    return html`${title}<div class="beside-scroll" tabindex="0" role="region" aria-label=${fitsWords.besideTitle}>
      <div class="beside" role="table" aria-label=${fitsWords.besideTitle} style="--parts: ${beside.length}">
        ${this.#renderHead(beside)}
        ${this.#renderPictures(beside)}
        ${this.#renderRows(beside.length === 1 ? '' : fitsWords.differs, differing)}
        ${this.#renderRows(beside.length === 1 ? '' : fitsWords.alike, alike)}
      </div></div>`;
  }

  #renderHead(beside: readonly Beside[]): TemplateResult {
    const { base } = this.view;
    return html`<div role="rowgroup"><div class="beside-row beside-head" role="row">
      <div role="columnheader" class="beside-name"></div>
      <div role="columnheader" class="beside-old"><b>${fitsWords.removed}</b><small>${fitsWords.removedSays}</small></div>
      ${beside.map(({ part }) => html`<div role="columnheader"><b>${part.title}</b> <span class="number">${part.id}</span>
        <span class="beside-acts"><a class="touch" href="${base}/fits/${encodeURIComponent(part.id)}">${fitsWords.openOne}</a>
        ${beside.length === 1 ? nothing : html`<a class="touch" href="${base}/fits/${writePicked(this.partIds.filter((id) => id !== part.id))}"
          aria-label="${fitsWords.letOneGo}: ${part.title}">${fitsWords.letOneGo}</a>`}</span></div>`)}
    </div></div>`;
  }

  #renderPictures(beside: readonly Beside[]): TemplateResult {
    const { sheet: { record }, desk } = this.view;
    const { unit } = desk.settings.values;
    const room = this.#width.px >= WIDE_PX ? PICTURE_PX.wide : PICTURE_PX.narrow;
    const holesOf = ({ part }: Beside) => part.mounting?.holes ?? [];
    const old = { terminals: record.terminals ?? [], holes: record.mounting?.holes ?? [] };
    const scale = commonScale([old, ...beside.map((each) => ({ terminals: each.part.terminals, holes: holesOf(each) }))]
      .map(({ terminals, holes }) => ({ terminals: faceTerminals(terminals, unit), holes })), room);
    return html`<div role="rowgroup"><div class="beside-row" role="row"><div role="rowheader" class="beside-name">${fitsWords.picture}</div>
      <div role="cell" class="beside-old"><part-outline old .terminals=${old.terminals} .holes=${old.holes} .scale=${scale} .width=${room} .units=${unit}
        .label=${fitsWords.pictureOf(fitsWords.removed)}></part-outline></div>
      ${beside.map((each) => html`<div role="cell"><part-outline .terminals=${each.part.terminals} .holes=${holesOf(each)} .scale=${scale} .width=${room} .units=${unit}
        .label=${fitsWords.pictureOf(each.part.title)}></part-outline></div>`)}</div></div>`;
  }

  #renderRows(title: string, rows: readonly CompareRow[]): TemplateResult | typeof nothing {
    if (rows.length === 0) return nothing;
    return html`<div role="rowgroup">${title === '' ? nothing : html`<div role="row" class="beside-title"><div role="rowheader"><h2>${title}</h2></div></div>`}
      ${rows.map(({ key, name, old, cells }) => html`<div class="beside-row" role="row" data-row=${key}><div role="rowheader" class="beside-name">${name}</div>
        <div role="cell" class="beside-old">${old}</div>${cells.map((cell) => html`<div role="cell" class=${key === 'verdict' || key === 'cost' ? 'beside-first' : ''}>${renderCell(cell)}</div>`)}</div>`)}</div>`;
  }
}
customElements.define('side-by-side', SideBySide);

function renderCell({ said, outcome }: Cell): TemplateResult {
  return html`${said}${outcome === undefined || outcome === 'pass' ? nothing : html` <span class="outcome outcome-${outcome}">${fitsWords.outcomes[outcome]}</span>`}`;
}
