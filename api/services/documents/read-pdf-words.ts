/** The words of an uncompressed PDF, for tests of what was drawn: by the table from glyphs to letters that each of its fonts carries (ISO 32000-1, 9.10.3). */
export function readPdfWords(pdf: string): string {
  const objects = new Map([...pdf.matchAll(/^(\d+) 0 obj\n([^]*?)\nendobj$/gm)].map(([, id, body]) => [id!, body!]));
  const letters = new Map<string, string[]>();
  for (const [, name, id] of pdf.matchAll(/\/(F\d+) (\d+) 0 R/g)) {
    const table = /\/ToUnicode (\d+) 0 R/.exec(objects.get(id!) ?? '');
    if (table === null) continue;
    letters.set(name!, [...objects.get(table[1]!)!.matchAll(/\[([^\]]*)\]/g)].flatMap(([, row]) => row!.trim().split(/\s+/).map((hex) => (
      hex.replace(/[<>]/g, '').match(/.{4}/g) ?? []).map((unit) => String.fromCharCode(Number.parseInt(unit, 16))).join(''))));
  }
  let face: string[] = [];
  return [...pdf.matchAll(/\/(F\d+) [\d.]+ Tf|\[([^\]]*)\] TJ/g)].map(([, name, shown]) => {
    if (name !== undefined) {
      face = letters.get(name) ?? [];
      return '';
    }
    return `${[...shown!.matchAll(/<([0-9a-f]*)>/g)].map(([, hex]) => (hex!.match(/.{4}/g) ?? []).map((glyph) => face[Number.parseInt(glyph, 16)]).join('')).join('')} `;
  }).join('');
}
