import type { z } from 'zod';

/** One thing wrong with an input. `path` is '' for the input as a whole. */
export interface InputFault {
  readonly path: string;
  readonly found: string;
  readonly want: string;
  /** for a catalogue: which part */
  readonly partIndex?: number;
  readonly partId?: string;
}

export type Read<T> = { ok: true; value: T } | { ok: false; faults: InputFault[] };

/** Reads a value against a schema: the typed value, or every fault found. Never throws on bad input. */
export function readInput<T>(schema: z.ZodType<T>, input: unknown): Read<T> {
  const result = schema.safeParse(input, { reportInput: true });
  if (result.success) return { ok: true, value: result.data };
  return { ok: false, faults: describeIssues(result.error.issues, input) };
}

/** Reads JSON text: a fault `input: …` where it is not JSON or larger than `maxBytes`. */
export function readJsonText(jsonText: string, maxBytes: number): Read<unknown> {
  const bytes = new TextEncoder().encode(jsonText).length;
  if (bytes > maxBytes) {
    return { ok: false, faults: [{ path: '', found: `${bytes} bytes`, want: `at most ${maxBytes} bytes` }] };
  }
  try {
    return { ok: true, value: JSON.parse(jsonText) };
  } catch {
    const start = jsonText.trim().slice(0, 40);
    return { ok: false, faults: [{ path: '', found: start === '' ? 'nothing' : `text that is not JSON (${JSON.stringify(start)})`, want: 'a JSON value' }] };
  }
}

/** `terminals[0].pitchMm: found -1, want a number above 0`; `input: …` for the input as a whole. */
export function printFault(fault: InputFault): string {
  const where = fault.path === '' ? 'input' : fault.path;
  const part = fault.partIndex === undefined || fault.partId === undefined ? '' : ` (part ${fault.partIndex}, id ${JSON.stringify(fault.partId)})`;
  return oneLine(`${where}${part}: found ${fault.found}, want ${fault.want}`);
}

/** Adds the part's index and id to faults whose path starts with an index into a catalogue. */
export function nameParts(faults: readonly InputFault[], catalogue: unknown): InputFault[] {
  if (!Array.isArray(catalogue)) return [...faults];
  return faults.map((fault) => {
    const match = /^\[(\d+)\]/.exec(fault.path);
    if (!match) return fault;
    const partIndex = Number(match[1]);
    const id: unknown = (catalogue[partIndex] as { id?: unknown } | null | undefined)?.id;
    return { ...fault, partIndex, partId: typeof id === 'string' ? id : '' };
  });
}

type Issue = z.core.$ZodIssue;

function describeIssues(issues: readonly Issue[], input: unknown): InputFault[] {
  return issues.flatMap((issue) => describeIssue(issue, issue.path, input));
}

function describeIssue(issue: Issue, path: readonly PropertyKey[], input: unknown): InputFault[] {
  const fault = (found: unknown, want: string, at: readonly PropertyKey[] = path): InputFault[] =>
    [{ path: printPath(at), found: printFound(found), want }];
  const found = valueAt(input, path);

  switch (issue.code) {
    case 'unrecognized_keys':
      return issue.keys.flatMap((key) => [{ path: printPath([...path, key]), found: 'a key that is not known', want: 'it left out' }]);
    case 'invalid_type':
      return fault(found, describeType(issue.expected));
    case 'too_small':
    case 'too_big':
      return fault(sized(found, issue.origin), describeBound(issue));
    case 'invalid_value':
      return fault(found, issue.values.length === 1 ? JSON.stringify(issue.values[0]) : `one of ${issue.values.map((v) => JSON.stringify(v)).join(', ')}`);
    case 'invalid_union':
      return describeUnion(issue, path, input, found);
    case 'invalid_format':
      return fault(found, fromMessage(issue.message) ?? (issue.format === 'date' ? 'a day that exists, YYYY-MM-DD' : `a ${issue.format}`));
    case 'custom':
      return fault(issue.input ?? found, fromMessage(issue.message) ?? issue.message);
    default:
      return fault(found, fromMessage(issue.message) ?? issue.message);
  }
}

/** A union is explained by the branch that got furthest into the value; where none got inside, by naming all of them. */
function describeUnion(
  issue: Extract<Issue, { code: 'invalid_union' }>, path: readonly PropertyKey[], input: unknown, found: unknown,
): InputFault[] {
  if (issue.errors.length === 0) {
    const options = 'options' in issue && Array.isArray(issue.options) ? ` (${issue.options.map((o) => JSON.stringify(o)).join(', ')})` : '';
    const name = 'discriminator' in issue && issue.discriminator ? issue.discriminator : 'kind';
    // Zod already points the path at the discriminator where there is an object to look into.
    const isObject = typeof found === 'object' && found !== null && !Array.isArray(found);
    return [{ path: printPath(path), found: printFound(found), want: isObject || path.at(-1) !== name ? `an object whose ${name} is known${options}` : `a known ${name}${options}` }];
  }
  const entered = issue.errors.filter((branch) => branch.length > 0 && branch.every((e) => e.path.length > 0 || (e.code !== 'invalid_type' && e.code !== 'invalid_value')));
  const best = entered.toSorted((a, b) => a.length - b.length)[0];
  if (best) return best.flatMap((inner) => describeIssue(inner, [...path, ...inner.path], input));
  return [{ path: printPath(path), found: printFound(found), want: fromMessage(issue.message) ?? 'another value' }];
}

function describeType(expected: string): string {
  switch (expected) {
    case 'int': return 'a whole number';
    case 'array': return 'a list';
    case 'object': case 'record': return 'an object';
    case 'tuple': return 'a list of two';
    case 'string': return 'text';
    case 'boolean': return 'true or false';
    case 'number': return 'a number';
    default: return `a ${expected}`;
  }
}

function describeBound(issue: Extract<Issue, { code: 'too_small' | 'too_big' }>): string {
  const small = issue.code === 'too_small';
  const limit = small ? issue.minimum : issue.maximum;
  if (issue.origin === 'string') return `${small ? 'at least' : 'at most'} ${limit} characters`;
  if (issue.origin === 'array') return `${issue.exact ? 'exactly' : small ? 'at least' : 'at most'} ${limit} entries`;
  if (small) return issue.inclusive ? `a number of at least ${limit}` : `a number above ${limit}`;
  return issue.inclusive ? `a number of at most ${limit}` : `a number below ${limit}`;
}

function sized(found: unknown, origin: string): unknown {
  if (origin === 'array' && Array.isArray(found)) return new Size(`${found.length} entries`);
  if (origin === 'string' && typeof found === 'string' && found.length > 40) return new Size(`${found.length} characters`);
  return found;
}

class Size {
  readonly words: string;
  constructor(words: string) { this.words = words; }
}

function printFound(found: unknown): string {
  if (found === undefined) return 'nothing';
  if (found instanceof Size) return found.words;
  if (typeof found === 'number') return String(found);
  if (Array.isArray(found)) return 'a list';
  if (typeof found === 'object' && found !== null) return 'an object';
  const printed = JSON.stringify(found);
  return printed.length > 60 ? `${printed.slice(0, 57)}…"` : printed;
}

function fromMessage(message: string): string | undefined {
  return message.startsWith('want:') ? message.slice('want:'.length) : undefined;
}

function printPath(path: readonly PropertyKey[]): string {
  let printed = '';
  for (const step of path) {
    if (typeof step === 'number') printed += `[${step}]`;
    else {
      const name = String(step);
      const plain = /^[A-Za-z_$][\w$-]*$/.test(name) ? name : JSON.stringify(name.length > 60 ? `${name.slice(0, 57)}…` : name);
      printed += printed === '' ? plain : `.${plain}`;
    }
  }
  return printed;
}

function valueAt(input: unknown, path: readonly PropertyKey[]): unknown {
  let value = input;
  for (const step of path) {
    if (typeof value !== 'object' || value === null) return undefined;
    value = (value as Record<PropertyKey, unknown>)[step];
  }
  return value;
}

function oneLine(words: string): string {
  return words.replace(/[\r\n\u2028\u2029]+/g, ' ');
}
