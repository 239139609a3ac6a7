import { existsSync, readFileSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { readCatalogue, type Catalogue } from '../catalogue.ts';
import { readJsonText, type InputFault, type Read } from '../input-fault.ts';
import { LIMITS } from '../limits.ts';
import { readDataPackage } from './data-package/read-data-package.ts';
import { DESCRIPTOR } from './data-package/write-data-package.ts';

/**
 * Reads a catalogue from disk: a JSON array of parts, JSON Lines (`.jsonl`, `.ndjson`: a part a line),
 * a folder laid out as `demo-catalog/` (every `parts/*.json` in the order of their names, joined), or one that is a tabular data package (`datapackage.json`).
 * Faults carry the part's index in the joined list and its id. A path that is not there is a fault of the input.
 */
export function readCataloguePath(path: string): Read<Catalogue> {
  const joined = readPartsPath(path);
  return joined.ok ? readCatalogue(joined.value) : joined;
}

/** The parts of a path as they stand, joined and unchecked. */
export function readPartsPath(path: string): Read<unknown[]> {
  let isFolder: boolean;
  try {
    isFolder = statSync(path).isDirectory();
  } catch {
    return refuse(`no file or folder ${JSON.stringify(path)}`, 'a catalogue: a JSON file, JSON Lines, or a folder with parts/');
  }
  return isFolder ? readFolder(path) : readFile(path);
}

function readFolder(folder: string): Read<unknown[]> {
  if (existsSync(join(folder, DESCRIPTOR))) return readDataPackage((name) => readTextIn(folder, name));
  let names: string[];
  try {
    names = readdirSync(join(folder, 'parts')).filter((name) => name.endsWith('.json')).toSorted();
  } catch {
    return refuse(`a folder without parts/ (${JSON.stringify(folder)})`, 'a folder laid out as demo-catalog/');
  }
  const parts: unknown[] = [];
  const faults: InputFault[] = [];
  for (const name of names) {
    const file = readFile(join(folder, 'parts', name));
    // One by one: a call takes no list of a hundred thousand arguments.
    if (file.ok) for (const part of file.value) parts.push(part);
    else faults.push(...file.faults);
  }
  return faults.length > 0 ? { ok: false, faults } : { ok: true, value: parts };
}

function readFile(path: string): Read<unknown[]> {
  if (statSync(path).size > LIMITS.catalogueFileBytes) {
    return refuse(`${statSync(path).size} bytes in ${JSON.stringify(path)}`, `at most ${LIMITS.catalogueFileBytes} bytes; larger ones as a folder`);
  }
  const fileText = readFileSync(path, 'utf8').replace(/^\uFEFF/, '');
  if (/\.(jsonl|ndjson)$/i.test(path)) return readLines(fileText, path);
  const json = readJsonText(fileText, LIMITS.catalogueFileBytes);
  if (!json.ok) return { ok: false, faults: json.faults.map((fault) => ({ ...fault, found: `${fault.found} in ${JSON.stringify(path)}` })) };
  if (!Array.isArray(json.value)) return refuse(`${json.value === null ? 'null' : typeof json.value} in ${JSON.stringify(path)}`, 'a list of parts');
  return { ok: true, value: json.value };
}

function readTextIn(folder: string, name: string): string | undefined {
  const path = join(folder, name);
  return existsSync(path) && statSync(path).isFile() ? readFileSync(path, 'utf8').replace(/^\uFEFF/, '') : undefined;
}

function readLines(fileText: string, path: string): Read<unknown[]> {
  const parts: unknown[] = [];
  const faults: InputFault[] = [];
  fileText.split('\n').forEach((line, index) => {
    if (line.trim() === '') return;
    const json = readJsonText(line, LIMITS.catalogueFileBytes);
    if (json.ok) parts.push(json.value);
    else faults.push(...json.faults.map((fault) => ({ ...fault, found: `${fault.found} in line ${index + 1} of ${JSON.stringify(path)}` })));
  });
  return faults.length > 0 ? { ok: false, faults } : { ok: true, value: parts };
}

function refuse(found: string, want: string): { ok: false; faults: InputFault[] } {
  return { ok: false, faults: [{ path: '', found, want }] };
}
