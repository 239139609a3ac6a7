import { toBoard, type BoardView, type Size, type Spot } from './board-view.ts';

/** A mark of a hand, px of the picture; one with a label names what it stands for. */
export interface BoardMark extends Spot { readonly id: string; readonly label?: string }

/**
 * A line over the picture, px of the picture. `found`: the picture's own edge; `missed`: where none was found; `taken`: a length between marks;
 * `spacing`: a dimension from middle to middle.
 */
export interface BoardLine { readonly from: Spot; readonly to: Spot; readonly look: 'found' | 'missed' | 'taken' | 'spacing'; readonly label?: string }

/** Colours of the sheet and of the pencils, as CSS writes them. */
export interface BoardInk { readonly paper: string; readonly ink: string; readonly do: string; readonly not: string; readonly ground: string; readonly font: string }

export interface BoardScene {
  readonly picture: ImageBitmap;
  readonly view: BoardView;
  readonly board: Size;
  readonly marks: readonly BoardMark[];
  readonly lines: readonly BoardLine[];
  /** the place being aimed at, px of the picture; the magnifier stands beside it */
  readonly aim: Spot | undefined;
  /** where the keyboard's cross stands */
  readonly cross: Spot | undefined;
}

const LOUPE = 64;
const ARM = 9;
const SHORT_PX = 84;

/** Draws the board: picture, lines, marks, and the magnifier beside the finger. */
export function drawBoard(context: CanvasRenderingContext2D, scene: BoardScene, ink: BoardInk): void {
  const { board, view } = scene;
  context.fillStyle = ink.ground;
  context.fillRect(0, 0, board.width, board.height);
  drawPicture(context, scene.picture, view, board);
  for (const line of scene.lines) drawLine(context, line, (spot) => toBoard(view, spot), ink);
  for (const mark of scene.marks) drawMark(context, mark, toBoard(view, mark), ink);
  if (scene.cross) drawCross(context, toBoard(view, scene.cross), board, ink);
  if (scene.aim) drawLoupe(context, scene, scene.aim, ink);
}

function drawPicture(context: CanvasRenderingContext2D, picture: ImageBitmap, view: BoardView, board: Size): void {
  // large pixels are shown as they are: smoothing would hide where the edge lies
  context.imageSmoothingEnabled = view.scale < 3;
  context.imageSmoothingQuality = 'high';
  context.drawImage(picture, view.left, view.top, board.width / view.scale, board.height / view.scale, 0, 0, board.width, board.height);
}

/** A line of a pencil on a broader one of the paper's colour, so that it shows on any picture. */
function stroke(context: CanvasRenderingContext2D, path: Path2D, colour: string, ink: BoardInk, width = 2, dash: readonly number[] = []): void {
  context.lineCap = 'butt';
  context.setLineDash([]);
  context.strokeStyle = ink.paper;
  context.lineWidth = width + 2.5;
  context.stroke(path);
  context.setLineDash([...dash]);
  context.strokeStyle = colour;
  context.lineWidth = width;
  context.stroke(path);
  context.setLineDash([]);
}

function drawLine(context: CanvasRenderingContext2D, line: BoardLine, place: (spot: Spot) => Spot, ink: BoardInk): void {
  const [a, b] = [place(line.from), place(line.to)];
  const path = new Path2D();
  path.moveTo(a.x, a.y);
  path.lineTo(b.x, b.y);
  switch (line.look) {
    case 'found': stroke(context, path, ink.do, ink, 3); break;
    case 'missed': {
      // crossed out: what must not be taken has a form of its own
      const length = Math.hypot(b.x - a.x, b.y - a.y) || 1;
      const [ux, uy] = [(b.x - a.x) / length, (b.y - a.y) / length];
      for (let t = 10; t < length; t += 16) {
        path.moveTo(a.x + t * ux - 5 * (ux + uy), a.y + t * uy - 5 * (uy - ux));
        path.lineTo(a.x + t * ux + 5 * (ux + uy), a.y + t * uy + 5 * (uy - ux));
      }
      stroke(context, path, ink.not, ink, 1.5);
      break;
    }
    case 'taken': stroke(context, path, ink.ink, ink, 1.5); break;
    case 'spacing': stroke(context, path, ink.ink, ink, 1.25, [7, 4]); break;
  }
  // a label longer than its line would hide what it measures; the list beside the picture has it
  const shows = line.look === 'found' || Math.hypot(b.x - a.x, b.y - a.y) > SHORT_PX;
  if (line.label !== undefined && shows) drawLabel(context, line.label, { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 }, ink, line.look === 'missed' ? ink.not : line.look === 'found' ? ink.do : ink.ink);
}

function drawMark(context: CanvasRenderingContext2D, mark: BoardMark, at: Spot, ink: BoardInk): void {
  const path = new Path2D();
  for (const [dx, dy] of [[1, 0], [-1, 0], [0, 1], [0, -1]] as const) {
    path.moveTo(at.x + 2.5 * dx, at.y + 2.5 * dy);
    path.lineTo(at.x + ARM * dx, at.y + ARM * dy);
  }
  stroke(context, path, ink.do, ink);
  if (mark.label === undefined) return;
  const ring = new Path2D();
  ring.arc(at.x, at.y, ARM + 3, 0, 2 * Math.PI);
  stroke(context, ring, ink.do, ink, 1.5);
  drawLabel(context, mark.label, { x: at.x + ARM + 14, y: at.y - ARM - 10 }, ink, ink.do);
}

function drawLabel(context: CanvasRenderingContext2D, words: string, at: Spot, ink: BoardInk, colour: string): void {
  context.font = `700 14px ${ink.font}`;
  context.textBaseline = 'middle';
  context.textAlign = 'center';
  const width = context.measureText(words).width + 10;
  context.fillStyle = ink.paper;
  context.fillRect(at.x - width / 2, at.y - 11, width, 22);
  context.strokeStyle = colour;
  context.lineWidth = 1;
  context.strokeRect(at.x - width / 2, at.y - 11, width, 22);
  context.fillStyle = colour;
  context.fillText(words, at.x, at.y + 1);
}

function drawCross(context: CanvasRenderingContext2D, at: Spot, board: Size, ink: BoardInk): void {
  const path = new Path2D();
  path.moveTo(0, at.y);
  path.lineTo(at.x - 6, at.y);
  path.moveTo(at.x + 6, at.y);
  path.lineTo(board.width, at.y);
  path.moveTo(at.x, 0);
  path.lineTo(at.x, at.y - 6);
  path.moveTo(at.x, at.y + 6);
  path.lineTo(at.x, board.height);
  stroke(context, path, ink.do, ink, 1);
}

/** A round glass beside the finger: above it where there is room, else to the side that has more. */
function drawLoupe(context: CanvasRenderingContext2D, { picture, view, board, lines, marks }: BoardScene, aim: Spot, ink: BoardInk): void {
  const at = toBoard(view, aim);
  const above = at.y > 2 * LOUPE + 44;
  const aside = at.x > board.width / 2 ? -(LOUPE + 56) : LOUPE + 56;
  const keep = (value: number, most: number) => Math.min(Math.max(LOUPE + 4, value), most - LOUPE - 4);
  const middle = { x: keep(above ? at.x : at.x + aside, board.width), y: keep(above ? at.y - LOUPE - 44 : at.y, board.height) };
  const scale = Math.max(view.scale * 3, Math.min(1, view.scale * 8));
  const inGlass = ({ x, y }: Spot): Spot => ({ x: middle.x + (x - aim.x) * scale, y: middle.y + (y - aim.y) * scale });
  context.save();
  const glass = new Path2D();
  glass.arc(middle.x, middle.y, LOUPE, 0, 2 * Math.PI);
  context.clip(glass);
  context.fillStyle = ink.ground;
  context.fillRect(middle.x - LOUPE, middle.y - LOUPE, 2 * LOUPE, 2 * LOUPE);
  context.imageSmoothingEnabled = scale < 3;
  const reach = LOUPE / scale;
  context.drawImage(picture, aim.x - reach, aim.y - reach, 2 * reach, 2 * reach, middle.x - LOUPE, middle.y - LOUPE, 2 * LOUPE, 2 * LOUPE);
  for (const line of lines) if (line.look === 'found') drawLine(context, { from: line.from, to: line.to, look: 'found' }, inGlass, ink);
  for (const { id, x, y } of marks) drawMark(context, { id, x, y }, inGlass({ x, y }), ink);
  context.restore();
  stroke(context, glass, ink.ink, ink, 2);
  const hair = new Path2D();
  for (const [dx, dy] of [[1, 0], [-1, 0], [0, 1], [0, -1]] as const) {
    hair.moveTo(middle.x + 4 * dx, middle.y + 4 * dy);
    hair.lineTo(middle.x + (LOUPE - 8) * dx, middle.y + (LOUPE - 8) * dy);
  }
  stroke(context, hair, ink.do, ink, 1);
}
