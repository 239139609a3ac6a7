import { fileURLToPath } from 'node:url';

/** A PDF point is 1/72 in (ISO 32000-1, 8.3.2.3). */
export const POINTS_A_MM = 72 / 25.4;

const FILES = { plain: '@fontsource/b612/files/b612-latin-400-normal.woff', strong: '@fontsource/b612/files/b612-latin-700-normal.woff' } as const;
export type Face = keyof typeof FILES;

/** Makes the product's typeface known to a PDF, which then carries it. */
export function registerFaces(pdf: { registerFont(name: string, file: string): unknown }): void {
  for (const [name, file] of Object.entries(FILES)) pdf.registerFont(name, fileURLToPath(import.meta.resolve(file)));
}

/** Words in the letters that the typeface has: it knows no sign for ohms, and a letter it does not know would vanish without a word. */
export function spell(text: string): string {
  return text.replace(/[\u2126\u03a9]/g, 'ohm').replace(/[^\u0020-\u007e\u00a0-\u00ff\u0131\u0152\u0153\u2010-\u2027\u2030-\u203a\u20ac\u2122\u2212]/gu, '?');
}
