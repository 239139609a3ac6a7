import { mkdirSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { renderJsonSchemas } from './json-schemas.ts';

// Writes json-schemas/ anew; a file whose document is gone goes with it.
const folder = new URL('./json-schemas/', import.meta.url);
mkdirSync(folder, { recursive: true });
const rendered = renderJsonSchemas();
for (const name of readdirSync(folder)) if (!rendered.has(name)) rmSync(new URL(name, folder));
for (const [name, schemaText] of rendered) writeFileSync(new URL(name, folder), schemaText);
