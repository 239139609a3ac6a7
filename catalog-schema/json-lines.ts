// Where in a text of JSON something stands. Read only once something is known to be wrong: JSON.parse is faster and says less.

// eslint-disable-next-line no-control-regex -- the ones that JSON forbids within a text
const TOKEN = /[ \t\r\n]*(?:("(?:[^"\\\u0000-\u001f]|\\(?:["\\/bfnrt]|u[\da-fA-F]{4}))*")|(-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?|true|false|null)|([[\]{},:])|($))/y;

type Container = { readonly kind: 'list'; index: number } | { readonly kind: 'object'; key: string };

/** What may stand at a place of a JSON text. */
type Expected = 'value' | 'value-or-end' | 'key' | 'key-or-end' | 'colon' | 'comma-or-end' | 'nothing';

interface Walk {
  /** told of each value: the path to it, and where in the text it begins */
  readonly value: (containers: readonly Container[], at: number) => void;
}

/** The line of a text of JSON, counted from 1, at which it stops being JSON; undefined where it is. */
export function findJsonFaultLine(jsonText: string): number | undefined {
  const at = walkJson(jsonText, { value: () => undefined });
  return at === undefined ? undefined : lineAt(jsonText, at);
}

/**
 * The lines at which values begin, by their paths as faults print them. Of a path that leads to nothing, the line of the nearest value
 * above it, short of the whole. Paths that lead nowhere at all are left out.
 */
export function findJsonLines(jsonText: string, paths: readonly string[]): ReadonlyMap<string, number> {
  const wanted = new Map<string, number | undefined>();
  for (const path of paths) for (let above: string | undefined = path; above !== undefined; above = cutPath(above)) wanted.set(above, undefined);
  walkJson(jsonText, {
    value: (containers, at) => {
      const path = writePath(containers);
      if (wanted.has(path) && wanted.get(path) === undefined) wanted.set(path, at);
    },
  });
  const lines = new Map<string, number>();
  for (const path of paths) {
    for (let above: string | undefined = path; above !== undefined; above = cutPath(above)) {
      const at = above === '' && path !== '' ? undefined : wanted.get(above);
      if (at === undefined) continue;
      lines.set(path, lineAt(jsonText, at));
      break;
    }
  }
  return lines;
}

/** @returns where the text stops being JSON; undefined where it does not. */
function walkJson(jsonText: string, walk: Walk): number | undefined {
  const containers: Container[] = [];
  let expected: Expected = 'value';
  let position = 0;
  for (;;) {
    TOKEN.lastIndex = position;
    const match = TOKEN.exec(jsonText);
    if (match === null) return skipSpace(jsonText, position);
    const [whole, string, scalar, mark] = match;
    const at = position + whole.length - (string ?? scalar ?? mark ?? '').length;
    position += whole.length;
    const next = advance(containers, expected, string, scalar, mark, () => walk.value(containers, at));
    if (next === 'fault') return at;
    if (next === 'end') return undefined;
    expected = next;
  }
}

function advance(
  containers: Container[], expected: Expected, string: string | undefined, scalar: string | undefined, mark: string | undefined, meet: () => void,
): Expected | 'fault' | 'end' {
  const inside = containers.at(-1);
  const after = (): Expected => (containers.length === 0 ? 'nothing' : 'comma-or-end');
  const wantsValue = expected === 'value' || expected === 'value-or-end';
  if (string !== undefined && (expected === 'key' || expected === 'key-or-end') && inside?.kind === 'object') {
    inside.key = JSON.parse(string) as string;
    return 'colon';
  }
  if (string !== undefined || scalar !== undefined) {
    if (!wantsValue) return 'fault';
    meet();
    return after();
  }
  switch (mark) {
    case '[': case '{':
      if (!wantsValue) return 'fault';
      meet();
      containers.push(mark === '[' ? { kind: 'list', index: 0 } : { kind: 'object', key: '' });
      return mark === '[' ? 'value-or-end' : 'key-or-end';
    case ']': case '}':
      if (inside?.kind !== (mark === ']' ? 'list' : 'object')) return 'fault';
      if (expected !== 'comma-or-end' && expected !== (mark === ']' ? 'value-or-end' : 'key-or-end')) return 'fault';
      containers.pop();
      return after();
    case ',':
      if (expected !== 'comma-or-end' || inside === undefined) return 'fault';
      if (inside.kind === 'object') return 'key';
      inside.index += 1;
      return 'value';
    case ':': return expected === 'colon' ? 'value' : 'fault';
    default: return expected === 'nothing' ? 'end' : 'fault';
  }
}

function skipSpace(jsonText: string, from: number): number {
  let at = from;
  while (at < jsonText.length && ' \t\r\n'.includes(jsonText[at]!)) at++;
  return at;
}

/** As `printPath` of the faults writes it. */
function writePath(containers: readonly Container[]): string {
  let written = '';
  for (const container of containers) {
    if (container.kind === 'list') written += `[${container.index}]`;
    else {
      const name = container.key.length > 60 ? `${container.key.slice(0, 57)}…` : container.key;
      const plain = /^[A-Za-z_$][\w$-]*…?$/.test(name) ? name : JSON.stringify(name);
      written += written === '' ? plain : `.${plain}`;
    }
  }
  return written;
}

/** The path one step up; undefined above the whole. */
function cutPath(path: string): string | undefined {
  if (path === '') return undefined;
  const step = /(?:^|\.)(?:"(?:[^"\\]|\\.)*"|[^.[\]"]+)$|\[\d+\]$/.exec(path);
  return step === null ? '' : path.slice(0, step.index);
}

function lineAt(jsonText: string, position: number): number {
  let line = 1;
  for (let at = jsonText.indexOf('\n'); at >= 0 && at < position; at = jsonText.indexOf('\n', at + 1)) line++;
  return line;
}
