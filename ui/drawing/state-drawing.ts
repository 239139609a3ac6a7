import { svg, type SVGTemplateResult } from 'lit';
import { drawHead } from './dimension.ts';
import { STATE_HALF, type StateLabel, type StateLine, type StatePiece, type StateSheet } from './state-sheet.ts';

/** The cranking circuit in one position of its switches: open and closed as they stand, what is live in the pencil, words under each. */
export function drawState(sheet: StateSheet): SVGTemplateResult {
  const { left, right, top, bottom, link } = sheet;
  return svg`<path class="dim" stroke-dasharray="5 4" d=${`M${link.x} ${link.from} V${link.to - 13}`} />
    <path class="live-line" d=${`M${left} ${top} V${bottom}`} /><path class="outline" d=${`M${right} ${top + 8} V${bottom}`} />
    <text class="strong" text-anchor="middle" x=${left} y=${top - 3}>+</text>
    <path class="outline" d=${`M${right - 11} ${bottom} H${right + 11} M${right - 7} ${bottom + 4} H${right + 7} M${right - 3} ${bottom + 8} H${right + 3}`} />
    ${sheet.lines.map((line) => drawLine(line))}
    ${sheet.pieces.map((piece) => drawPiece(piece))}
    ${sheet.labels.map((label) => drawLabel(label))}`;
}


function drawLine({ from, to, y, lit, flow }: StateLine): SVGTemplateResult {
  const middle = (from + to) / 2;
  return svg`<path class=${lit ? 'live-line' : 'outline'} d=${`M${from} ${y} H${to}`} />
    ${flow === 0 || to - from < 16 ? null : drawHead(middle + 5 * flow, y, flow > 0 ? 0 : 180, 'wash-do')}`;
}

function drawPiece({ symbol, x, y, closed, lit }: StatePiece): SVGTemplateResult {
  const style = lit ? 'live-line' : 'outline';
  const half = STATE_HALF[symbol];
  switch (symbol) {
    case 'switch': case 'interlock': case 'contact': {
      const tip = closed ? `L${x + half} ${y - 1}` : `L${x + half - 3} ${y - 15}`;
      // The hand on START, and the actuator of an interlock, set them apart from the relay's own contact.
      const mark = symbol === 'contact' ? '' : closed ? `M${x} ${y - 1} V${y - 12}` : `M${x} ${y - 8} V${y - 19}`;
      const head = symbol === 'switch' ? `M${x - 5} ${closed ? y - 12 : y - 19} h10` : '';
      return svg`<circle class="solid" cx=${x - half} cy=${y} r="2.6" /><circle class="solid" cx=${x + half} cy=${y} r="2.6" />
        <path class=${style} d=${`M${x - half} ${y} ${tip}`} /><path class="thin" d=${`${mark} ${head}`} />
        ${symbol === 'interlock' ? svg`<circle class="thin fill" cx=${x} cy=${closed ? y - 15 : y - 22} r="3.4" />` : null}`;
    }
    case 'coil': return svg`<rect class=${`${style} fill`} x=${x - half} y=${y - 13} width=${half * 2} height="26" />
      ${lit ? svg`<path class="live-line" d=${`M${x - half} ${y + 13} L${x + half} ${y - 13}`} />` : null}`;
    case 'motor': return svg`<circle class=${`${style} fill`} cx=${x} cy=${y} r=${half} /><text class="strong" text-anchor="middle" x=${x} y=${y + 5}>M</text>
      ${lit ? svg`<path class="live-line" d=${`M${x - 12} ${y - 19} A 20 20 0 0 1 ${x + 12} ${y - 19}`} />${drawHead(x + 14, y - 17, 45, 'wash-do')}` : null}`;
    case 'feed': return svg`<path class=${`${style} fill`} d=${`M${x - half} ${y - 9} h${half + 4} l8 9 l-8 9 h${-half - 4} Z`} />`;
    default: throw new Error(`no symbol for ${String(symbol satisfies never)}`);
  }
}

/** Two lines under a piece: what it is, and how it stands. */
function drawLabel({ x, y, name, stands, lit }: StateLabel): SVGTemplateResult {
  return svg`<text class="quiet" text-anchor="middle" x=${x} y=${y}>${name}</text>
    <text class=${lit ? 'do' : 'strong'} text-anchor="middle" x=${x} y=${y + 17}>${stands}</text>`;
}
