// Both are part of every place the engine runs in (Node, page, worker), but of none of the libraries it is compiled against.
declare class TextEncoder {
  encode(text: string): Uint8Array<ArrayBuffer>;
  encodeInto(text: string, into: Uint8Array): { read: number; written: number };
}
declare class TextDecoder {
  constructor(encoding: 'utf-8');
  decode(bytes: Uint8Array): string;
}

const encoder = new TextEncoder();
const decoder = new TextDecoder('utf-8');

export function encodeText(text: string): Uint8Array<ArrayBuffer> {
  return encoder.encode(text);
}

/** Writes the text as UTF-8 from the start of `into`, which has to have room; the number of bytes written. */
export function encodeTextInto(text: string, into: Uint8Array): number {
  return encoder.encodeInto(text, into).written;
}

export function decodeText(bytes: Uint8Array): string {
  return decoder.decode(bytes);
}
