import bwipjs from 'bwip-js/node';
import type { DrawnCode } from './drawn-code.ts';

/** A square code, ISO/IEC 18004, as rows of dark (true) and light fields, without the quiet zone around it. */
export function makeQrCode(text: string): boolean[][] {
  const [code] = bwipjs.raw({ bcid: 'qrcode', text, eclevel: 'M' } as Parameters<typeof bwipjs.raw>[0]);
  if (code === undefined || !('pixs' in code)) throw new Error('the library gave no square code');
  return Array.from({ length: code.pixy }, (_, y) => Array.from({ length: code.pixx }, (__, x) => code.pixs[y * code.pixx + x] === 1));
}

/** The standard wants four light fields around it. */
const QUIET = 4;

/** For a terminal: two rows of fields in one line of characters, dark on light whatever the terminal's own colours. */
export function printQrCode(text: string): string {
  const code = makeQrCode(text);
  const size = code.length + 2 * QUIET;
  const isDark = (x: number, y: number): boolean => code[y - QUIET]?.[x - QUIET] ?? false;
  const lines: string[] = [];
  for (let y = 0; y < size; y += 2) {
    const fields = Array.from({ length: size }, (_, x) => {
      const [above, below] = [isDark(x, y), isDark(x, y + 1)];
      return above ? (below ? '█' : '▀') : below ? '▄' : ' ';
    });
    // Black on white, then back to the terminal's own.
    lines.push(`\u001b[30;107m${fields.join('')}\u001b[0m`);
  }
  return `${lines.join('\n')}\n`;
}

/** For a page. */
export function drawQrCode(text: string): DrawnCode {
  const code = makeQrCode(text);
  const path = code.flatMap((row, y) => row.flatMap((dark, x) => (dark ? [`M${x + QUIET} ${y + QUIET}h1v1h-1z`] : []))).join('');
  return { size: code.length + 2 * QUIET, path };
}
