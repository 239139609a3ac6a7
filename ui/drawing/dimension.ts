import { svg, type SVGTemplateResult } from 'lit';
import type { Spot } from './geometry.ts';
import { textWidth } from './label-placing.ts';

/**
 * A dimension line between two upright or level extension lines, with arrow heads (ISO 129-1).
 * @param at the level (for 'across') or column (for 'up') of the line on the sheet, px
 */
export function drawDimension(way: 'across' | 'up', from: Spot, to: Spot, at: number, words: string): SVGTemplateResult {
  const width = textWidth(words, 14) + 8;
  if (way === 'across') {
    const [a, b] = from.x <= to.x ? [from, to] : [to, from];
    const inside = b.x - a.x > 34;
    const middle = (a.x + b.x) / 2;
    const [ea, eb] = [at > a.y ? 4 : -4, at > b.y ? 4 : -4];
    return svg`<path class="dim" d=${`M${a.x} ${a.y + ea} V${at + ea} M${b.x} ${b.y + eb} V${at + eb} M${a.x - (inside ? 0 : 12)} ${at} H${b.x + (inside ? 0 : 12)}`} />
      ${drawHead(a.x, at, inside ? 180 : 0)}${drawHead(b.x, at, inside ? 0 : 180)}
      <text text-anchor="middle" x=${middle} y=${b.x - a.x > width + 16 ? at + 5 : at + (at > a.y ? 18 : -7)}>${words}</text>`;
  }
  const [a, b] = from.y <= to.y ? [from, to] : [to, from];
  const inside = b.y - a.y > 34;
  const side = at > a.x ? 1 : -1;
  return svg`<path class="dim" d=${`M${a.x + 4 * side} ${a.y} H${at + 4 * side} M${b.x + 4 * side} ${b.y} H${at + 4 * side} M${at} ${a.y - (inside ? 0 : 12)} V${b.y + (inside ? 0 : 12)}`} />
    ${drawHead(at, a.y, inside ? 270 : 90)}${drawHead(at, b.y, inside ? 90 : 270)}
    <text text-anchor=${side > 0 ? 'start' : 'end'} x=${at + 8 * side} y=${(a.y + b.y) / 2 + 5}>${words}</text>`;
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
