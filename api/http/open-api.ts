import { OpenAPIHono } from '@hono/zod-openapi';
import { z } from 'zod';
import { jobState } from '../../catalog-schema/index.ts';
import { NAMED_SCHEMAS } from './api-schemas.ts';
import { PROBLEMS, type ProblemCode } from './problem.ts';

/** What the document says of one route; the route itself stands beside it. */
export interface RouteWords {
  readonly method: 'get' | 'post' | 'patch' | 'delete';
  /** as OpenAPI writes it: `/api/jobs/{id}` */
  readonly path: string;
  readonly summary: string;
  readonly query?: z.ZodObject;
  readonly body?: z.ZodType;
  /** the JSON media type of the body, where it has one of its own */
  readonly bodyType?: string;
  /** a body of bytes, of one of these types, in place of JSON */
  readonly bytesIn?: readonly string[];
  /** null: an answer without a body, or of bytes of one of the types named; `type` is a JSON media type of its own */
  readonly answers: Readonly<Record<number, { readonly schema: z.ZodType | null; readonly what: string; readonly bytes?: readonly string[]; readonly type?: string }>>;
  readonly problems?: readonly ProblemCode[];
}

type JsonSchema = Record<string, unknown>;
const AT = '#/components/schemas/';

/** Collects what the routes say of themselves and writes it out as OpenAPI 3.1. */
export class ApiDocument {
  readonly #app = new OpenAPIHono();
  #written: ReturnType<OpenAPIHono['getOpenAPI31Document']> | undefined;

  /** @throws where a schema has no name in NAMED_SCHEMAS: a document of unnamed shapes cannot be read. */
  describe(route: RouteWords): void {
    const { query, body, bytesIn, bodyType = 'application/json' } = route;
    const pathNames = [...route.path.matchAll(/\{(\w+)\}/g)].map((match) => match[1]!);
    this.#app.openAPIRegistry.registerPath({
      method: route.method,
      path: route.path,
      summary: route.summary,
      parameters: [
        ...pathNames.map((name) => ({ name, in: 'path' as const, required: true, schema: { type: 'string' as const } })),
        ...Object.entries(query?.shape ?? {}).map(([name, schema]) => ({
          name, in: 'query' as const, required: !(schema as z.ZodType).safeParse(undefined).success, schema: writeInline(schema as z.ZodType),
        })),
      ],
      ...(body ? { request: { body: { required: true, content: { [bodyType]: { schema: refer(body) } } } } } : {}),
      ...(bytesIn ? { request: { body: { required: true, content: writeBytes(bytesIn) } } } : {}),
      responses: {
        ...Object.fromEntries(Object.entries(route.answers).map(([status, answer]) => [status, {
          description: answer.what,
          ...(answer.schema ? { content: { [answer.type ?? 'application/json']: { schema: refer(answer.schema) } } } : {}),
          ...(answer.bytes ? { content: writeBytes(answer.bytes) } : {}),
        }])),
        ...Object.fromEntries(problemsOf(route).map(([status, title]) => [status, {
          description: title,
          content: { 'application/problem+json': { schema: { $ref: `${AT}Problem` } } },
        }])),
      },
    });
  }

  /** The document, made when it is first asked for: a server that only serves does not pay for it at its start. */
  write(): ReturnType<OpenAPIHono['getOpenAPI31Document']> {
    this.#written ??= this.#make();
    return this.#written;
  }

  #make(): ReturnType<OpenAPIHono['getOpenAPI31Document']> {
    for (const [name, schema] of Object.entries(writeComponents())) {
      this.#app.openAPIRegistry.registerComponent('schemas', name, schema);
    }
    return this.#app.getOpenAPI31Document({
      openapi: '3.1.0',
      info: {
        title: 'lugwright', version: '0.1.0',
        description: 'Matching and ordering of parts for the bench where engines that will not crank are mended. '
          + 'Units stand in the names: V, A, Ohm, Mm, S (seconds), C (Celsius), Deg. '
          + 'While the server is open to the network, a request needs the cookie of a session (POST /api/session), or is made on the machine itself; '
          + 'then the author of what it says is the one who is signed in. '
          + 'Every answer that is not the one asked for is RFC 9457 problem details; a refused input has one entry in `faults` for each thing wrong.',
      },
    });
  }
}

/** What a route says no with, by status. All but the session itself want somebody signed in while the server is open to the network. */
function problemsOf({ path, problems = [] }: RouteWords): [status: number, title: string][] {
  const codes: ProblemCode[] = path === '/api/session' ? [...problems] : [...problems, 'signed-out'];
  const statuses = [...new Set(codes.map((code) => PROBLEMS[code].status))];
  return statuses.map((status) => [status, codes.filter((code) => PROBLEMS[code].status === status).map((code) => PROBLEMS[code].title).join('; or: ')]);
}

function writeComponents(): Record<string, JsonSchema> {
  const registry = z.registry<{ id: string }>();
  for (const [name, schema] of Object.entries(NAMED_SCHEMAS)) registry.add(schema, { id: name });
  const { schemas } = z.toJSONSchema(registry, {
    uri: (id) => `${AT}${id}`, unrepresentable: 'any', io: 'input',
    override: ({ zodSchema, jsonSchema }) => {
      // A job's record has been checked by a function, which JSON Schema cannot say; its shape is the bench record's.
      if (zodSchema === jobState.shape.record) jsonSchema.$ref = `${AT}BenchRecord`;
    },
  });
  return Object.fromEntries(Object.entries(schemas).map(([name, schema]) => {
    const { $schema: _dialect, $id: _id, ...rest } = schema as JsonSchema;
    return [name, rest];
  }));
}

/** As OpenAPI 3.1 writes bytes: a media type of its own and no schema that would say more. */
function writeBytes(types: readonly string[]): Record<string, { schema: JsonSchema }> {
  return Object.fromEntries(types.map((type) => [type, { schema: { type: 'string', format: 'binary' } }]));
}

function refer(schema: z.ZodType): JsonSchema {
  if (schema instanceof z.ZodArray) return { type: 'array', items: refer(schema.element as z.ZodType) };
  const name = Object.entries(NAMED_SCHEMAS).find(([, named]) => named === schema)?.[0];
  if (name === undefined) throw new Error('a route speaks of a schema that has no name in NAMED_SCHEMAS');
  return { $ref: `${AT}${name}` };
}

function writeInline(schema: z.ZodType): JsonSchema {
  const { $schema: _dialect, ...rest } = z.toJSONSchema(schema, { io: 'input' }) as JsonSchema;
  return rest;
}
