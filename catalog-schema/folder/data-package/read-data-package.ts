import { parse } from 'csv-parse/sync';
import { readJsonText, type InputFault, type Read } from '../../input-fault.ts';
import { LIMITS } from '../../limits.ts';
import { describeTables, KEY_COLUMNS, type Column, type Table } from './tables.ts';
import { DESCRIPTOR } from './write-data-package.ts';

type Row = Record<string, unknown>;
interface Cell { readonly text: string; readonly quoted: boolean }

/**
 * The parts of a tabular data package with the tables of `writeDataPackage`, unchecked but for what the tables themselves say; columns may stand in any order.
 * `readFile` gives a file of the package, undefined where there is none.
 */
export function readDataPackage(readFile: (name: string) => string | undefined): Read<unknown[]> {
  const faults: InputFault[] = [];
  const paths = readPaths(readFile(DESCRIPTOR) ?? '');
  if (!paths.ok) return paths;
  const tables = describeTables();
  const rowsOf = new Map<Table, { row: Row; partId: string; line: number }[]>();
  for (const table of tables) {
    const path = paths.value.get(table.name);
    const csv = path === undefined ? undefined : readFile(path);
    if (csv === undefined) faults.push({ path: table.name, found: path === undefined ? `no resource ${table.name}` : `no file ${JSON.stringify(path)}`, want: `the table ${table.name}` });
    else rowsOf.set(table, readRows(table, csv, faults));
  }
  if (faults.length > 0) return { ok: false, faults: faults.slice(0, LIMITS.faultsListed) };
  const [partsTable, ...others] = tables;
  const parts = rowsOf.get(partsTable!)!.map(({ row }) => row);
  for (const table of others) joinRows(table, rowsOf.get(table)!, parts, faults);
  return faults.length > 0 ? { ok: false, faults: faults.slice(0, LIMITS.faultsListed) } : { ok: true, value: parts };
}

function readPaths(descriptor: string): Read<Map<string, string>> {
  const json = readJsonText(descriptor, LIMITS.jsonRequestBytes);
  if (!json.ok) return json;
  const resources = (json.value as { resources?: unknown } | null)?.resources;
  if (!Array.isArray(resources)) return { ok: false, faults: [{ path: 'resources', found: 'no list', want: 'the resources of a data package' }] };
  const paths = new Map<string, string>();
  for (const each of resources as ({ name?: unknown; path?: unknown } | null)[]) {
    // A path that leads out of the folder is no file of the package.
    if (typeof each?.name === 'string' && typeof each.path === 'string' && !/^[/\\]|\.\.|:/.test(each.path)) paths.set(each.name, each.path);
  }
  return { ok: true, value: paths };
}

function readRows({ name, of, columns }: Table, csv: string, faults: InputFault[]): { row: Row; partId: string; line: number }[] {
  const cells: Cell[][] = [];
  try {
    parse(csv, {
      bom: true, relax_column_count: true, skip_empty_lines: true,
      cast: (text, { quoting }): unknown => ({ text, quoted: quoting }),
      on_record: (record: unknown): null => {
        cells.push(record as Cell[]);
        return null;
      },
    });
  } catch (error) {
    faults.push({ path: name, found: error instanceof Error ? error.message : String(error), want: 'comma-separated values' });
    return [];
  }
  const header = (cells[0] ?? []).map(({ text }) => text);
  const wanted = new Map<string, Column>([...(of === '' ? [] : [[KEY_COLUMNS.part, KEY], [KEY_COLUMNS.position, PLACE]] as const), ...columns.map((column) => [column.name, column] as const)]);
  for (const column of wanted.keys()) if (!header.includes(column)) faults.push({ path: name, found: `no column ${column}`, want: 'the columns of its schema' });
  for (const column of header) if (!wanted.has(column)) faults.push({ path: name, found: `a column ${JSON.stringify(column)}`, want: 'the columns of its schema' });
  if (faults.length > 0) return [];
  return cells.slice(1).map((line, index) => {
    const row: Row = {};
    let partId = '';
    line.forEach((cell, at) => {
      const column = wanted.get(header[at] ?? '');
      if (!column || (cell.text === '' && !cell.quoted)) return;
      const value = readCell(column, cell.text);
      if (value === undefined) faults.push({ path: `${name}.${column.name}`, found: JSON.stringify(cell.text.slice(0, 60)), want: `a value of type ${column.type}`, fileLine: index + 2 });
      else if (column === KEY) partId = cell.text;
      else setAt(row, column, value);
    });
    return { row, partId, line: index + 2 };
  });
}

const KEY: Column = { name: KEY_COLUMNS.part, type: 'string', constraints: {} };
const PLACE: Column = { name: KEY_COLUMNS.position, type: 'integer', constraints: {} };

/** undefined for a text that is no value of the column's type. */
function readCell({ type }: Column, text: string): unknown {
  switch (type) {
    case 'string': return text;
    case 'boolean': return text === 'true' ? true : text === 'false' ? false : undefined;
    case 'number': case 'integer': return /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/.test(text) ? Number(text) : undefined;
    case 'array': {
      const json = readJsonText(text, LIMITS.jsonRequestBytes);
      return json.ok && Array.isArray(json.value) ? json.value : undefined;
    }
    default: return type satisfies never;
  }
}

function setAt(row: Row, { name, stands }: Column, value: unknown): void {
  const keys = name.split('.');
  let at = row;
  for (const key of keys.slice(0, -1)) at = (at[key] ??= {}) as Row;
  const last = keys.at(-1)!;
  if (stands === 'object') {
    if (value === true) at[last] ??= {};
  } else at[last] = value;
}

/** Puts the rows of a table into their parts, in order of position; the part says how many there are. */
function joinRows({ name, of }: Table, rows: readonly { row: Row; partId: string; line: number }[], parts: readonly Row[], faults: InputFault[]): void {
  const byPart = new Map<string, { row: Row; line: number }[]>();
  for (const each of rows) byPart.set(each.partId, [...byPart.get(each.partId) ?? [], each]);
  const ids = new Set(parts.map(({ id }) => id));
  for (const { partId, line } of rows) if (!ids.has(partId)) faults.push({ path: `${name}.${KEY_COLUMNS.part}`, found: JSON.stringify(partId), want: 'the id of a row of parts', fileLine: line });
  for (const part of parts) {
    const own = (byPart.get(String(part['id'])) ?? []).toSorted((a, b) => Number(a.row[KEY_COLUMNS.position]) - Number(b.row[KEY_COLUMNS.position]));
    const keys = of.split('.');
    let at: Row | undefined = part;
    for (const key of keys.slice(0, -1)) at = at?.[key] as Row | undefined;
    const said = at?.[keys.at(-1)!];
    if ((said ?? 0) !== own.length) faults.push({ path: `parts.${of}`, found: `${String(said ?? 'nothing')} for ${JSON.stringify(part['id'])}`, want: `${own.length}, the rows of ${name}` });
    else if (said !== undefined) at![keys.at(-1)!] = own.map(({ row: { [KEY_COLUMNS.position]: _position, ...row } }) => row);
  }
}
