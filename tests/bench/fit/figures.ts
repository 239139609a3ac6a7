/** A sample of times in ms. */
export interface Times { readonly p50: number; readonly p99: number; readonly count: number }

export function summarise(times: readonly number[]): Times {
  const sorted = times.toSorted((a, b) => a - b);
  const at = (share: number): number => sorted[Math.min(sorted.length - 1, Math.ceil(share * sorted.length) - 1)]!;
  return { p50: at(0.5), p99: at(0.99), count: sorted.length };
}

export function printTimes(name: string, { p50, p99, count }: Times, more = ''): string {
  return `  ${name.padEnd(46)}${p50.toFixed(3).padStart(10)}${p99.toFixed(3).padStart(10)} ms  (${count})${more}\n`;
}

/** The bounds that a run looked at. */
export class Bounds {
  readonly #lines: { words: string; held: boolean; goal: boolean }[] = [];

  /** @param goal beyond what must hold: printed, not counted */
  judge(words: string, held: boolean, goal = false): void {
    this.#lines.push({ words, held, goal });
  }

  print(): string {
    return this.#lines.map(({ words, held, goal }) => `${held ? 'held    ' : 'NOT HELD'}  ${goal ? '(goal) ' : ''}${words}\n`).join('');
  }

  get broken(): number {
    return this.#lines.filter(({ held, goal }) => !held && !goal).length;
  }

  get count(): number {
    return this.#lines.filter(({ goal }) => !goal).length;
  }
}
