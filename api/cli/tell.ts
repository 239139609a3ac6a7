import { printFault, type InputFault } from '../../catalog-schema/index.ts';

/** Exit codes of the contract. */
export const EXIT = { answered: 0, failed: 1, refused: 2 } as const;

/** Thrown by whatever finds the input wanting; the entry prints one line a fault and exits 2. */
export class InputRefused extends Error {
  readonly faults: readonly InputFault[];
  constructor(faults: readonly InputFault[]) {
    super(faults.map(printFault).join('\n'));
    this.name = 'InputRefused';
    this.faults = faults;
  }
}

/** Writes to standard output and waits until it is taken: an answer cut off by the exit would be a wrong answer. */
export async function writeOut(words: string): Promise<void> {
  await new Promise<void>((resolve, reject) => {
    // A stream tells of a failed write twice, to the callback and as an event; an event nobody hears ends the process.
    process.stdout.once('error', reject);
    process.stdout.write(words, (error) => {
      process.stdout.off('error', reject);
      if (error) process.stdout.once('error', () => undefined);
      return error ? reject(error) : resolve();
    });
  });
}

export const printJson = (answer: unknown): string => `${JSON.stringify(answer, null, 2)}\n`;

/** A list of sentences under a heading, or nothing where the list is empty. */
export function printSection(heading: string, lines: readonly string[], indent = '  '): string {
  return lines.length === 0 ? '' : `${heading}\n${lines.map((line) => `${indent}- ${line}`).join('\n')}\n`;
}
