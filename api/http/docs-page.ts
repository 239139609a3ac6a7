import { html } from 'hono/html';
import type { ApiDocument } from './open-api.ts';
import { PROBLEMS } from './problem.ts';

// The OpenAPI document written out for a person. Everything on the page comes from the document itself.

type Html = ReturnType<typeof html>;
type OpenApi = ReturnType<ApiDocument['write']>;
type Schema = Record<string, unknown>;

export function writeDocsPage(document: OpenApi): Html {
  const operations = Object.entries(document.paths ?? {}).flatMap(([path, item]) => (
    Object.entries(item as Record<string, Operation>).map(([method, operation]) => ({ path, method: method.toUpperCase(), operation }))
  ));
  const schemas = Object.entries(document.components?.schemas ?? {}) as [string, Schema][];
  return html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>The interface of ${document.info.title}</title>
<link rel="stylesheet" href="/api/docs/style.css">
</head>
<body>
<main>
<h1>The interface of ${document.info.title}</h1>
<p>${document.info.description}</p>
<p>For programs: <a href="/api/openapi.json">/api/openapi.json</a> (OpenAPI ${document.openapi}).</p>
<h2>What can be asked</h2>
${operations.map(writeOperation)}
<h2>How it says no</h2>
<p>Answers of type <code>application/problem+json</code> (RFC 9457), shaped as <a href="#schema-Problem">Problem</a>.</p>
<table><thead><tr><th>status</th><th>type</th><th>meaning</th></tr></thead><tbody>
${Object.entries(PROBLEMS).map(([code, { status, title }]) => html`<tr id="problem-${code}"><td>${status}</td><td><code>${code}</code></td><td>${title}</td></tr>`)}
</tbody></table>
<h2>Shapes</h2>
${schemas.map(([name, schema]) => html`<section id="schema-${name}"><h3>${name}</h3>${writeSchema(schema)}</section>`)}
</main>
</body>
</html>`;
}

interface Operation {
  summary?: string;
  parameters?: { name: string; in: string; required?: boolean; schema?: Schema }[];
  requestBody?: { content: Record<string, { schema?: Schema }> };
  responses: Record<string, { description: string; content?: Record<string, { schema?: Schema }> }>;
}

function writeOperation({ path, method, operation }: { path: string; method: string; operation: Operation }): Html {
  const body = Object.values(operation.requestBody?.content ?? {})[0]?.schema;
  return html`<section class="operation"><h3><code>${method} ${path}</code></h3>
<p>${operation.summary ?? ''}</p>
<dl>
${(operation.parameters ?? []).map((parameter) => html`<dt><code>${parameter.name}</code></dt><dd>in the ${parameter.in}${parameter.required ? '' : ', may be left out'}: ${writeType(parameter.schema ?? {})}</dd>`)}
${body ? html`<dt>body</dt><dd>${writeType(body)}</dd>` : ''}
${Object.entries(operation.responses).map(([status, answer]) => {
    const schema = Object.values(answer.content ?? {})[0]?.schema;
    return html`<dt>${status}</dt><dd>${answer.description}${schema ? html`: ${writeType(schema)}` : ''}</dd>`;
  })}
</dl></section>`;
}

function writeSchema(schema: Schema): Html {
  const properties = Object.entries((schema['properties'] ?? {}) as Record<string, Schema>);
  if (properties.length === 0) return html`<p>${writeType(schema)}</p>`;
  const required = new Set((schema['required'] ?? []) as string[]);
  return html`<table><thead><tr><th>key</th><th>what it holds</th></tr></thead><tbody>
${properties.map(([name, property]) => html`<tr><td><code>${name}${required.has(name) ? '' : '?'}</code></td><td>${writeType(property)}</td></tr>`)}
</tbody></table>`;
}

/** A schema in words: `a list of Part, at most 16`. Objects inside are written out in place. */
function writeType(schema: Schema): Html {
  const reference = schema['$ref'];
  if (typeof reference === 'string') {
    const name = reference.slice(reference.lastIndexOf('/') + 1);
    return html`<a href="#schema-${name}">${name}</a>`;
  }
  const choices = schema['anyOf'] ?? schema['oneOf'];
  if (Array.isArray(choices)) return html`${choices.map((choice, index) => html`${index === 0 ? '' : ' or '}${writeType(choice as Schema)}`)}`;
  if (Array.isArray(schema['enum'])) return html`${(schema['enum'] as unknown[]).map((value, index) => html`${index === 0 ? '' : ' | '}<code>${JSON.stringify(value)}</code>`)}`;
  if ('const' in schema) return html`<code>${JSON.stringify(schema['const'])}</code>`;
  const type = schema['type'];
  if (Array.isArray(type)) return html`${type.map((each, index) => html`${index === 0 ? '' : ' or '}${writeType({ ...schema, type: each as string })}`)}`;
  switch (type) {
    case 'array': return writeList(schema);
    case 'object': return writeObject(schema);
    case 'integer': return html`a whole number${writeBounds(schema)}`;
    case 'number': return html`a number${writeBounds(schema)}`;
    case 'string': return html`${nameText(schema)}`;
    case 'boolean': return html`true or false`;
    case 'null': return html`<code>null</code>`;
    default: return html`any JSON`;
  }
}

function writeList(schema: Schema): Html {
  const places = schema['prefixItems'];
  if (Array.isArray(places)) return html`[${places.map((place, index) => html`${index === 0 ? '' : ', '}${writeType(place as Schema)}`)}]`;
  const most = schema['maxItems'];
  return html`a list of ${writeType((schema['items'] ?? {}) as Schema)}${typeof most === 'number' ? `, at most ${most}` : ''}`;
}

function writeObject(schema: Schema): Html {
  if (Object.keys((schema['properties'] ?? {}) as Schema).length > 0) return writeSchema(schema);
  const values = schema['additionalProperties'];
  return typeof values === 'object' && values !== null && Object.keys(values).length > 0
    ? html`an object by name of ${writeType(values as Schema)}` : html`an object`;
}

function nameText(schema: Schema): string {
  switch (schema['format']) {
    case 'uuid': return 'a UUID';
    case 'date': return 'a day, YYYY-MM-DD';
    case 'binary': return 'the bytes of a picture';
    case 'date-time': return 'a moment in UTC, ISO 8601';
    default: return 'text';
  }
}

function writeBounds(schema: Schema): string {
  const words: string[] = [];
  if (typeof schema['exclusiveMinimum'] === 'number') words.push(`above ${schema['exclusiveMinimum']}`);
  if (typeof schema['minimum'] === 'number' && schema['minimum'] !== Number.MIN_SAFE_INTEGER) words.push(`at least ${schema['minimum']}`);
  if (typeof schema['maximum'] === 'number' && schema['maximum'] !== Number.MAX_SAFE_INTEGER) words.push(`at most ${schema['maximum']}`);
  return words.length === 0 ? '' : ` ${words.join(' and ')}`;
}

/** The page's whole style; it is served on its own because the pages of this server allow no style inside. */
export const DOCS_STYLE = `:root { color-scheme: light dark; }
body { margin: 0; font: 1rem/1.5 system-ui, sans-serif; color: light-dark(#1d2227, #e8eef2); background: light-dark(#fbf8f1, #12263a); }
main { max-width: 60rem; margin: 0 auto; padding: 1rem; }
a { color: inherit; }
h2 { border-bottom: 1px solid; margin-top: 2.5rem; }
h3 { margin: 1.75rem 0 .25rem; }
code { font-family: ui-monospace, monospace; overflow-wrap: anywhere; }
table { border-collapse: collapse; width: 100%; margin: .25rem 0; }
th, td { text-align: left; vertical-align: top; border-top: 1px solid color-mix(in srgb, currentcolor 30%, transparent); padding: .25rem .75rem .25rem 0; }
td table { font-size: .95em; }
dl { display: grid; grid-template-columns: minmax(4rem, max-content) 1fr; gap: .15rem 1rem; margin: .25rem 0; }
dd { margin: 0; }
:target { outline: 2px solid; outline-offset: .25rem; }
`;
