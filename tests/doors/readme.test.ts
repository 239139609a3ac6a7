import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { runCli } from './run-cli.ts';

const readme = readFileSync(fileURLToPath(new URL('../../README.md', import.meta.url)), 'utf8');
const exampleAfter = (mark: string): string => new RegExp(`<!-- example: ${mark} -->\\n\`\`\`\\w*\\n([\\s\\S]*?)\`\`\``).exec(readme)![1]!;

describe('the example of the README', () => {
  it('prints what it says it prints', async () => {
    const { exitCode, out } = await runCli(['fit', '-', '--all'], exampleAfter('the record'));
    expect(exitCode).toBe(0);
    // Where the README leaves lines out the rest has to follow in order.
    const printed = out.split('\n');
    let from = 0;
    for (const line of exampleAfter('the answer').trimEnd().split('\n')) {
      if (line === '…' || line === '') continue;
      const at = printed.indexOf(line, from);
      expect(at, `not printed after line ${from}: ${line}`).toBeGreaterThanOrEqual(from);
      from = at + 1;
    }
  });

  it('names the two commands that a fresh clone needs, and says them first', () => {
    expect(readme).toMatch(/^# lugwright\n\n[\s\S]{200,900}?\n\n```\nnpm start .*\nnpm test .*\n```/);
  });
});
