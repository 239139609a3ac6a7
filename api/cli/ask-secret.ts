import { createInterface } from 'node:readline';
import { Writable } from 'node:stream';

/** Asks for one line that is not shown while it is typed. Where standard input is no terminal, its next line is the answer. */
export function askSecret(question: string): Promise<string> {
  const isTerminal = process.stdin.isTTY === true;
  // On standard error: standard output is the command's answer.
  if (isTerminal) process.stderr.write(question);
  const silent = new Writable({ write: (_piece, _encoding, taken) => taken() });
  const lines = createInterface({ input: process.stdin, output: silent, terminal: isTerminal });
  return new Promise((resolve, reject) => {
    let answer = '';
    lines.once('line', (line) => {
      answer = line.trim();
      lines.close();
    });
    lines.once('SIGINT', () => reject(new Error('stopped')));
    lines.once('close', () => {
      if (isTerminal) process.stderr.write('\n');
      resolve(answer);
    });
  });
}
