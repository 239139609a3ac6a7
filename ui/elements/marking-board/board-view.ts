/** A place on the board, css px from its upper left corner, or in the picture, px from its own: the pixel (0, 0) covers 0 to 1. */
export interface Spot { readonly x: number; readonly y: number }
export interface Size { readonly width: number; readonly height: number }

/** Which piece of the picture the board shows: the picture's px at the board's corner, and css px a picture px. */
export interface BoardView { readonly left: number; readonly top: number; readonly scale: number }

/** A picture px is never shown larger than this, css px: more shows nothing more. */
const MOST_SCALE = 8;

/** The whole picture, in the middle of the board. */
export function fitView(picture: Size, board: Size): BoardView {
  const scale = Math.min(board.width / picture.width, board.height / picture.height);
  return { scale, left: (picture.width - board.width / scale) / 2, top: (picture.height - board.height / scale) / 2 };
}

export function toBoard(view: BoardView, { x, y }: Spot): Spot {
  return { x: (x - view.left) * view.scale, y: (y - view.top) * view.scale };
}

export function toPicture(view: BoardView, { x, y }: Spot): Spot {
  return { x: view.left + x / view.scale, y: view.top + y / view.scale };
}

/** Larger or smaller about a place of the board that stays where it is; never smaller than the whole picture. */
export function zoomView(view: BoardView, factor: number, about: Spot, picture: Size, board: Size): BoardView {
  const least = fitView(picture, board).scale;
  const scale = Math.min(Math.max(least, MOST_SCALE), Math.max(least, view.scale * factor));
  const held = toPicture(view, about);
  return keepInside({ scale, left: held.x - about.x / scale, top: held.y - about.y / scale }, picture, board);
}

/** Moves what is shown with the finger, css px. */
export function panView(view: BoardView, by: Spot, picture: Size, board: Size): BoardView {
  return keepInside({ ...view, left: view.left - by.x / view.scale, top: view.top - by.y / view.scale }, picture, board);
}

/** Moves as little as needed for a place of the picture to be shown, some way from the rim. */
export function showSpot(view: BoardView, spot: Spot, picture: Size, board: Size): BoardView {
  const at = toBoard(view, spot);
  const rim = Math.min(40, board.width / 4, board.height / 4);
  const off = (value: number, most: number) => (value < rim ? rim - value : value > most - rim ? most - rim - value : 0);
  return panView(view, { x: off(at.x, board.width), y: off(at.y, board.height) }, picture, board);
}

/** Whether the whole picture is shown: there is nothing to move. */
export function isWhole(view: BoardView, picture: Size, board: Size): boolean {
  return view.scale <= fitView(picture, board).scale * 1.001;
}

/** Along each axis: the picture fills the board where it can, else it stands in the middle. */
function keepInside(view: BoardView, picture: Size, board: Size): BoardView {
  const along = (start: number, whole: number, shown: number) => (shown >= whole ? (whole - shown) / 2 : Math.min(Math.max(0, start), whole - shown));
  return {
    scale: view.scale, left: along(view.left, picture.width, board.width / view.scale), top: along(view.top, picture.height, board.height / view.scale),
  };
}
