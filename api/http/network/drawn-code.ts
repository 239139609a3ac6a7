/** A square code as an SVG path of dark fields, one unit each, in a square of `size` with the quiet zone. */
export interface DrawnCode {
  readonly size: number;
  readonly path: string;
}
