import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';

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
