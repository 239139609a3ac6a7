import { z } from 'zod';
import { partSchema } from '../../part.ts';

/** A column of a table, by where its value stands in the row's own object: 'duty.maxOnS'. */
export interface Column {
  readonly name: string;
  readonly type: 'string' | 'number' | 'integer' | 'boolean' | 'array';
  /** `boolean`: whether the object of that name is there at all; `count`: how many rows another table has of it */
  readonly stands?: 'object' | 'count';
  readonly constraints: Readonly<Record<string, unknown>>;
  readonly description?: string;
}

/** Parts themselves, or what a part has several of. */
export interface Table {
  readonly name: string;
  /** where the rows stand in a part: 'mounting.holes'; '' for the part itself */
  readonly of: string;
  readonly columns: readonly Column[];
}

/** Which part a row belongs to, and its place among the part's own. */
export const KEY_COLUMNS = { part: 'partId', position: 'position' } as const;

interface Schema {
  readonly type?: string;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly required?: readonly string[];
  readonly items?: Schema;
  readonly anyOf?: readonly Schema[];
  readonly oneOf?: readonly Schema[];
  readonly const?: unknown;
  readonly enum?: readonly unknown[];
  readonly [key: string]: unknown;
}

/** The tables that a catalogue's parts come to, made of the same schema as everything else. */
export function describeTables(): Table[] {
  const tables: { name: string; of: string; columns: Column[] }[] = [];
  const begin = (name: string, of: string): Column[] => {
    const columns: Column[] = [];
    tables.push({ name, of, columns });
    return columns;
  };
  const walk = (schema: Schema, path: string, isRequired: boolean, columns: Column[]): void => {
    const variants = schema.anyOf ?? schema.oneOf;
    if (variants?.every((variant) => variant.properties)) {
      walk(mergeVariants(variants), path, isRequired, columns);
    } else if (schema.properties) {
      const required = new Set(schema.required ?? []);
      if (path !== '' && required.size === 0) columns.push({ name: path, type: 'boolean', stands: 'object', constraints: {} });
      for (const [key, each] of Object.entries(schema.properties)) walk(each, path === '' ? key : `${path}.${key}`, isRequired && required.has(key), columns);
    } else if (schema.type === 'array' && holdsObjects(schema.items)) {
      columns.push({ name: path, type: 'integer', stands: 'count', constraints: { minimum: 0, ...(isRequired ? { required: true } : {}) } });
      walk(schema.items!, '', true, begin(path.split('.').at(-1)!, path));
    } else {
      columns.push({ name: path, type: schema.type === 'array' ? 'array' : typeOf(schema), constraints: constraintsOf(schema, isRequired) });
    }
  };
  walk(z.toJSONSchema(partSchema, { unrepresentable: 'any' }) as Schema, '', true, begin('parts', ''));
  return tables;
}

function holdsObjects(items: Schema | undefined): boolean {
  return items !== undefined && (items.properties !== undefined || (items.anyOf ?? items.oneOf ?? []).some((variant) => variant.properties));
}

/** One object with the keys of all kinds; a key is required where each kind requires it. What differs between kinds is any of both. */
function mergeVariants(variants: readonly Schema[]): Schema {
  const properties: Record<string, Schema> = {};
  for (const variant of variants) {
    for (const [key, schema] of Object.entries(variant.properties!)) {
      const before = properties[key];
      const values = before && [...valuesOf(before), ...valuesOf(schema)];
      properties[key] = before && values!.length > 0 ? { type: 'string', enum: [...new Set(values)] } : before ?? schema;
    }
  }
  const required = Object.keys(properties).filter((key) => variants.every((variant) => variant.required?.includes(key)));
  return { type: 'object', properties, required };
}

function valuesOf(schema: Schema): readonly unknown[] {
  return schema.enum ?? (schema.const === undefined ? [] : [schema.const]);
}

function typeOf({ type }: Schema): Column['type'] {
  return type === 'number' || type === 'integer' || type === 'boolean' ? type : 'string';
}

/** Those that Table Schema has. Texts may be empty, which it takes for missing: only what cannot be empty is required of it. */
function constraintsOf(schema: Schema, isRequired: boolean): Record<string, unknown> {
  const values = valuesOf(schema);
  const isText = typeOf(schema) === 'string' && schema.type !== 'array';
  const mayBeEmpty = isText && values.length === 0 && !(typeof schema['minLength'] === 'number' && schema['minLength'] > 0);
  return {
    ...(isRequired && !mayBeEmpty ? { required: true } : {}), ...(values.length > 0 ? { enum: values } : {}),
    ...Object.fromEntries((['minimum', 'maximum', 'minLength', 'maxLength', 'pattern'] as const).flatMap((key) => {
      // The widest whole number says nothing.
      const value = schema[key];
      return value === undefined || value === Number.MAX_SAFE_INTEGER ? [] : [[key, value]];
    })),
  };
}
