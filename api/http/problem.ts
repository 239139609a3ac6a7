import type { Context } from 'hono';
import { HTTPException } from 'hono/http-exception';
import { printFault, type InputFault } from '../../catalog-schema/index.ts';
import type { Outcome, Refusal } from '../services/index.ts';

// The only file that decides status codes of what went wrong.

/** Every way in which this server says no. */
export const PROBLEMS = {
  'refused-input': { status: 422, title: 'The input was refused' },
  'not-found': { status: 404, title: 'There is no such thing here' },
  conflict: { status: 409, title: 'It cannot be done as things stand' },
  'other-origin': { status: 403, title: 'Asked from another site' },
  'other-host': { status: 421, title: 'Asked under a name that is not this server’s' },
  'signed-out': { status: 401, title: 'Somebody has to sign in first' },
  'wrong-pin': { status: 403, title: 'The name and the PIN do not belong together' },
  'other-person': { status: 403, title: 'Said in the name of somebody else' },
  'only-here': { status: 403, title: 'This is done on the machine itself' },
  wait: { status: 429, title: 'Too many wrong PINs' },
  busy: { status: 503, title: 'Too much to compute at once' },
  'our-mistake': { status: 500, title: 'The program failed' },
} as const;
export type ProblemCode = keyof typeof PROBLEMS;

/** RFC 9457 problem details; `faults` has one entry for each thing wrong with an input, `line` as the command line prints it. */
export interface Problem {
  readonly type: string;
  readonly title: string;
  readonly status: number;
  readonly detail: string;
  readonly faults: readonly { path: string; found: string; want: string; line: string }[];
}

export function makeProblem(code: ProblemCode, detail: string, faults: readonly InputFault[] = []): Problem {
  const { status, title } = PROBLEMS[code];
  return {
    type: `/api/docs#problem-${code}`, title, status, detail,
    faults: faults.map((fault) => ({ path: fault.path, found: fault.found, want: fault.want, line: printFault(fault) })),
  };
}

export function problemOf(refusal: Refusal): Problem {
  switch (refusal.kind) {
    case 'faults': return refuseInput(refusal.faults);
    case 'not-found': return makeProblem('not-found', refusal.what);
    case 'conflict': return makeProblem('conflict', refusal.why);
    case 'busy': return makeProblem('busy', refusal.why);
    case 'signed-out': return makeProblem('signed-out', 'Sign in with your name and your PIN; what you entered waits on your device until then.');
    case 'wrong-pin': return makeProblem('wrong-pin', 'There is nobody here with this name and this PIN.');
    case 'other-person': return makeProblem('other-person', refusal.why);
    case 'wait': return makeProblem('wait', `Too many wrong PINs: nothing is tried before ${refusal.until.toISOString()}.`);
    default: throw new Error(`no such refusal: ${JSON.stringify(refusal satisfies never)}`);
  }
}

export function refuseInput(faults: readonly InputFault[]): Problem {
  return makeProblem('refused-input', faults.map((fault) => printFault(fault)).join('\n'), faults);
}

export function sendProblem(context: Context, problem: Problem, retryAfterS = problem.status === PROBLEMS.busy.status ? 2 : undefined): Response {
  const headers: Record<string, string> = { 'content-type': 'application/problem+json', 'cache-control': 'no-store' };
  if (retryAfterS !== undefined) headers['retry-after'] = String(retryAfterS);
  return context.body(JSON.stringify(problem), problem.status as 422, headers);
}

/** What a service answered; a refusal leaves the handler and is answered as a problem. */
export function valueOf<T>(context: Context, outcome: Outcome<T>): T {
  if (outcome.ok) return outcome.value;
  const { refusal } = outcome;
  const problem = problemOf(refusal);
  const waitS = refusal.kind === 'wait' ? Math.max(1, Math.ceil((refusal.until.getTime() - Date.now()) / 1000)) : undefined;
  throw new HTTPException(problem.status as 422, { res: sendProblem(context, problem, waitS) });
}
