import { html, nothing, type TemplateResult } from 'lit';
import type { BenchRecord, JobPhotograph } from '../../../catalog-schema/index.ts';
import type { MeasuredPhotograph } from '../../../api/engine/photograph/index.ts';
import { renderChoices } from '../../elements/choices.ts';
import { words } from '../../words.ts';
import { photographWords } from '../../words/photograph.ts';
import { LEAST_MARKS, terminalKey, type By, type Tool } from './mark-changes.ts';

const KINDS = ['edges', 'hole', 'terminal', 'length'] as const;
const BYS: readonly By[] = ['middle', 'across', 'rim'];

/** The tool with another kind: by the middle at first, on the first terminal that is not marked yet. */
export function makeTool(kind: Tool['kind'], record: BenchRecord, photograph: JobPhotograph, by: By = 'middle'): Tool {
  switch (kind) {
    case 'edges': case 'length': return { kind };
    case 'hole': return { kind, by };
    case 'terminal': {
      const ids = (record.terminals ?? []).map(({ id }) => id);
      return { kind, by, id: ids.find((id) => photograph.things?.[terminalKey(id)] === undefined) ?? ids[0] ?? '' };
    }
  }
}

/** What is to be marked next, in words. */
export function sayGuide(tool: Tool, photograph: JobPhotograph, measured: MeasuredPhotograph | undefined, openKey: string | undefined): string {
  const guide = photographWords.guide;
  const edges = Object.values(photograph.edges ?? {});
  if (tool.kind === 'edges') {
    if (edges.some(({ marks }) => marks.length === 1)) return guide.edgeSecond(edges.length);
    if (Object.values(measured?.edges ?? {}).some((edge) => !edge.ok)) return guide.edgeMissed;
    if (edges.length < 4) return guide.edgeFirst(edges.length + 1);
    return measured?.card?.ok === false ? guide.cardRefused : guide.edgesDone;
  }
  if (measured !== undefined && measured.card?.ok !== true) return guide.cardFirst;
  const marks = openKey === undefined ? 0 : photograph.things?.[openKey]?.marks.length ?? 0;
  const by = tool.kind === 'length' ? 'across' : tool.by;
  if (by === 'across' && marks === 1) return guide.other;
  if (by === 'rim' && marks > 0) return guide.rimMore(marks);
  switch (tool.kind) {
    case 'hole': return guide.hole[by];
    case 'terminal': return tool.id === '' ? photographWords.noTerminals : guide.terminal[by](tool.id);
    case 'length': return guide.length;
  }
}

/** Whether the next mark belongs to an edge or thing that has some already. */
export function isHalfway(tool: Tool, photograph: JobPhotograph, openKey: string | undefined): boolean {
  if (tool.kind === 'edges') return Object.values(photograph.edges ?? {}).some(({ marks }) => marks.length === 1);
  const marks = openKey === undefined ? 0 : photograph.things?.[openKey]?.marks.length ?? 0;
  return marks > 0 && (tool.kind !== 'length' && tool.by === 'rim' ? true : marks < LEAST_MARKS[tool.kind === 'length' ? 'across' : tool.by]);
}

/** Whether the thing being marked is one that the person ends: a rim takes as many marks as one likes. */
export function canEnd(tool: Tool, photograph: JobPhotograph, openKey: string | undefined): boolean {
  return tool.kind !== 'edges' && tool.kind !== 'length' && tool.by === 'rim' && openKey !== undefined
    && (photograph.things?.[openKey]?.marks.length ?? 0) >= LEAST_MARKS.rim;
}

/** What the next mark is: the card, a hole, a terminal, a length; and by what it is marked. */
export function renderToolSection(given: { tool: Tool; record: BenchRecord; photograph: JobPhotograph; choose: (tool: Tool) => void }): TemplateResult {
  const { tool, record, photograph, choose } = given;
  const terminals = record.terminals ?? [];
  return html`<div class="photo-tools">${renderChoices({
    name: 'photo-tool', legend: photographWords.tool, value: tool.kind,
    choices: KINDS.map((value) => ({ value, label: photographWords.tools[value] })),
    onChoose: (kind) => choose(makeTool(kind, record, photograph)),
  })}
  ${tool.kind === 'hole' || tool.kind === 'terminal' ? renderChoices<By>({
    name: 'photo-by', legend: photographWords.by, value: tool.by,
    choices: BYS.map((value) => ({ value, label: photographWords.bys[value], hint: photographWords.byHints[value] })),
    onChoose: (by) => choose({ ...tool, by }),
  }) : nothing}
  ${tool.kind !== 'terminal' ? nothing : terminals.length === 0 ? html`<p class="mark-do">${photographWords.noTerminals}</p>` : renderChoices({
    name: 'photo-terminal', legend: photographWords.whichTerminal, value: tool.id,
    choices: terminals.map(({ id, marking }) => ({ value: id, label: words.wiring.terminal(id, marking) })),
    onChoose: (id) => choose({ ...tool, id }),
  })}</div>`;
}
