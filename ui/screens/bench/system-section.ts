import { html, nothing, type TemplateResult } from 'lit';
import { interlocksAct, type MachineSystem } from '../../../catalog-schema/index.ts';
import { renderChoices } from '../../elements/choices.ts';
import '../../elements/interlock-list/element.ts';
import '../../elements/quantity-field/element.ts';
import '../../elements/temperature-range/element.ts';
import { words } from '../../words.ts';
import { benchWords } from '../../words/bench.ts';
import { USUAL_VOLTS } from '../start-job/element.ts';
import type { WorkView } from '../work-view.ts';
import { commitNumber, setField } from './set-field.ts';

type Acts = NonNullable<MachineSystem['interlocks']>;

/** The machine: its volts, how its interlocks act, and the volts it really gives. `refuse` shows why a choice was not taken. */
export function renderSystemSection({ sheet }: WorkView, refused: string, refuse: (why: string) => void): TemplateResult {
  const { system } = sheet.record;
  const usual = USUAL_VOLTS.find((volts) => volts === system.nominalV);
  return html`<div class="stack">${renderChoices({
    name: 'system-volts', legend: words.start.volts, value: usual === undefined ? undefined : String(usual),
    choices: USUAL_VOLTS.map((volts) => ({ value: String(volts), label: `${volts} V` })),
    onChoose: (value) => { setField(sheet, ['system', 'nominalV'], Number(value)); },
  })}
  ${renderChoices<Acts | 'unknown'>({
    name: 'interlocks-act', legend: benchWords.interlocksAct, value: system.interlocks ?? 'unknown',
    choices: [...interlocksAct.options, 'unknown' as const].map((value) => ({ value, label: words.bench.interlocks[value] })),
    onChoose: (value) => {
      const result = setField(sheet, ['system', 'interlocks'], value === 'unknown' ? undefined : value);
      refuse(result.ok ? '' : result.why);
    },
  })}
  ${refused === '' ? nothing : html`<p class="not" role="alert">${words.field.cannotBe(refused)}</p>`}
  <interlock-list .sheet=${sheet} .record=${sheet.record}></interlock-list>
  <div class="figures">
    ${(['lowestRestingV', 'lowestCrankingV', 'highestV'] as const).map((key) => html`<quantity-field .label=${benchWords[key]} dimension="voltage"
      .value=${system[key]} .commit=${commitNumber(sheet, ['system', key])}></quantity-field>`)}
  </div>
  <temperature-range .sheet=${sheet} .record=${sheet.record}></temperature-range></div>`;
}
