import { svg, type SVGTemplateResult } from 'lit';
import type { Spot } from './geometry.ts';
import { textWidth } from './label-placing.ts';

/**
 * A dimension line between two upright or level extension lines, with arrow heads (ISO 129-1).
 * @param at the level (for 'across') or column (for 'up') of the line on the sheet, px
 */
export function drawDimension(way: 'across' | 'up', from: Spot, to: Spot, at: number, words: string): SVGTemplateResult {
  const room = textWidth(words, 14) + 10;
  if (way === 'across') {
    const [a, b] = from.x <= to.x ? [from, to] : [to, from];
    const [ea, eb] = [at > a.y ? 4 : -4, at > b.y ? 4 : -4];
    const middle = (a.x + b.x) / 2;
    return svg`<path class="dim" d=${`M${a.x} ${a.y + ea} V${at + ea} M${b.x} ${b.y + eb} V${at + eb}`} />
      ${drawSpanLine(b.x - a.x, room, `translate(${a.x} ${at})`)}
      <text text-anchor="middle" x=${middle} y=${b.x - a.x > room + 30 ? at + 5 : at + (at > a.y ? 19 : -8)}>${words}</text>`;
  }
  const [a, b] = from.y <= to.y ? [from, to] : [to, from];
  const side = at > a.x ? 1 : -1;
  const middle = (a.y + b.y) / 2;
  const beside = b.y - a.y > room + 30 ? 5 : 5 + side * 13;
  return svg`<path class="dim" d=${`M${a.x + 4 * side} ${a.y} H${at + 4 * side} M${b.x + 4 * side} ${b.y} H${at + 4 * side}`} />
    ${drawSpanLine(b.y - a.y, room, `translate(${at} ${a.y}) rotate(90)`)}
    <text text-anchor="middle" transform=${`translate(${at + beside} ${middle}) rotate(-90)`}>${words}</text>`;
}

/** The line of a dimension from 0 to `length`, broken for the figure where it fits, arrows from outside where it is short. */
function drawSpanLine(length: number, room: number, transform: string): SVGTemplateResult {
  const inside = length > 34;
  const broken = length > room + 30;
  const [from, to] = inside ? [0, length] : [-12, length + 12];
  const d = broken ? `M${from} 0 H${(length - room) / 2} M${(length + room) / 2} 0 H${to}` : `M${from} 0 H${to}`;
  return svg`<g transform=${transform}><path class="dim" d=${d} />${drawHead(0, 0, inside ? 180 : 0)}${drawHead(length, 0, inside ? 0 : 180)}</g>`;
}

/** An arrow head whose tip is at (x, y), pointing `angleDeg` clockwise from the right. */
export function drawHead(x: number, y: number, angleDeg: number, style = 'dim-head'): SVGTemplateResult {
  return svg`<path class=${style} d="M0 0 L-9 -2.6 L-9 2.6 Z" transform=${`translate(${x} ${y}) rotate(${angleDeg})`} />`;
}

/** A bar of a known length for checking the printer or reading the scale by eye: alternate halves filled. */
export function drawScaleBar(at: Spot, scale: number, mm: number, words: string): SVGTemplateResult {
  const step = (mm / 5) * scale;
  return svg`${Array.from({ length: 5 }, (_, i) => svg`<rect class=${i % 2 === 0 ? 'solid' : 'outline'} x=${at.x + i * step} y=${at.y} width=${step} height="5" />`)}
    <rect class="outline" x=${at.x} y=${at.y} width=${mm * scale} height="5" />
    <text x=${at.x} y=${at.y + 20}>${words}</text>`;
}

/** The longest of the usual bars that takes at most `room` px at this scale, mm. */
export function pickBarMm(scale: number, room: number): number {
  for (const mm of [100, 50, 20, 10, 5]) if (mm * scale <= room) return mm;
  return 2;
}
