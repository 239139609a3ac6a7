import { html, type TemplateResult } from 'lit';
import { readThread, TABS, type BenchRecord, type RecordTerminal } from '../../../catalog-schema/index.ts';
import { renderChoices } from '../../elements/choices.ts';
import '../../elements/entry-field/element.ts';
import type { Entry } from '../../elements/entry-field/element.ts';
import type { TerminalFigure } from '../../elements/measure-target.ts';
import { clashesOfTerminal } from '../../elements/ohm-readings/readings.ts';
import '../../elements/quantity-field/element.ts';
import '../../elements/terminal-set-up/element.ts';
import '../../elements/thread-card/element.ts';
import { formatLength, formatNumber, valueOf } from '../../format.ts';
import { words } from '../../words.ts';
import { benchWords } from '../../words/bench.ts';
import { drawTerminals } from '../as-found/draw-terminals.ts';
import type { WorkView } from '../work-view.ts';
import { commitMeasured, setField } from './set-field.ts';

/** Tab widths that are sold, narrow to wide, mm. */
const TAB_WIDTHS_MM = [...new Set(TABS.map((tab) => tab.widthMm))];
const SAME_WIDTH_MM = 0.15;

/** The size of each terminal: thread or diameter, pitch and hexagon of a stud; width and thickness of a tab. */
export function renderTerminalsSection(view: WorkView): TemplateResult {
  const terminals = view.sheet.record.terminals ?? [];
  if (terminals.length === 0) {
    return html`<terminal-set-up .partClass=${view.sheet.record.partClass} .draw=${(laid: readonly RecordTerminal[]) => drawTerminals(view.sheet, laid)}></terminal-set-up>`;
  }
  return html`<div class="terminal-figures">${terminals.map((terminal) => html`<fieldset class="terminal-figure">
    <legend>${benchWords.terminalNamed(words.form[terminal.form], words.wiring.terminal(terminal.id, terminal.marking))}${sayRole(view, terminal.id)}</legend>
    ${terminal.form === 'stud' || terminal.form === 'screw' ? renderStud(view, terminal) : terminal.form === 'tab' || terminal.form === 'pin'
      ? renderTab(view, terminal) : html`<p class="quiet">${benchWords.leadHint}</p>`}
  </fieldset>`)}</div>`;
}

function renderStud({ sheet, desk, findings }: WorkView, terminal: RecordTerminal): TemplateResult {
  const { unit } = desk.settings.values;
  const at = ['terminals', terminal.id];
  const place = (figure: TerminalFigure): string => `${terminal.id}.${figure}`;
  const guessed = findings.identify?.threads.find((entry) => entry.terminal === terminal.id)?.candidates ?? [];
  return html`<div class="figures">
    <quantity-field data-place=${place('majorDiameterMm')} .label=${benchWords.major} .hint=${benchWords.majorHint} dimension="length" figure="diameter" .unit=${unit} .value=${terminal.majorDiameterMm}
      .commit=${commitMeasured(sheet, [...at, 'majorDiameterMm'])}></quantity-field>
    <quantity-field data-place=${place('pitchMm')} .label=${benchWords.pitch} .hint=${benchWords.pitchHint} dimension="length" figure="pitch" .unit=${'mm'} .value=${terminal.pitchMm}
      .commit=${commitMeasured(sheet, [...at, 'pitchMm'])}></quantity-field>
    <quantity-field data-place=${place('nutAcrossFlatsMm')} .label=${benchWords.hexagon} .hint=${benchWords.hexagonHint} dimension="length" figure="hexagon" .unit=${unit} .value=${terminal.nutAcrossFlatsMm}
      .commit=${commitMeasured(sheet, [...at, 'nutAcrossFlatsMm'])}></quantity-field>
    <entry-field .label=${benchWords.thread} .hint=${benchWords.threadHint} .value=${terminal.thread ?? ''} .read=${readThreadEntry}
      .commit=${(text: string) => setField(sheet, [...at, 'thread'], text === '' ? undefined : text)}></entry-field>
  </div>
  ${guessed.length === 0 || terminal.thread !== undefined ? '' : html`<thread-card .terminal=${terminal} .candidates=${guessed}></thread-card>`}
  ${renderSaid(findings, sheet.record, terminal.id)}`;
}

/** What the likeliest circuit makes of a terminal; nothing while no circuit is likelier than all others together. */
function sayRole({ findings }: WorkView, id: string): TemplateResult | '' {
  const role = findings.identify?.circuits.find(({ probability }) => probability > 0.5)?.roles[id];
  return role === undefined ? '' : html` <small>${benchWords.roleHere(benchWords.roles[role])}</small>`;
}

/** What stands against this terminal's figures. */
function renderSaid(findings: WorkView['findings'], record: BenchRecord, id: string): TemplateResult {
  const clashes = clashesOfTerminal(record, id, findings.identify?.conflicts ?? []);
  return html`${clashes.map((why) => html`<p class="clash-why"><span class="not">${benchWords.clash}</span> ${why}</p>`)}`;
}

function readThreadEntry(text: string): Entry {
  const thread = readThread(text);
  return thread === undefined ? { ok: false, fault: benchWords.noThread(text) }
    : { ok: true, understood: benchWords.threadRead(thread.name, formatNumber(thread.majorMm), formatNumber(thread.pitchMm, 3)) };
}

function renderTab({ sheet, desk, findings }: WorkView, terminal: RecordTerminal): TemplateResult {
  const { unit } = desk.settings.values;
  const at = ['terminals', terminal.id];
  const place = (figure: TerminalFigure): string => `${terminal.id}.${figure}`;
  const guessed = findings.identify?.tabs.find((entry) => entry.terminal === terminal.id)?.candidates ?? [];
  const width = terminal.tabWidthMm === undefined ? undefined : valueOf(terminal.tabWidthMm);
  const usual = TAB_WIDTHS_MM.find((entry) => width !== undefined && Math.abs(entry - width) <= SAME_WIDTH_MM);
  return html`${renderChoices({
    name: `tab-${terminal.id}`, legend: benchWords.tabWidth, quietLegend: true, value: usual === undefined ? undefined : String(usual),
    choices: TAB_WIDTHS_MM.map((entry) => ({ value: String(entry), label: formatLength(entry, unit) })),
    onChoose: (value) => { setField(sheet, [...at, 'tabWidthMm'], Number(value)); },
  })}
  <div class="figures">
    <quantity-field data-place=${place('tabWidthMm')} .label=${benchWords.tabWidthMeasured} dimension="length" figure="diameter" .unit=${unit} .value=${terminal.tabWidthMm}
      .commit=${commitMeasured(sheet, [...at, 'tabWidthMm'])}></quantity-field>
    <quantity-field data-place=${place('tabThicknessMm')} .label=${benchWords.tabThickness} dimension="length" figure="diameter" .unit=${unit} .value=${terminal.tabThicknessMm}
      .commit=${commitMeasured(sheet, [...at, 'tabThicknessMm'])}></quantity-field>
  </div>
  ${guessed.length === 0 ? '' : html`<p class="found">${benchWords.looksLike} ${benchWords.candidates(
    guessed.filter(({ probability }) => probability >= 0.01).slice(0, 3).map((entry) => ({ what: benchWords.tabOf(entry.widthMm, entry.thicknessMm), probability: entry.probability })))}</p>`}
  ${renderSaid(findings, sheet.record, terminal.id)}`;
}
