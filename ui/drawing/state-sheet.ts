import type { SwitchState } from '../../catalog-schema/index.ts';
import { textWidth } from './label-placing.ts';
import { DRAWING_WORDS } from './words.ts';

/** Where a machine's interlocks act on the coil. */
export type InterlocksAct = 'in-return' | 'in-feed' | 'both' | 'none';

export type StateInput = Readonly<{
  state: SwitchState; interlocks: InterlocksAct
  /** the plan has a cranking feed: a second contact lights it, and the running engine keeps it live */
  hasFeed: boolean; widthPx: number
}>;

export type StateSymbol = 'switch' | 'interlock' | 'coil' | 'contact' | 'motor' | 'feed';
/** One thing in the circuit: closed or not, at work or not, with its name and how it stands. */
export type StatePiece = Readonly<{ symbol: StateSymbol; x: number; y: number; closed: boolean; lit: boolean; name: string; stands: string}>;
/** The words under a piece: their middle, kept within the sheet and beside those of its neighbours. */
export type StateLabel = Readonly<{ x: number; y: number; name: string; stands: string; lit: boolean }>;
/** A line from rail to symbol or symbol to symbol; `flow` is +1 where current goes to the right, -1 to the left, 0 where none does. */
export type StateLine = Readonly<{ from: number; to: number; y: number; lit: boolean; flow: -1 | 0 | 1 }>;
export type StateSheet = Readonly<{
  width: number; height: number; left: number; right: number; top: number; bottom: number
  pieces: readonly StatePiece[]; labels: readonly StateLabel[]; lines: readonly StateLine[]; link: Readonly<{ x: number; from: number; to: number }>
  spoken: string
}>;

const EDGE = 22;
const TOP = 40;
const RUNG = 78;
const LABEL_DOWN = 32;
const LABEL_ROWS = 36;
/** Half of what a symbol takes of its line. */
export const STATE_HALF: Readonly<Record<StateSymbol, number>> = { switch: 13, interlock: 13, coil: 17, contact: 13, motor: 14, feed: 12 };

/**
 * Lays the cranking circuit in one position of its switches, as a plan's state says it stands: plus at the left, chassis at the right; above, the
 * heavy contact and the starter; below, START, interlocks and coil. A line is lit as far as battery volts reach; where current flows it
 * has an arrow. The battery's own side is always lit.
 */
export function layStateSheet({ state, interlocks, hasFeed, widthPx }: StateInput): StateSheet {
  const words = DRAWING_WORDS.state;
  const [left, right] = [EDGE, widthPx - EDGE];
  const feeds = interlocks === 'in-feed' || interlocks === 'both';
  const returns = interlocks === 'in-return' || interlocks === 'both';
  const made = state.interlocks ? words.made : words.open;
  const y = { heavy: TOP, feed: TOP + RUNG, control: TOP + RUNG * (hasFeed ? 2 : 1) };

  const interlock = { symbol: 'interlock' as const, closed: state.interlocks, name: words.interlocks, stands: made };
  const chain = [
    { symbol: 'switch' as const, closed: state.startSwitch, name: words.start, stands: state.startSwitch ? words.held : words.letGo },
    ...(feeds ? [interlock] : []),
    { symbol: 'coil' as const, closed: true, name: words.relay, stands: state.pulledIn ? words.pulledIn(sayAmps(state.controlA)) : words.out },
    ...(returns ? [interlock] : []),
  ];
  const step = (right - left) / (chain.length + 1);
  const flows = chain.every((piece) => piece.closed);
  const control = chain.map((piece, index): StatePiece => ({
    ...piece, x: left + step * (index + 1), y: y.control, lit: piece.symbol === 'coil' ? state.pulledIn : chain.slice(0, index + 1).every(({ closed }) => closed),
  }));
  const coilX = control.find(({ symbol }) => symbol === 'coil')!.x;
  const loadX = Math.min(coilX + Math.max((right - coilX) * 0.55, 46), right - 26);
  const starter: StatePiece = { symbol: 'motor', x: loadX, y: y.heavy, closed: true, lit: state.starterLive, name: words.starter, stands: state.starterLive ? words.cranks : words.still };
  const contactOn = (at: number): StatePiece => ({ symbol: 'contact', x: coilX, y: at, closed: state.pulledIn, lit: state.pulledIn, name: words.contact, stands: state.pulledIn ? words.closed : words.opened });
  const ignition: StatePiece = {
    symbol: 'feed', x: loadX, y: y.feed, closed: true, lit: state.pulledIn || state.engineRuns, name: words.feed,
    stands: state.engineRuns ? words.fromEngine : state.pulledIn ? words.live : words.dead,
  };
  const heavy = [contactOn(y.heavy), starter];
  const lines = [
    ...joinPieces(control, left, right, flows ? 1 : 0, (index) => chain.slice(0, index).every(({ closed }) => closed)),
    ...joinPieces(heavy, left, right, state.starterLive ? 1 : 0, (index) => index === 0 || state.starterLive),
    ...(hasFeed ? joinPieces([contactOn(y.feed), ignition], left, undefined, 0, (index) => index === 0 || ignition.lit)
      .map((line, index): StateLine => (index === 1 ? { ...line, flow: state.engineRuns ? -1 : state.pulledIn ? 1 : 0 } : line)) : []),
  ];
  const upper = placeLabels(hasFeed ? [starter, ignition] : [starter], right - 6, false);
  const crowded = areCrowded(placeLabels(control, widthPx, false));
  return {
    width: widthPx, height: y.control + LABEL_DOWN + 24 + (crowded ? LABEL_ROWS : 0), labels: [...placeLabels(control, widthPx, crowded), ...upper], left, right, top: 16, bottom: y.control + 14, lines, link: { x: coilX, from: y.heavy, to: y.control },
    pieces: [...control, ...heavy, ...(hasFeed ? [contactOn(y.feed), ignition] : [])], spoken: sayState(state, interlocks, hasFeed),
  };
}

/** Labels under their pieces, none reaching beyond `most`; where there is no room side by side every other one stands a row lower. */
function placeLabels(pieces: readonly StatePiece[], most: number, staggered: boolean): StateLabel[] {
  return pieces.map(({ x, y, name, stands, lit }, index) => {
    const half = labelWidth({ name, stands }) / 2;
    return { x: Math.min(Math.max(x, half), most - half), y: y + LABEL_DOWN + (staggered && index % 2 === 1 ? LABEL_ROWS : 0), name, stands, lit };
  });
}

function labelWidth({ name, stands }: Pick<StateLabel, 'name' | 'stands'>): number {
  return Math.max(textWidth(name, 14), textWidth(stands, 14, true)) + 4;
}

function areCrowded(labels: readonly StateLabel[]): boolean {
  return labels.some((label, index) => {
    const next = labels[index + 1];
    return next !== undefined && next.x - label.x < (labelWidth(label) + labelWidth(next)) / 2;
  });
}

/** The state in one line: what is held and made, and what it does. */
export function sayState(state: SwitchState, interlocks: InterlocksAct, hasFeed: boolean): string {
  const words = DRAWING_WORDS.state;
  return [
    state.engineRuns ? words.engineRuns : '', `${words.start} ${state.startSwitch ? words.held : words.letGo}`,
    interlocks === 'none' ? '' : `${words.interlocks} ${state.interlocks ? words.made : words.open}`,
    `${words.relay} ${state.pulledIn ? words.pulledIn(sayAmps(state.controlA)) : words.out}`, `${words.starter} ${state.starterLive ? words.cranks : words.still}`,
    hasFeed ? `${words.feed} ${state.engineRuns ? words.fromEngine : state.pulledIn ? words.live : words.dead}` : '',
  ].filter((part) => part !== '').join(', ');
}

/** The lines of a rung from rail to rail; the last is left out where it ends in its last symbol. */
function joinPieces(pieces: readonly StatePiece[], left: number, right: number | undefined, flow: 0 | 1, isLit: (index: number) => boolean): StateLine[] {
  const stops = [...pieces, ...(right === undefined ? [] : [undefined])];
  return stops.map((piece, index): StateLine => {
    const before = pieces[index - 1];
    return {
      from: before === undefined ? left : before.x + STATE_HALF[before.symbol], to: piece === undefined ? right! : piece.x - STATE_HALF[piece.symbol],
      y: pieces[0]!.y, lit: isLit(index), flow: isLit(index) ? flow : 0,
    };
  });
}

function sayAmps(amps: number): string {
  return String(Number(amps.toFixed(1)));
}
