import type { Context, MiddlewareHandler } from 'hono';
import type { z } from 'zod';
import { LIMITS, readInput, readJsonText, type InputFault } from '../../catalog-schema/index.ts';
import { refuseInput, sendProblem } from './problem.ts';

/** Lists and objects inside one another; far above any record, far below what would exhaust the stack. */
const DEEPEST = 64;

type JsonInput<S extends z.ZodType> = { in: { json: z.input<S> }; out: { json: z.output<S> } };
type QueryInput<S extends z.ZodType> = { in: { query: z.input<S> }; out: { query: z.output<S> } };

/** Reads a JSON body against a schema of the contract; every fault is answered in the contract's words. */
export function readBody<S extends z.ZodType>(schema: S): MiddlewareHandler<object, string, JsonInput<S>> {
  return async (context, next) => {
    const type = context.req.header('content-type');
    // Anything else could be sent by a form of another site without the browser asking first.
    if (type === undefined || !/^application\/(?:[\w.+-]+\+)?json\s*(?:;|$)/i.test(type)) {
      return refuseWhole(context, type === undefined ? 'a body of no stated type' : JSON.stringify(type.slice(0, 60)), 'a body of type application/json');
    }
    const json = readJsonText(await context.req.text(), LIMITS.jsonRequestBytes);
    if (!json.ok) return sendProblem(context, refuseInput(json.faults));
    if (isDeeperThan(json.value, DEEPEST)) {
      return refuseWhole(context, `lists and objects more than ${DEEPEST} deep`, `at most ${DEEPEST}`);
    }
    const read = readInput(schema, json.value);
    if (!read.ok) return sendProblem(context, refuseInput(read.faults));
    context.req.addValidatedData('json', read.value as object);
    return next();
  };
}

/** Reads the query against a schema. A name given twice is refused. */
export function readQuery<S extends z.ZodType>(schema: S): MiddlewareHandler<object, string, QueryInput<S>> {
  return async (context, next) => {
    const faults: InputFault[] = [];
    const query: Record<string, string> = {};
    for (const [name, values] of Object.entries(context.req.queries())) {
      if (values.length > 1) faults.push({ path: name, found: `${values.length} values`, want: 'one' });
      Object.defineProperty(query, name, { value: values[0] ?? '', enumerable: true });
    }
    const read = readInput(schema, query);
    if (faults.length > 0 || !read.ok) return sendProblem(context, refuseInput([...faults, ...(read.ok ? [] : read.faults)]));
    context.req.addValidatedData('query', read.value as object);
    return next();
  };
}

export function refuseTooLarge(context: Context, most: number): Response {
  return refuseWhole(context, `more than ${most} bytes`, `at most ${most} bytes`);
}

/** One fault for the input as a whole. */
export function refuseWhole(context: Context, found: string, want: string): Response {
  return sendProblem(context, refuseInput([{ path: '', found, want }]));
}

function isDeeperThan(value: unknown, most: number): boolean {
  let level: unknown[] = [value];
  for (let depth = 0; level.length > 0; depth++) {
    if (depth > most) return true;
    level = level.flatMap((entry) => typeof entry === 'object' && entry !== null ? Object.values(entry) : [])
      .filter((entry) => typeof entry === 'object' && entry !== null);
  }
  return false;
}
