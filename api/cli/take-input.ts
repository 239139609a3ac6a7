import { readFileSync, statSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Catalogue, Read } from '../../catalog-schema/index.ts';
import { LIMITS, readJsonText } from '../../catalog-schema/index.ts';
import { readCataloguePath } from '../../catalog-schema/folder/index.ts';
import { openSnapshot, writeSnapshot, type Snapshot } from '../engine/index.ts';
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

/** Written by the `snapshot` command. */
export const SNAPSHOT_ENDING = '.snapshot';

/** The catalogue of a path, made ready for fits. A snapshot is opened as it is; from parts one is made. */
export function takeSnapshot(path: string | undefined): Snapshot {
  if (!path?.endsWith(SNAPSHOT_ENDING)) return unwrap(openSnapshot(writeSnapshot(takeCatalogue(path))));
  let bytes: Buffer;
  try {
    bytes = readFileSync(path);
  } catch {
    throw new InputRefused([{ path: '', found: `no file ${JSON.stringify(path)}`, want: 'a snapshot that can be read' }]);
  }
  const whole = bytes.byteOffset === 0 && bytes.byteLength === bytes.buffer.byteLength ? bytes.buffer : bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength);
  return unwrap(openSnapshot(whole as ArrayBuffer));
}

/** What a catalogue is searched from: a snapshot as it is, else the parts. */
export function takeCatalogueOrSnapshot(path: string | undefined): Catalogue | Snapshot {
  return path?.endsWith(SNAPSHOT_ENDING) ? takeSnapshot(path) : takeCatalogue(path);
}

/** The catalogue of a path (JSON, JSON Lines, a folder or a snapshot); without one, the demo's. */
export function takeCatalogue(path: string | undefined): Catalogue {
  if (path?.endsWith(SNAPSHOT_ENDING)) {
    const snapshot = takeSnapshot(path);
    return Array.from(snapshot.rowsById, (row) => snapshot.partAt(row));
  }
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
