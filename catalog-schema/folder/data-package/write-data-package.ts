import type { Catalogue } from '../../catalogue.ts';
import { describeTables, KEY_COLUMNS, type Column, type Table } from './tables.ts';

// A tabular data package (Frictionless Data, version 1 of Data Package and Table Schema; from memory): a descriptor and one CSV a table (RFC 4180).

export const DESCRIPTOR = 'datapackage.json';

/** The files of a package, by name. Reading them again gives parts deep-equal to these. */
export function writeDataPackage(catalogue: Catalogue, title: string): Map<string, string> {
  const tables = describeTables();
  const files = new Map([[DESCRIPTOR, `${JSON.stringify(describePackage(tables, title), null, 2)}\n`]]);
  for (const table of tables) files.set(`${table.name}.csv`, writeTable(table, catalogue));
  return files;
}

/** The descriptor alone: what each column of each table means. */
function describePackage(tables: readonly Table[], title: string): object {
  return {
    profile: 'tabular-data-package', name: 'catalogue', title,
    resources: tables.map(({ name, of, columns }) => ({
      profile: 'tabular-data-resource', name, path: `${name}.csv`, format: 'csv', mediatype: 'text/csv', encoding: 'utf-8',
      dialect: { delimiter: ',', quoteChar: '"', doubleQuote: true, lineTerminator: '\r\n', header: true },
      schema: {
        fields: [...(of === '' ? [] : keyFields()), ...columns.map(describeField)],
        missingValues: [''],
        ...(of === '' ? { primaryKey: 'id' } : {
          primaryKey: [KEY_COLUMNS.part, KEY_COLUMNS.position], foreignKeys: [{ fields: KEY_COLUMNS.part, reference: { resource: 'parts', fields: 'id' } }],
        }),
      },
    })),
  };
}

function keyFields(): object[] {
  return [
    { name: KEY_COLUMNS.part, type: 'string', constraints: { required: true } },
    { name: KEY_COLUMNS.position, type: 'integer', constraints: { required: true, minimum: 0 }, description: 'its place among the rows of this part, from 0' },
  ];
}

function describeField({ name, type, stands, constraints }: Column): object {
  const description = stands === 'count' ? `how many rows of ${name} the part has; empty: it does not say` : stands === 'object' ? `whether the part says anything of ${name}` : undefined;
  return { name, type, ...(Object.keys(constraints).length === 0 ? {} : { constraints }), ...(description === undefined ? {} : { description }) };
}

function writeTable({ of, columns }: Table, catalogue: Catalogue): string {
  const header = [...(of === '' ? [] : [KEY_COLUMNS.part, KEY_COLUMNS.position]), ...columns.map(({ name }) => name)];
  const lines = [header.join(',')];
  for (const part of catalogue) {
    const rows = of === '' ? [part] : (valueAt(part, of) as readonly unknown[] | undefined) ?? [];
    rows.forEach((row, position) => {
      lines.push([...(of === '' ? [] : [writeText(part.id), String(position)]), ...columns.map((column) => writeCell(column, valueAt(row, column.name)))].join(','));
    });
  }
  return `${lines.join('\r\n')}\r\n`;
}

function valueAt(row: unknown, path: string): unknown {
  let value = row;
  for (const key of path.split('.')) value = (value as Record<string, unknown> | undefined)?.[key];
  return value;
}

function writeCell({ type, stands }: Column, value: unknown): string {
  if (stands === 'object') return value === undefined ? '' : 'true';
  if (value === undefined) return '';
  if (stands === 'count') return String((value as readonly unknown[]).length);
  if (type === 'array') return writeText(JSON.stringify(value));
  if (typeof value === 'string') return writeText(value);
  return Object.is(value, -0) ? '-0' : String(value);
}

/** A text that is there and empty is written in quotes, one that is not there as nothing. */
function writeText(text: string): string {
  return text === '' || /[",\r\n]|^\s|\s$/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
