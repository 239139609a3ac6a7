import { html, nothing, type TemplateResult } from 'lit';
import type { BenchRecord, Part, Plan, Refusal } from '../../../catalog-schema/index.ts';
import type { LengthUnit } from '../../client/index.ts';
import { words } from '../../words.ts';
import { fitsWords } from '../../words/fits.ts';
import { needsNewEnd, sayTerminal } from '../../worker/as-left.ts';
import { renderChoices } from '../choices.ts';
import '../wiring-picture/index.ts';
import '../wiring-table/element.ts';
import { renderSwitchStates } from './switch-states.ts';

export interface Wirings {
  readonly record: BenchRecord;
  readonly part: Part;
  readonly unit: LengthUnit;
  /** every right way, fewest changes first; the fit's own alone until the others are known */
  readonly plans: readonly Plan[];
  /** why the obvious way, or every way, is refused */
  readonly refusals: readonly Refusal[];
  /** which of the ways is shown */
  readonly way: number;
  readonly onWay: (way: number) => void;
}

/** How the wires go on: what would happen to each on its old place, the right ways to choose from, and the one shown as drawing, table and states. */
export function renderWiringSection({ record, part, unit, plans, refusals, way, onWay }: Wirings): TemplateResult {
  const plan = plans[way];
  const why = refusals.length === 0 ? nothing : html`<div class="caution">
    ${plan === undefined ? nothing : html`<p><b>${fitsWords.obvious}</b></p>`}
    <ul>${refusals.map((refusal) => html`<li>${refusal.why}</li>`)}</ul></div>`;
  if (plan === undefined) return html`<p>${fitsWords.noPlan}</p>${why}`;
  return html`${why}
    ${plans.length < 2 ? nothing : renderChoices({
      name: 'way', legend: fitsWords.ways(plans.length), value: String(way), onChoose: (value) => onWay(Number(value)),
      choices: plans.map((each, index) => ({ value: String(index), label: fitsWords.way(index + 1, each.changes), hint: words.list(sayChanges(each, record, part)) })),
    })}
    <h3>${fitsWords.whatMoves}</h3>
    <ul>${sayChanges(plan, record, part).map((line) => html`<li>${line}</li>`)}</ul>
    <div class="wired">
      <wiring-picture .oldTerminals=${record.terminals ?? []} .newTerminals=${part.terminals} .wires=${record.wires ?? []} .plan=${withNewEnds(plan, record, part)} .units=${unit}></wiring-picture>
      <wiring-table .record=${record} .plan=${plan} .newPart=${part} .unit=${unit}></wiring-table></div>
    ${renderSwitchStates(plan, record)}`;
}

/** What a plan changes, a line each: wires on another place, new ends, jumpers, wires left off. */
function sayChanges(plan: Plan, record: BenchRecord, part: Part): string[] {
  const old = (id: string): string => sayTerminal(id, record.terminals ?? []);
  const now = (id: string): string => sayTerminal(id, part.terminals);
  const lines = [
    ...plan.wires.filter(({ moved }) => moved).map(({ tag, from, to }) => fitsWords.wireMoves(tag, old(from), now(to))),
    ...plan.wires.filter(({ newEnd }) => newEnd).map(({ tag }) => fitsWords.wireNewEnd(tag)),
    ...plan.jumpers.map(({ from, to }) => fitsWords.jumperMade(now(from), now(to))),
    ...plan.leftOff.map((tag) => fitsWords.wireLeftOff(tag)),
  ];
  return lines.length > 0 ? lines : [fitsWords.nothingMoves];
}

/** The plan with every end that has to be made anew marked so, for the drawing. */
function withNewEnds(plan: Plan, record: BenchRecord, part: Part): Plan {
  return {
    ...plan,
    wires: plan.wires.map((placed) => {
      const wire = record.wires?.find((entry) => entry.tag === placed.tag);
      return wire === undefined ? placed : { ...placed, newEnd: needsNewEnd(wire, placed, part) };
    }),
  };
}
