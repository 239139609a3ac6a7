import { readFileSync, readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { renderJsonSchemas } from './json-schemas.ts';

const folder = new URL('./json-schemas/', import.meta.url);

describe('the JSON Schemas', () => {
  it('stand for every document and for nothing else', () => {
    expect(readdirSync(folder).toSorted()).toEqual([...renderJsonSchemas().keys()].toSorted());
  });

  it.each([...renderJsonSchemas()])('%s is fresh (npm run schemas writes it anew)', (name, rendered) => {
    expect(readFileSync(new URL(name, folder), 'utf8')).toBe(rendered);
  });

  it('carry units of the contract, bounds, whole numbers and closed objects', () => {
    const part = JSON.parse(renderJsonSchemas().get('part.schema.json')!) as { additionalProperties: boolean; properties: Record<string, { maxItems?: number }> };
    expect(part.additionalProperties).toBe(false);
    expect(part.properties['terminals']?.maxItems).toBe(16);
    const need = JSON.parse(renderJsonSchemas().get('need.schema.json')!) as { properties: { needs: { items: { properties: { qty: { type: string } } } } } };
    expect(need.properties.needs.items.properties.qty.type).toBe('integer');
  });
});
