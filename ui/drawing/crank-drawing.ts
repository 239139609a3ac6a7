import { svg, type SVGTemplateResult } from 'lit';
import { CRANK_LINE, type CrankLabel, type CrankPiece, type CrankSheet } from './crank-sheet.ts';
import type { CrankPart, Suspicion } from './crank-parts.ts';
import type { Box, Spot } from './geometry.ts';
import { textWidth } from './label-placing.ts';
import { DRAWING_WORDS } from './words.ts';

/** Names of the hatchings within one drawing: section lines lie the closer the more the evidence holds against a part. */
const HATCH: Readonly<Record<Suspicion, string>> = { cleared: '', hardly: '', possible: 'crank-hatch-possible', likely: 'crank-hatch-likely', proven: 'crank-hatch-proven' };

/** The hatchings, as every drawing that uses them has to carry them. */
export function drawCrankHatches(): SVGTemplateResult {
  const pattern = (id: string, gap: number, cross: boolean): SVGTemplateResult => svg`<pattern id=${id} width=${gap} height=${gap} patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
    <path class="hatch" d=${`M${gap / 2} 0 V${gap}${cross ? ` M0 ${gap / 2} H${gap}` : ''}`} /></pattern>`;
  return svg`<defs>${pattern(HATCH.possible, 9, false)}${pattern(HATCH.likely, 5, false)}${pattern(HATCH.proven, 6, true)}</defs>`;
}

/** The circuit with what the evidence says of each part drawn on it: weight of line, hatching, and words beside. */
export function drawCrank(sheet: CrankSheet): SVGTemplateResult {
  const { relay, coil, contact, bar, start, feedLock, returnLock, feedFrom } = sheet;
  const middle = (relay.left + relay.right) / 2;
  return svg`${sheet.pieces.map((piece) => drawHatching(piece))}
    <rect class="crank-case" x=${relay.left} y=${relay.top} width=${relay.right - relay.left} height=${relay.bottom - relay.top} rx="3" />
    <path class="dim" stroke-dasharray="5 4" d=${`M${middle} ${contact.from.y + 6} V${coil.top}`} />
    ${sheet.pieces.map((piece) => drawPiece(piece))}
    ${drawContact(sheet)}
    <circle class="solid" cx=${feedFrom.x} cy=${feedFrom.y} r="3.5" />
    ${drawBattery(sheet)}
    ${drawStarterAndEngine(sheet)}
    ${drawCoil(coil)}
    ${drawStart(start.at, start.held)}
    ${feedLock === undefined ? null : drawLock(feedLock)}${returnLock === undefined ? null : drawLock(returnLock)}
    ${drawGroundHatch(bar)}
    ${sheet.labels.map((label) => drawLabel(label, sheet))}`;
}

function drawHatching({ lines, body, heavy, state: { suspicion } }: CrankPiece): SVGTemplateResult | null {
  const id = HATCH[suspicion];
  if (id === '') return null;
  return svg`${lines.map((d) => svg`<path d=${d} fill="none" stroke=${`url(#${id})`} stroke-width=${heavy ? 22 : 16} stroke-linejoin="round" />`)}
    ${body === undefined ? null : svg`<rect x=${body.left} y=${body.top} width=${body.right - body.left} height=${body.bottom - body.top} fill=${`url(#${id})`} />`}`;
}

/** A cable is drawn as one, two edges with a gap; a wire of the control circuit as a line. */
function drawPiece({ lines, body, heavy, state: { part, suspicion } }: CrankPiece): SVGTemplateResult {
  const cable = heavy && part !== 'contacts' && part !== 'starter';
  return svg`<g class=${`crank-part crank-${suspicion}`}>
    ${body === undefined || part === 'engine' ? null : svg`<rect class="crank-body" x=${body.left} y=${body.top} width=${body.right - body.left} height=${body.bottom - body.top} rx=${part === 'starter' ? 9 : 2} />`}
    ${lines.map((d) => (cable ? svg`<path class="crank-cable" d=${d} /><path class="crank-core" d=${d} />` : svg`<path class="crank-wire" d=${d} />`))}
    ${body !== undefined && part === 'engine' ? drawEngine(body) : null}
    ${suspicion === 'proven' && body !== undefined ? svg`<rect class="mark-do" x=${body.left - 7} y=${body.top - 7} width=${body.right - body.left + 14} height=${body.bottom - body.top + 14} rx="8" />` : null}
  </g>`;
}

/** Contact bridge over two fixed contacts, lifted while START is not held. */
function drawContact({ contact: { from, to, closed }, pieces }: CrankSheet): SVGTemplateResult {
  const { suspicion } = pieces.find(({ part }) => part === 'contacts')!.state;
  const lift = closed ? 0 : 9;
  return svg`<g class=${`crank-part crank-${suspicion}`}>
    ${suspicion === 'proven' ? svg`<rect class="mark-do" x=${from.x - 10} y=${from.y - 20} width=${to.x - from.x + 20} height="34" rx="8" />` : null}
    <path class="crank-wire" d=${`M${from.x} ${from.y} v-5 M${to.x} ${to.y} v-5`} />
    <path class="crank-bridge" d=${`M${from.x - 5} ${from.y - 7 - lift} H${to.x + 5}`} /><path class="dim" d=${`M${(from.x + to.x) / 2} ${from.y - 5 - lift} V${from.y + 6}`} /></g>`;
}

/** The battery from above: six cells, a post at either end. */
function drawBattery({ battery, spots }: CrankSheet): SVGTemplateResult {
  const cells = 6;
  const height = battery.bottom - battery.top;
  const ends = Array.from({ length: cells - 1 }, (_, i) => battery.top + height * (i + 1) / cells);
  const post = (node: string, sign: string): SVGTemplateResult => {
    const { x, y } = spots.find((spot) => spot.node === node)!.at;
    return svg`<text class="strong" text-anchor="middle" x=${x + 23} y=${y + 5}>${sign}</text>`;
  };
  return svg`<path class="dim" d=${ends.map((y) => `M${battery.left} ${y} h9 M${battery.right - 9} ${y} h9`).join(' ')} />${post('battery+', '+')}${post('battery-', '\u2212')}`;
}

/** The starter's nose with its pinion, seen from the side, and the ring gear it turns. */
function drawStarterAndEngine({ starter, pinion, gear, pieces }: CrankSheet): SVGTemplateResult {
  const of = (part: CrankPart): string => `crank-part crank-${pieces.find((piece) => piece.part === part)!.state.suspicion}`;
  const teeth = (box: Box, step: number): string => Array.from({ length: Math.floor((box.right - box.left - 4) / step) }, (_, i) => `M${box.left + 4 + i * step} ${box.top + 2} V${box.bottom - 2}`).join(' ');
  const axis = (pinion.left + pinion.right) / 2;
  return svg`<g class=${of('starter')}><path class="crank-body" d=${`M${axis - 10} ${starter.bottom} V${pinion.top - 4} H${axis + 10} V${starter.bottom}`} />
    <path class="dim" stroke-dasharray="9 3 2 3" d=${`M${axis} ${starter.bottom - 8} V${pinion.bottom + 8}`} />
    <rect class="crank-body" x=${pinion.left} y=${pinion.top} width=${pinion.right - pinion.left} height=${pinion.bottom - pinion.top} rx="1.5" /></g>
    <g class=${of('engine')}><rect class="crank-body" x=${gear.left} y=${gear.top} width=${gear.right - gear.left} height=${gear.bottom - gear.top} rx="1.5" /></g>
    <path class="thin" d=${`${teeth(pinion, 5)} ${teeth(gear, 5)}`} />`;
}

/** An engine block with its fins, hung under the ring gear. */
function drawEngine({ left, right, top, bottom }: Box): SVGTemplateResult {
  const shaft = left + (right - left) * 0.35;
  return svg`<path class="crank-wire" d=${`M${shaft - 5} ${top} V${top - 12} H${shaft + 5} V${top}`} />
    <rect class="crank-body" x=${left} y=${top} width=${right - left} height=${bottom - top} rx="2" />
    <path class="dim" d=${`M${left + 4} ${top + 6} H${right - 4} M${left + 4} ${top + 11} H${right - 4} M${left + 4} ${bottom - 6} H${right - 4} M${left + 4} ${bottom - 11} H${right - 4}`} />`;
}

function drawCoil({ left, right, top, bottom }: Box): SVGTemplateResult {
  const turns = Math.floor((right - left - 6) / 6);
  return svg`<path class="thin" d=${Array.from({ length: turns }, (_, i) => `M${left + 5 + i * 6} ${bottom - 3} L${left + 8 + i * 6} ${top + 3}`).join(' ')} />`;
}

/** The start switch, its lever, and the hand's knob. */
function drawStart({ x, y }: Spot, held: boolean): SVGTemplateResult {
  return svg`<circle class="solid" cx=${x} cy=${y - 13} r="3" /><circle class="solid" cx=${x} cy=${y + 13} r="3" />
    <path class=${held ? 'live-line' : 'outline'} d=${held ? `M${x} ${y + 13} L${x + 1} ${y - 13}` : `M${x} ${y + 13} L${x - 14} ${y - 8}`} />
    <path class=${held ? 'live-line' : 'outline'} d=${held ? `M${x} ${y} H${x - 12} M${x - 12} ${y - 5} V${y + 5}` : `M${x - 8} ${y + 1} H${x - 20} M${x - 20} ${y - 4} V${y + 6}`} />`;
}

/** A safety switch, made as it has to be for cranking. */
function drawLock({ x, y }: Spot): SVGTemplateResult {
  return svg`<circle class="solid" cx=${x} cy=${y - 13} r="2.6" /><circle class="solid" cx=${x} cy=${y + 13} r="2.6" />
    <path class="outline" d=${`M${x} ${y + 13} L${x + 1} ${y - 13}`} /><path class="thin" d=${`M${x} ${y} H${x + 11}`} /><circle class="thin fill" cx=${x + 14} cy=${y} r="3.4" />`;
}

/** Chassis: the bar hatched as ground is. */
function drawGroundHatch({ from, to, y }: CrankSheet['bar']): SVGTemplateResult {
  const strokes = Array.from({ length: Math.floor((to - from) / 9) }, (_, i) => `M${from + i * 9 + 8} ${y + 6} l-7 8`).join(' ');
  return svg`<path class="outline" d=${`M${from} ${y + 5} H${to}`} /><path class="hatch" d=${strokes} />`;
}

function drawLabel({ part, x, y, anchor, lines }: CrankLabel, { pieces }: CrankSheet): SVGTemplateResult {
  const suspicion = part === undefined ? undefined : pieces.find((piece) => piece.part === part)!.state.suspicion;
  return svg`${lines.map((line, index) => {
    const isState = suspicion !== undefined && index === lines.length - 1;
    const style = !isState ? '' : suspicion === 'proven' ? 'do' : suspicion === 'likely' || suspicion === 'possible' ? 'strong' : 'quiet';
    return svg`<text class=${style} text-anchor=${anchor} x=${x} y=${y + index * CRANK_LINE}>${line}</text>`;
  })}`;
}

/** A stud with its nut, a post, a tab or a bare point of metal. */
export function drawCrankPoint(node: string, { x, y }: Spot): SVGTemplateResult {
  if (node === 'battery+' || node === 'battery-') return svg`<circle class="outline fill" cx=${x} cy=${y} r="10" /><circle class="outline" cx=${x} cy=${y} r="5.5" />`;
  if (node.startsWith('battery')) return svg`<path class="outline fill" d=${`M${x - 4} ${y + 11} A 11 11 0 1 1 ${x + 4} ${y + 11} V${y + 5} H${x - 4} Z`} transform=${node === 'battery+clamp' ? '' : `rotate(180 ${x} ${y})`} /><circle class="solid" cx=${x} cy=${y} r="2.4" />`;
  if (node.startsWith('coil')) return svg`<rect class="outline fill" x=${x - 5} y=${y - 9} width="10" height="18" rx="1" />`;
  if (node === 'chassis' || node === 'starter-case') return svg`<circle class="outline fill" cx=${x} cy=${y} r="8" /><path class="outline" d=${`M${x - 4} ${y} H${x + 4} M${x} ${y - 4} V${y + 4}`} />`;
  const hexagon = Array.from({ length: 6 }, (_, i) => `${x + 11 * Math.cos(Math.PI / 3 * i)},${y + 11 * Math.sin(Math.PI / 3 * i)}`).join(' ');
  return svg`<polygon class="outline fill" points=${hexagon} /><circle class="outline" cx=${x} cy=${y} r="5" />`;
}

/** Where a probe touches: red a ring, black a ring broken; their names beside, since nothing is told by colour alone. */
export function drawProbe({ x, y }: Spot, probe: 'red' | 'black'): SVGTemplateResult {
  return svg`<circle class="mark-do" cx=${x} cy=${y} r="17" stroke-dasharray=${probe === 'red' ? '' : '6 5'} />`;
}

/** What a name beside a ring keeps from its middle, px. */
const ABOVE = 22;
const BELOW = 33;

/** The meter between its two points, with what it shows: its lead bows towards the middle of the drawing, far enough for the figure to stand off both. */
export function drawMeter(plus: Spot | undefined, minus: Spot | undefined, reading: string, { width, height }: Pick<CrankSheet, 'width' | 'height'>): SVGTemplateResult | null {
  const { crank } = DRAWING_WORDS;
  const flag = ({ x, y }: Spot, words: string, below: boolean): SVGTemplateResult => svg`<text class="do" text-anchor="middle" x=${x} y=${y + (below ? BELOW : -ABOVE)}>${words}</text>`;
  if (plus === undefined && minus === undefined) return null;
  if (plus === undefined || minus === undefined) return flag((plus ?? minus)!, plus === undefined ? crank.black : crank.red, false);
  const [dx, dy] = [minus.x - plus.x, minus.y - plus.y];
  const length = Math.hypot(dx, dy);
  const middle = { x: (plus.x + minus.x) / 2, y: (plus.y + minus.y) / 2 };
  const standing = Math.abs(dy) > Math.abs(dx);
  // Over a lying pair, where names hang below; beside a standing one towards the middle.
  const wanted = standing ? dy * (width / 2 - middle.x) : middle.y > height / 4 ? dx : -dx;
  const side = wanted >= 0 ? 1 : -1;
  const normal = { x: side * dy / length, y: -side * dx / length };
  const [wide, high] = [textWidth(reading, 17, true) + 14, 30];
  const off = Math.abs(normal.x) * wide / 2 + Math.abs(normal.y) * high / 2 + (length < 120 ? ABOVE + 4 : 8);
  const at = { x: Math.min(Math.max(middle.x + normal.x * off, wide / 2 + 2), width - wide / 2 - 2), y: middle.y + normal.y * off };
  return svg`<path class="mark-do crank-lead" d=${`M${plus.x} ${plus.y} Q${2 * at.x - middle.x} ${2 * at.y - middle.y} ${minus.x} ${minus.y}`} />
    <rect class="crank-meter" x=${at.x - wide / 2} y=${at.y - high / 2} width=${wide} height=${high} rx="3" /><text class="large" text-anchor="middle" x=${at.x} y=${at.y + 6}>${reading}</text>
    ${flag(plus, crank.red, standing && dy < 0)}${flag(minus, crank.black, standing && dy > 0)}`;
}
