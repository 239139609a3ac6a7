import type { Readable } from 'node:stream';

/**
 * The lines of a stream of UTF-8, without their ends (`\n` or `\r\n`; nothing else ends a line). Of a line longer than `most` characters the rest is
 * dropped, so that it fills no memory.
 */
export async function* takeLines(stream: Readable, most: number): AsyncGenerator<string> {
  const decoder = new TextDecoder('utf-8');
  let line = '';
  for await (const chunk of stream as AsyncIterable<Buffer>) {
    const pieces = decoder.decode(chunk, { stream: true }).split('\n');
    for (const [at, piece] of pieces.entries()) {
      if (line.length <= most) line += piece.slice(0, most + 1 - line.length);
      if (at === pieces.length - 1) break;
      yield line.replace(/\r$/, '');
      line = '';
    }
  }
  line += decoder.decode();
  if (line !== '') yield line.replace(/\r$/, '');
}
