import type { z } from 'zod';
import { LIMITS } from './limits.ts';

/** One thing wrong with an input. `path` is '' for the input as a whole. */
export interface InputFault {
  readonly path: string;
  readonly found: string;
  readonly want: string;
  /** for a catalogue: which part */
  readonly partIndex?: number;
  readonly partId?: string;
  /** of a file: the line where it stands, counted from 1 */
  readonly fileLine?: number;
}

export type Read<T> = { ok: true; value: T } | { ok: false; faults: InputFault[] };

/** Reads a value against a schema: the typed value, or every fault found (the first thousand). Never throws on bad input. */
export function readInput<T>(schema: z.ZodType<T>, input: unknown): Read<T> {
  const hazards = findHazards(input);
  if (hazards.length > 0) return { ok: false, faults: hazards };
  const result = schema.safeParse(input, { reportInput: true });
  if (result.success) return { ok: true, value: result.data };
  return { ok: false, faults: limitFaults(removeRepeats(describeIssues(result.error.issues, input))) };
}

/**
 * What no schema may be shown: nesting so deep that reading it would exhaust the stack, and keys named __proto__, which
 * JavaScript could mistake for an object's ancestor.
 */
function findHazards(input: unknown): InputFault[] {
  const faults: InputFault[] = [];
  const path: PropertyKey[] = [];
  // Answers whether to go on; a text can hold millions of hazards.
  const walk = (value: unknown): boolean => {
    if (typeof value !== 'object' || value === null) return true;
    if (path.length >= LIMITS.nestingDepth) {
      faults.push({ path: printPath(path.slice(0, 4)), found: `lists or objects nested more than ${LIMITS.nestingDepth} deep`, want: `at most ${LIMITS.nestingDepth} levels` });
      return false;
    }
    for (const key of Object.keys(value)) {
      const inner = (value as Record<string, unknown>)[key];
      if (key !== '__proto__' && (typeof inner !== 'object' || inner === null)) continue;
      path.push(Array.isArray(value) ? Number(key) : key);
      if (key === '__proto__') faults.push({ path: printPath(path), found: 'a key that is not known', want: 'it left out' });
      const goOn = key === '__proto__' || walk(inner);
      path.pop();
      if (!goOn || faults.length >= LIMITS.faultsListed) return false;
    }
    return true;
  };
  walk(input);
  return removeRepeats(faults);
}

/** One fault each: two checks may say the same of one place. */
function removeRepeats(faults: readonly InputFault[]): InputFault[] {
  const seen = new Set<string>();
  return faults.filter((fault) => {
    const line = printFault(fault);
    return !seen.has(line) && seen.add(line);
  });
}

/** A million faults help nobody: the first ones, those about sizes before the rest, and a line that says how many are not shown. */
function limitFaults(faults: InputFault[]): InputFault[] {
  if (faults.length <= LIMITS.faultsListed) return faults;
  const sizes = faults.filter((fault) => fault.want.startsWith('at most'));
  const shown = [...sizes, ...faults.filter((fault) => !fault.want.startsWith('at most'))].slice(0, LIMITS.faultsListed);
  return [...shown, { path: '', found: `${faults.length - shown.length} more faults`, want: 'the ones above mended first' }];
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
  const line = fault.fileLine === undefined ? '' : ` (line ${fault.fileLine})`;
  return oneLine(`${where}${part}${line}: found ${fault.found}, want ${fault.want}`);
}

/** Adds the part's index and id to faults whose path starts with an index into a catalogue, and puts them in the order of the parts. */
export function nameParts(faults: readonly InputFault[], catalogue: unknown): InputFault[] {
  if (!Array.isArray(catalogue)) return [...faults];
  return faults.map((fault) => {
    const match = /^\[(\d+)\]/.exec(fault.path);
    if (!match) return fault;
    const partIndex = Number(match[1]);
    const id: unknown = (catalogue[partIndex] as { id?: unknown } | null | undefined)?.id;
    return { ...fault, partIndex, partId: typeof id === 'string' ? id.slice(0, 80) : '' };
  }).toSorted((a, b) => (a.partIndex ?? -1) - (b.partIndex ?? -1));
}

type Issue = z.core.$ZodIssue;

function describeIssues(issues: readonly Issue[], input: unknown): InputFault[] {
  return issues.flatMap((issue) => describeIssue(issue, issue.path, input));
}

function describeIssue(issue: Issue, path: readonly PropertyKey[], input: unknown): InputFault[] {
  const fault = (found: unknown, want: string, at: readonly PropertyKey[] = path): InputFault[] =>
    [{ path: printPath(at), found: printFound(found), want }];
  const found = valueAt(input, path);

  const said = fromMessage(issue.message);
  if (said !== undefined && issue.code !== 'custom' && issue.code !== 'invalid_union') return fault(sized(found, 'origin' in issue ? String(issue.origin) : ''), said);

  switch (issue.code) {
    case 'unrecognized_keys':
      return issue.keys.flatMap((key) => [{ path: printPath([...path, key]), found: 'a key that is not known', want: 'it left out' }]);
    case 'invalid_type':
      return fault(found, typeof found === 'number' && !Number.isFinite(found) ? 'a finite number' : describeType(issue.expected));
    case 'not_multiple_of':
      return fault(found, issue.divisor === 1 ? 'a whole number' : `a multiple of ${issue.divisor}`);
    case 'invalid_key':
      return fault(path.at(-1), 'a key of 1 to 2000 characters');
    case 'too_small':
    case 'too_big':
      return fault(sized(found, issue.origin), describeBound(issue));
    case 'invalid_value':
      return fault(found, issue.values.length === 1 ? JSON.stringify(issue.values[0]) : `one of ${issue.values.map((v) => JSON.stringify(v)).join(', ')}`);
    case 'invalid_union':
      return describeUnion(issue, path, input, found);
    case 'invalid_format':
      return fault(found, describeFormat(issue.format));
    case 'custom':
      return fault(issue.input ?? found, said ?? issue.message);
    default:
      return fault(found, issue.message);
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

function describeFormat(format: string): string {
  switch (format) {
    case 'date': return 'a day that exists, YYYY-MM-DD';
    case 'datetime': return 'a date and time such as 2026-03-01T09:30:00Z';
    case 'uuid': return 'a UUID';
    default: return `a ${format}`;
  }
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
  if (issue.origin === 'string') return `${small ? 'at least' : 'at most'} ${count(Number(limit), 'character')}`;
  if (issue.origin === 'array') return `${issue.exact ? 'exactly' : small ? 'at least' : 'at most'} ${count(Number(limit), 'entry')}`;
  if (small) return issue.inclusive ? `a number of at least ${limit}` : `a number above ${limit}`;
  return issue.inclusive ? `a number of at most ${limit}` : `a number below ${limit}`;
}

function sized(found: unknown, origin: string): unknown {
  if (origin === 'array' && Array.isArray(found)) return new Size(count(found.length, 'entry'));
  if (origin === 'string' && typeof found === 'string' && found.length > 40) return new Size(count(found.length, 'character'));
  return found;
}

function count(number: number, what: 'entry' | 'character'): string {
  if (number === 1) return `1 ${what}`;
  return `${number} ${what === 'entry' ? 'entries' : 'characters'}`;
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
      const whole = String(step);
      const name = whole.length > 60 ? `${whole.slice(0, 57)}…` : whole;
      const plain = /^[A-Za-z_$][\w$-]*…?$/.test(name) ? name : JSON.stringify(name);
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
