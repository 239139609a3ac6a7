import { html, nothing, type TemplateResult } from 'lit';
import type { Wire } from '../../../catalog-schema/index.ts';
import { sayShortTorque, type AsLeftStep, type StepSpeech } from '../../worker/as-left.ts';
import '../stack-picture/index.ts';
import '../terminal-picture/index.ts';

/** The drawing of one step: the new part's face with only what this step is about in full ink. */
export function renderStepPicture(step: AsLeftStep, { record, part, unit }: StepSpeech): TemplateResult | typeof nothing {
  const face = (terminals: readonly string[], wires: readonly Wire[]): TemplateResult => html`<terminal-picture mode="still"
    .terminals=${part.terminals} .wires=${wires} .units=${unit} .only=${{ terminals, wires: wires.map((wire) => wire.tag) }}
    .marks=${terminals.map((terminal) => ({ terminal, kind: 'do' }))} .caption=${false}></terminal-picture>`;
  const onFace = (ids: readonly string[]): string[] => ids.filter((id) => part.terminals.some((terminal) => terminal.id === id));
  switch (step.kind) {
    case 'wire': return onFace([step.to]).length === 0 ? nothing : html`<div class="step-pictures">${face([step.to], [{ ...step.wire, wasOn: step.to }])}
      <stack-picture .terminal=${part.terminals.find((terminal) => terminal.id === step.to)} .jumpers=${step.jumpers}
        .wires=${step.stack.flatMap((tag) => (record.wires ?? []).filter((wire) => wire.tag === tag))} .torque=${sayShortTorque(step.torque)}></stack-picture></div>`;
    case 'jumper': return onFace([step.from, step.to]).length === 0 ? nothing : face(onFace([step.from, step.to]), []);
    case 'studs-open': case 'reading': return onFace(step.between).length === 0 ? nothing : face(onFace(step.between), []);
    case 'remove': return html`<terminal-picture mode="still" .terminals=${record.terminals ?? []} .wires=${record.wires ?? []} .units=${unit} .caption=${false}></terminal-picture>`;
    case 'leave-off': return html`<terminal-picture mode="still" .terminals=${record.terminals ?? []} .wires=${[step.wire]} .units=${unit}
      .only=${{ terminals: [step.wire.wasOn], wires: [step.wire.tag] }} .caption=${false}></terminal-picture>`;
    case 'interlock': return step.shownAt === null || onFace([step.shownAt]).length === 0 ? nothing : face([step.shownAt], []);
    case 'battery-off': case 'make-ready': case 'drill': case 'mount': case 'wire-unplanned': case 'battery-on': case 'cranks':
    case 'running': return nothing;
  }
}
