import { readFileSync, statSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Catalogue, Read } from '../../catalog-schema/index.ts';
import { LIMITS, readJsonText } from '../../catalog-schema/index.ts';
import { readCataloguePath } from '../../catalog-schema/folder/index.ts';
import { InputRefused } from './tell.ts';

/** The text of FILE, or of standard input for '-'. A byte order mark is dropped. */
export async function takeText(file: string): Promise<string> {
  if (file === '-') return stripMark(await takeStandardInput());
  let size: number;
  try {
    const stat = statSync(file);
    if (!stat.isFile() && !stat.isFIFO() && !stat.isCharacterDevice()) throw new InputRefused([{ path: '', found: `${JSON.stringify(file)}, which is no file`, want: 'a file, or - for standard input' }]);
    size = stat.size;
  } catch (error) {
    if (error instanceof InputRefused) throw error;
    throw new InputRefused([{ path: '', found: `no file ${JSON.stringify(file)}`, want: 'a file, or - for standard input' }]);
  }
  if (size > LIMITS.jsonRequestBytes) {
    throw new InputRefused([{ path: '', found: `${size} bytes`, want: `at most ${LIMITS.jsonRequestBytes} bytes` }]);
  }
  return stripMark(readFileSync(file, 'utf8'));
}

/** Reads FILE as JSON and then by `read`; throws InputRefused with every fault. */
export async function takeJson<T>(file: string, read: (value: unknown) => Read<T>): Promise<T> {
  const json = readJsonText(await takeText(file), LIMITS.jsonRequestBytes);
  if (!json.ok) throw new InputRefused(json.faults);
  return unwrap(read(json.value));
}

/** The catalogue of a path (JSON, JSON Lines or a folder); without one, the demo's. */
export function takeCatalogue(path: string | undefined): Catalogue {
  return unwrap(readCataloguePath(path ?? fileURLToPath(new URL('../../demo-catalog', import.meta.url))));
}

function unwrap<T>(read: Read<T>): T {
  if (!read.ok) throw new InputRefused(read.faults);
  return read.value;
}

const stripMark = (words: string): string => words.replace(/^\uFEFF/, '');

async function takeStandardInput(): Promise<string> {
  const chunks: Buffer[] = [];
  let bytes = 0;
  for await (const chunk of process.stdin as AsyncIterable<Buffer>) {
    bytes += chunk.length;
    // Kept reading would only fill the memory: the limit is passed already.
    if (bytes > LIMITS.jsonRequestBytes) throw new InputRefused([{ path: '', found: `more than ${LIMITS.jsonRequestBytes} bytes`, want: `at most ${LIMITS.jsonRequestBytes} bytes` }]);
    chunks.push(chunk);
  }
  return Buffer.concat(chunks).toString('utf8');
}
