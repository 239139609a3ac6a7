import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { runCommandLine } from '../../api/cli/run-command-line.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));

export interface CliResult { readonly exitCode: number; readonly out: string; readonly err: string }

/** Runs the command line as its own process, as a person's shell would, with `input` on standard input. */
export function runCli(args: readonly string[], input = ''): Promise<CliResult> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, ['api/cli/lugwright.ts', ...args], { cwd: root });
    let out = '';
    let err = '';
    child.stdout.setEncoding('utf8').on('data', (words: string) => { out += words; });
    child.stderr.setEncoding('utf8').on('data', (words: string) => { err += words; });
    child.on('error', reject);
    child.on('close', (code) => resolve({ exitCode: code ?? -1, out, err }));
    // A command that refuses an over-long input stops reading: the broken pipe is its answer, not ours to fail on.
    child.stdin.on('error', () => undefined);
    child.stdin.end(input);
  });
}

/**
 * The same command in this process, for the many of a kind of which one has run as a process: most of a process's time is starting up. Nothing
 * is on standard input, and no two may run at once: what is written meanwhile is taken for theirs.
 */
export async function runCliHere(args: readonly string[]): Promise<CliResult> {
  const told = { out: '', err: '' };
  const capture = (to: keyof typeof told): typeof process.stdout.write => (words: string | Uint8Array, ...rest: unknown[]): boolean => {
    told[to] += typeof words === 'string' ? words : Buffer.from(words).toString();
    rest.find((each): each is () => void => typeof each === 'function')?.();
    return true;
  };
  const kept = { out: process.stdout.write, err: process.stderr.write };
  process.stdout.write = capture('out');
  process.stderr.write = capture('err');
  try {
    return { exitCode: await runCommandLine(args), ...told };
  } finally {
    process.stdout.write = kept.out;
    process.stderr.write = kept.err;
  }
}
