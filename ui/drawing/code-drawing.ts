import type { DrawingContext, RenderOptions } from 'bwip-js/browser';

/** Which bars: `qr` for a camera, `code128` for a scanner of one line. */
export type CodeKind = 'qr' | 'code128';

/** A code as one path in its own modules, with the quiet zone that its standard asks for around it. */
export interface CodeDrawing {
  readonly wide: number;
  readonly high: number;
  readonly path: string;
}

/** QR: level Q bears a quarter of the code being greasy (ISO/IEC 18004, from memory). Quiet zones: 4 modules there, 10 beside Code 128 (ISO/IEC 15417, from memory). */
const LEVEL = 'Q';
const QR_QUIET = 4;
const CODE128_QUIET = 10;
/** Modules that the bars of Code 128 are high: 12 mm at 0.25 mm a module. */
const BAR_HIGH = 48;
/** The library draws a QR module two of its units wide, and its bars in units of one; it counts millimetres at 72 dots an inch. */
const QR_UNIT = 2;

/** Loads the library of codes, at the first code that is drawn, and gives what draws them. @throws where a text is too long for its code */
export async function loadCodeDrawer(): Promise<(kind: CodeKind, text: string) => CodeDrawing> {
  const { code128, qrcode } = await import('bwip-js/browser');
  return (kind, text) => {
    switch (kind) {
      case 'qr': {
        // The library's types leave out the options of a single kind of code.
        const options: RenderOptions & { readonly eclevel: string } = { bcid: 'qrcode', text, eclevel: LEVEL, scale: 1 };
        const drawn = qrcode<CodeDrawing>(options, gatherPath(QR_UNIT, QR_QUIET));
        return { ...drawn, wide: drawn.wide + 2 * QR_QUIET, high: drawn.high + 2 * QR_QUIET };
      }
      case 'code128': {
        const drawn = code128<CodeDrawing>({ bcid: 'code128', text, scale: 1 }, gatherPath(1, CODE128_QUIET, BAR_HIGH));
        return { ...drawn, wide: drawn.wide + 2 * CODE128_QUIET, high: BAR_HIGH };
      }
    }
  };
}

/** Takes what the library draws as one path, in modules; bars are drawn `high` modules high. */
function gatherPath(unit: number, quiet: number, high?: number): DrawingContext<CodeDrawing> {
  const parts: string[] = [];
  let size = { wide: 0, high: 0 };
  const x = (value: number): number => value / unit + quiet;
  return {
    scale: (): null => null,
    measure: () => ({ width: 0, ascent: 0, descent: 0 }),
    init: (width: number, height: number): void => { size = { wide: width / unit, high: height / unit }; },
    line: (x0: number, _y0: number, _x1: number, _y1: number, width: number): void => {
      // The library gives the middle of a bar, of one with an odd width half a unit to the right of it.
      const left = x0 - width / 2 - (width % 2 === 1 ? 0.5 : 0);
      parts.push(`M${x(left)} 0H${x(left + width)}V${high ?? size.high}H${x(left)}Z`);
    },
    polygon: (points): void => {
      parts.push(`M${points.map(([px, py]) => `${x(px)} ${py / unit + quiet}`).join('L')}Z`);
    },
    hexagon: (): void => undefined,
    ellipse: (): void => undefined,
    fill: (): void => undefined,
    text: (): void => undefined,
    end: (): CodeDrawing => ({ ...size, path: parts.join('') }),
  };
}
