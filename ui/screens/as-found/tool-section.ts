import { html, type TemplateResult } from 'lit';
import { readWireCode } from '../../../catalog-schema/index.ts';
import '../../elements/code-reader/element.ts';
import '../../elements/face-photographs/element.ts';
import '../../elements/wire-tags/element.ts';
import { words } from '../../words.ts';
import type { WorkView } from '../work-view.ts';

/** What can be opened beside the drawing. */
export type ToolName = 'photographs' | 'readTag' | 'tags';
const TOOLS: readonly ToolName[] = ['readTag', 'photographs', 'tags'];

/** One button a tool; the one that is open closes at a second press. */
export function renderTools(open: ToolName | undefined, choose: (tool: ToolName | undefined) => void): TemplateResult {
  return html`<div class="button-row as-found-tools screen-only" role="group" aria-label=${words.wires.tools}>${TOOLS.map((tool) => html`<button type="button"
    aria-expanded=${tool === open ? 'true' : 'false'} @click=${() => choose(tool === open ? undefined : tool)}>${words.wires[tool]}</button>`)}</div>`;
}

export function renderOpenTool(given: { tool: ToolName; view: WorkView; answer: string; read: (text: string) => void; hang: (id: string) => void; close: () => void }): TemplateResult {
  const { tool, view } = given;
  return html`<section class="as-found-tool" data-tool=${tool} aria-label=${words.wires[tool]}>
    <div class="title-row screen-only"><h2>${words.wires[tool]}</h2><button type="button" class="plain" @click=${given.close}>${words.wires.close}</button></div>
    ${renderTool(given, view)}</section>`;
}

function renderTool({ tool, answer, read, hang }: Parameters<typeof renderOpenTool>[0], { sheet, desk }: WorkView): TemplateResult {
  switch (tool) {
    case 'readTag': return html`<code-reader .codes=${desk.codes} .answer=${answer} .understands=${(text: string) => readWireCode(text) !== undefined}
      @code-read=${(event: CustomEvent<{ text: string }>) => read(event.detail.text)}></code-reader>`;
    case 'tags': return html`<wire-tags .jobId=${sheet.jobId!} .heading=${sheet.document.title} .wires=${sheet.record.wires ?? []}></wire-tags>`;
    case 'photographs': return html`<face-photographs .desk=${desk} .sheet=${sheet} .revision=${sheet.document}
      @pin-hang=${(event: CustomEvent<{ id: string }>) => hang(event.detail.id)}></face-photographs>`;
  }
}
