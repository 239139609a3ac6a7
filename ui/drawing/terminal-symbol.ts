import { svg, type SVGTemplateResult } from 'lit';
import { type FaceTerminal, unreachable } from './face-terminals.ts';
import type { Spot } from './geometry.ts';

/** Corners of a regular hexagon by its width across flats, one flat upward, as SVG points. */
export function hexagonPoints(centre: Spot, acrossFlats: number): string {
  const r = acrossFlats / 2 / Math.cos(Math.PI / 6);
  return Array.from({ length: 6 }, (_, i) => {
    const angle = (i * Math.PI) / 3;
    return `${round(centre.x + r * Math.cos(angle))},${round(centre.y + r * Math.sin(angle))}`;
  }).join(' ');
}

/** A terminal seen along its axis, to scale: hexagon and thread, blade end-on, screw head, cable end, pin. */
export function drawTerminalSymbol(terminal: FaceTerminal, centre: Spot, scale: number): SVGTemplateResult {
  const style = terminal.sizeKnown ? 'outline' : 'outline taken';
  const major = (terminal.majorMm / 2) * scale;
  switch (terminal.form) {
    case 'stud':
      return svg`<polygon class=${`${style} fill`} points=${hexagonPoints(centre, terminal.nutMm * scale)} />
        <circle class="thin" cx=${centre.x} cy=${centre.y} r=${terminal.nutMm * scale * 0.47} />
        <circle class=${`${style} fill`} cx=${centre.x} cy=${centre.y} r=${major} />
        <path class="thin" d=${threadArc(centre, major * 0.84)} />`;
    case 'screw':
      return svg`<circle class=${`${style} fill`} cx=${centre.x} cy=${centre.y} r=${major * 1.9} />
        <path class="outline" d=${`M${centre.x - major * 1.1} ${centre.y - major * 1.1} L${centre.x + major * 1.1} ${centre.y + major * 1.1}
          M${centre.x - major * 1.1} ${centre.y + major * 1.1} L${centre.x + major * 1.1} ${centre.y - major * 1.1}`} />`;
    case 'tab':
      return drawBlade(terminal, centre, scale, style);
    case 'pin':
      return drawBlade(terminal, centre, scale, style);
    case 'lead':
      return svg`<circle class="outline fill" cx=${centre.x} cy=${centre.y} r=${2.2 * scale} />
        <circle class="solid" cx=${centre.x} cy=${centre.y} r=${1.1 * scale} />`;
    default:
      return unreachable(terminal.form);
  }
}

/** A blade end-on in its slot, at its true width. */
function drawBlade(terminal: FaceTerminal, centre: Spot, scale: number, style: string): SVGTemplateResult {
  const width = terminal.tabWidthMm * scale;
  const thickness = Math.max(3.2, terminal.tabThicknessMm * scale);
  const slotWidth = width + 1.6 * scale;
  const slotHeight = Math.max(11, 2.6 * scale);
  return svg`<g transform=${terminal.upright ? `rotate(90 ${centre.x} ${centre.y})` : ''}>
    <rect class="thin fill" x=${centre.x - slotWidth / 2} y=${centre.y - slotHeight / 2} width=${slotWidth} height=${slotHeight} />
    <rect class=${`${style} metal`} x=${centre.x - width / 2} y=${centre.y - thickness / 2} width=${width} height=${thickness} /></g>`;
}

/** Three quarters of a circle: how a drawing shows a thread seen end-on (ISO 6410-1). */
function threadArc(centre: Spot, radius: number): string {
  return `M${round(centre.x)} ${round(centre.y - radius)} A${round(radius)} ${round(radius)} 0 1 0 ${round(centre.x + radius)} ${round(centre.y)}`;
}

function round(value: number): number {
  return Math.round(value * 10) / 10;
}
