// The text in the code of a wire's tag: `LW1:`, the 32 hexadecimal digits of the job's id in capitals, `:`, the tag, percent-encoded as in
// an address (RFC 3986). A plain tag so stays within the letters that QR's alphanumeric mode packs closest (ISO/IEC 18004, from memory).

const VERSION = 'LW1';
/** A scanner that types with another keyboard's layout puts another sign for the colon. */
const WIRE_CODE = /^\s*LW1[^0-9a-z]([0-9a-f]{32})[^0-9a-z](\S.*?)\s*$/i;

/** The wire that a code names. */
export interface WireCode { readonly jobId: string; readonly tag: string }

/** The text of a wire's code. @example printWireCode('3f1c2f6e-8a54-4c1e-9d3b-5a6f7e8d9c0b', 'W1') // 'LW1:3F1C2F6E8A544C1E9D3B5A6F7E8D9C0B:W1' */
export function printWireCode(jobId: string, tag: string): string {
  return `${VERSION}:${jobId.replaceAll('-', '').toUpperCase()}:${encodeURIComponent(tag.replace(/\p{Surrogate}/gu, '\ufffd'))}`;
}

/** The wire a text names; undefined where it is no code of this kind. The two signs between the parts may be any that are neither letter nor digit. */
export function readWireCode(text: string): WireCode | undefined {
  const match = WIRE_CODE.exec(text);
  if (!match) return undefined;
  const hex = match[1]!.toLowerCase();
  try {
    return { jobId: hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, '$1-$2-$3-$4-$5'), tag: decodeURIComponent(match[2]!) };
  } catch {
    return undefined;
  }
}
