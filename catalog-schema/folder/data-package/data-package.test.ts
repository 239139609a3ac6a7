import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { readCatalogue, type Catalogue, type Part } from '../../index.ts';
import { readCataloguePath } from '../index.ts';
import { readDataPackage } from './read-data-package.ts';
import { describeTables } from './tables.ts';
import { DESCRIPTOR, writeDataPackage } from './write-data-package.ts';

const demo = readCataloguePath(fileURLToPath(new URL('../../../demo-catalog', import.meta.url)));
const readBack = (files: ReadonlyMap<string, string>) => readDataPackage((name) => files.get(name));

const odd: Part = {
  id: 'a,"b"\n', partClass: 'shift-solenoid', title: '', numbers: [{ issuer: '', number: ' 007 ' }, { issuer: 'Works', number: '1e5' }], replaces: [], supersededBy: ['b'],
  terminals: [{ id: 'true', form: 'stud', thread: 'M8x1.25', marking: '', at: { xMm: -0.5, yMm: 1e-7 } }, { id: 'S', form: 'tab', tabWidthMm: 6.3 }], inside: ['j'],
  circuit: [
    { kind: 'coil', id: 'h', between: ['S', 'case'], nominalV: 12, duty: { type: 'intermittent', maxOnS: 30 } }, { kind: 'coil', id: 'p', between: ['S', 'j'], nominalV: 12, duty: { type: 'continuous' } },
    { kind: 'contact', id: 'k', between: ['true', 'j'], form: 'NO', coils: ['h', 'p'], inrushA: 400 }, { kind: 'diode', from: 'j', to: 'true' }, { kind: 'motor', between: ['j', 'case'] },
  ],
  mounting: { holes: [], conductive: false }, starter: {}, ambientC: { min: -20, max: 60 },
};
const bare: Part = { id: 'b', partClass: 'contactor', title: 'Bare', terminals: [], circuit: [] };

describe('a catalogue as a tabular data package', () => {
  it('reads back as it was, part for part', () => {
    if (!demo.ok) throw new Error('the demo does not read');
    const catalogues: Catalogue[] = [demo.value, [odd, bare], []];
    for (const catalogue of catalogues) {
      expect(readCatalogue(catalogue).ok).toBe(true);
      expect(readBack(writeDataPackage(catalogue, 'Parts'))).toEqual({ ok: true, value: catalogue });
    }
  });

  it('describes every table and column, from the schema of a part', () => {
    const tables = describeTables();
    expect(tables.map(({ name }) => name)).toEqual(['parts', 'numbers', 'replaces', 'terminals', 'circuit', 'holes']);
    const files = writeDataPackage([odd], 'Parts');
    const { resources } = JSON.parse(files.get(DESCRIPTOR)!) as { resources: { name: string; path: string; schema: { fields: { name: string; type: string; constraints?: object }[] } }[] };
    for (const { path, schema } of resources) expect(files.get(path)!.split('\r\n', 1)[0]).toBe(schema.fields.map(({ name }) => name).join(','));
    const fieldsOf = (name: string) => resources.find((resource) => resource.name === name)!.schema.fields;
    expect(fieldsOf('circuit').find(({ name }) => name === 'kind')).toEqual({ name: 'kind', type: 'string', constraints: { required: true, enum: ['coil', 'contact', 'diode', 'resistor', 'motor'] } });
    expect(fieldsOf('terminals').find(({ name }) => name === 'at.xMm')).toEqual({ name: 'at.xMm', type: 'number' });
  });

  const change = (name: string, from: string, to: string): ReadonlyMap<string, string> => {
    const files = writeDataPackage([{ ...bare, numbers: [{ issuer: 'Works', number: 'N1' }] }], 'Parts');
    return new Map(files).set(name, files.get(name)!.replace(from, to));
  };
  it.each([
    ['a number that is none', 'numbers.csv', 'b,0', 'b,x', 'numbers.position (line 2)'], ['a row of a part that is not there', 'numbers.csv', 'b,0', 'c,0', 'numbers.partId (line 2)'],
    ['a column nobody knows', 'parts.csv', 'title', 'colour', 'parts: '], ['a quote that never ends', 'parts.csv', 'Bare', '"Bare', 'parts: '], ['rows that are missing', 'numbers.csv', 'b,0,Works,N1\r\n', '', 'parts.numbers'],
    ['a path out of the folder', 'datapackage.json', '"path": "parts.csv"', '"path": "../parts.csv"', 'parts: '], ['no JSON', 'datapackage.json', '{', '', 'input'],
  ])('refuses %s', (_, name, from, to, where) => {
    const read = readBack(change(name, from, to));
    expect(read.ok).toBe(false);
    const faults = read.ok ? [] : read.faults.map(({ path, fileLine }) => `${path === '' ? 'input' : path}${fileLine === undefined ? ': ' : ` (line ${fileLine})`}`);
    expect(faults.some((fault) => fault.startsWith(where))).toBe(true);
  });

  it('takes columns in any order', () => {
    const files = writeDataPackage([{ ...bare, numbers: [{ issuer: 'Works', number: 'N1' }] }], 'Parts');
    const turned = new Map(files).set('numbers.csv', 'number,issuer,position,partId\nN1,Works,0,b\n');
    expect(readBack(turned)).toEqual(readBack(files));
  });
});
