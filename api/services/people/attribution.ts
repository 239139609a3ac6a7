import type { JobEdit, JsonValue, OutcomeReport, StockMoveRequest } from '../../../catalog-schema/index.ts';
import { done, refuse, type Outcome } from '../outcome.ts';
import { writeNameKey } from './names-and-pins.ts';

// Who did something is what the session says, not what the request says: a name in a request is a claim.

type Tree = { [key: string]: JsonValue };
/** A name that an edit's value writes into the document: whose hand ticked a step, or signed. */
interface Claim { readonly place: string; readonly by: string; readonly at: JsonValue | undefined }

/**
 * Edits as the person signed in makes them: theirs is the author, and theirs the name on each tick and under the sign-off. An edit that
 * speaks in another's name is refused; only what somebody ticked before may be put back as it was, as undoing does.
 * @param readEarlier the job's log, asked for only where another's name is met
 */
export async function attributeEdits(edits: readonly JobEdit[], name: string, readEarlier: () => Promise<readonly JobEdit[]>): Promise<Outcome<JobEdit[]>> {
  const isMine = (claimed: string): boolean => writeNameKey(claimed) === writeNameKey(name);
  const strangers: { path: string; claim: Claim }[] = [];
  for (const [index, { author }] of edits.entries()) {
    if (author !== undefined && !isMine(author)) return refuseClaim(`edits[${index}].author`, author, name);
  }
  const signed = edits.map((edit, index): JobEdit => {
    const value = mapClaims(edit, (claim) => {
      if (claim.by === '' || isMine(claim.by)) return name;
      strangers.push({ path: `edits[${index}].value`, claim });
      return claim.by;
    });
    return { ...edit, value, author: name };
  });
  if (strangers.length > 0) {
    const known = new Set((await readEarlier()).flatMap((edit) => listClaims(edit).map(writeClaim)));
    const stranger = strangers.find(({ claim }) => !known.has(writeClaim(claim)));
    if (stranger !== undefined) return refuseClaim(stranger.path, stranger.claim.by, name);
  }
  return done(signed);
}

/** A report as the person signed in makes it. */
export function attributeOutcome(report: OutcomeReport, name: string): Outcome<OutcomeReport> {
  if (report.by !== undefined && writeNameKey(report.by) !== writeNameKey(name)) return refuseClaim('by', report.by, name);
  return done({ ...report, by: name });
}

/** Something said once, as the person signed in says it; `path` is where it stands in what was sent. */
export function attributeEntry<T extends { readonly by?: string | undefined }>(entry: T, name: string, path = ''): Outcome<T> {
  if (entry.by !== undefined && writeNameKey(entry.by) !== writeNameKey(name)) return refuseClaim(`${path}by`, entry.by, name);
  return done({ ...entry, by: name });
}

/** Whether moves of the shelf are in no other name than of the person signed in. */
export function attributeMoves(moves: readonly StockMoveRequest[], name: string): Outcome<null> {
  for (const [index, { by }] of moves.entries()) {
    if (by !== undefined && writeNameKey(by) !== writeNameKey(name)) return refuseClaim(`moves[${index}].by`, by, name);
  }
  return done(null);
}

function refuseClaim(path: string, claimed: string, name: string): ReturnType<typeof refuse> {
  return refuse({ kind: 'other-person', why: `${path}: found the name ${JSON.stringify(claimed.slice(0, 60))}, want ${JSON.stringify(name)}, who is signed in` });
}

function listClaims(edit: JobEdit): Claim[] {
  const claims: Claim[] = [];
  mapClaims(edit, (claim) => { claims.push(claim); return claim.by; });
  return claims;
}

const writeClaim = ({ place, by, at }: Claim): string => JSON.stringify([place, by, at ?? null]);

/** An edit's value with each name in it as `rename` says; a tick without a name is asked about with ''. */
function mapClaims({ field, value }: JobEdit, rename: (claim: Claim) => string): JsonValue {
  const [head, key, leaf, ...rest] = field;
  if (rest.length > 0) return value;
  const sign = (place: string, tick: JsonValue): JsonValue => {
    if (!isTree(tick)) return tick;
    const by = tick['by'];
    // A name that is no text is refused with the rest of what does not read.
    return by === undefined || typeof by === 'string' ? { ...tick, by: rename({ place, by: by ?? '', at: tick['at'] }) } : tick;
  };
  const signLeaf = (place: string): JsonValue => (typeof value === 'string' ? rename({ place, by: value, at: undefined }) : value);
  switch (head) {
    case 'signedOff':
      if (key === undefined) return sign('signedOff', value);
      return key === 'by' && leaf === undefined ? signLeaf('signedOff') : value;
    case 'asLeft':
      if (key === undefined) return isTree(value) ? Object.fromEntries(Object.entries(value).map(([step, tick]) => [step, sign(`asLeft ${step}`, tick)])) : value;
      if (leaf === undefined) return sign(`asLeft ${key}`, value);
      return leaf === 'by' ? signLeaf(`asLeft ${key}`) : value;
    default: return value;
  }
}

function isTree(value: JsonValue): value is Tree {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
