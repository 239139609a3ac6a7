import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, expect, it, vi } from 'vitest';
import { runCommandLine } from './run-command-line.ts';

const folder = mkdtempSync(join(tmpdir(), 'lugwright-gauge-'));
afterAll(() => rmSync(folder, { recursive: true }));
afterEach(() => { vi.restoreAllMocks(); });

/** Keeps what the command says on one stream from the test's own output. */
function listen(stream: NodeJS.WriteStream): Buffer[] {
  const heard: Buffer[] = [];
  vi.spyOn(stream, 'write').mockImplementation(((chunk: string | Buffer, done?: () => void) => {
    heard.push(Buffer.from(chunk));
    if (typeof done === 'function') done();
    return true;
  }) as typeof stream.write);
  return heard;
}

it('writes the sheet to a file and says to check the scale', async () => {
  const said = listen(process.stdout);
  const file = join(folder, 'sheet.pdf');
  expect(await runCommandLine(['gauge', '--paper', 'letter', '--out', file])).toBe(0);
  const pdf = readFileSync(file, 'latin1');
  expect(pdf.startsWith('%PDF-1.7')).toBe(true);
  expect(pdf.trimEnd().endsWith('%%EOF')).toBe(true);
  expect(Buffer.concat(said).toString()).toContain('print at 100 %');
});

it('writes nothing but the sheet to standard output', async () => {
  const said = listen(process.stdout);
  expect(await runCommandLine(['gauge', '--out', '-'])).toBe(0);
  const pdf = Buffer.concat(said).toString('latin1');
  expect(pdf.startsWith('%PDF-1.7')).toBe(true);
  expect(pdf.trimEnd().endsWith('%%EOF')).toBe(true);
});

it('refuses a file in a folder that is not there, in one line', async () => {
  const said = listen(process.stderr);
  expect(await runCommandLine(['gauge', '--out', join(folder, 'missing', 'sheet.pdf')])).toBe(2);
  expect(Buffer.concat(said).toString()).toMatch(/^--out: found .*sheet\.pdf, want a file that can be written \(ENOENT\)\n$/);
});

it('refuses a paper it does not know', async () => {
  const said = listen(process.stderr);
  expect(await runCommandLine(['gauge', '--paper', 'a5'])).toBe(2);
  expect(Buffer.concat(said).toString()).toContain('a4, letter');
});
