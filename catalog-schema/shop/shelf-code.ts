// The text in the code of a shelf's label: `LB1:` and the bin, or `LP1:` and the part's id, percent-encoded as in an address (RFC 3986).
// Plain capitals and figures so stay within the letters that QR's alphanumeric mode packs closest (ISO/IEC 18004, from memory).

/** A scanner that types with another keyboard's layout puts another sign for the colon. */
const SHELF_CODE = /^\s*L([BP])1[^0-9a-z](\S.*?)\s*$/i;

/** What a shelf's label names. */
export type ShelfCode = { readonly kind: 'bin'; readonly bin: string } | { readonly kind: 'part'; readonly partId: string };

/** The text of a label. @example printShelfCode({ kind: 'bin', bin: 'C4' }) // 'LB1:C4' */
export function printShelfCode(code: ShelfCode): string {
  const name = code.kind === 'bin' ? code.bin : code.partId;
  return `L${code.kind === 'bin' ? 'B' : 'P'}1:${encodeURIComponent(name.replace(/\p{Surrogate}/gu, '\ufffd'))}`;
}

/**
 * What a text names; undefined where it is no code of this kind. The sign after `LB1` or `LP1` may be any that is neither letter nor digit. A
 * scanner with its capitals the wrong way round gives another name: whoever looks the name up may pass over capitals.
 */
export function readShelfCode(text: string): ShelfCode | undefined {
  const match = SHELF_CODE.exec(text);
  if (!match) return undefined;
  try {
    const name = decodeURIComponent(match[2]!);
    return match[1]!.toUpperCase() === 'B' ? { kind: 'bin', bin: name } : { kind: 'part', partId: name };
  } catch {
    return undefined;
  }
}
