import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

// Runs every test of the product, then says on the last line how many passed. Set-up has been done by `npm test`.

const root = fileURLToPath(new URL('..', import.meta.url));
const local = `${root}.local`;
mkdirSync(local, { recursive: true });

interface Outcome { passed: number; failed: number; skipped: number; exitCode: number }

function runVitest(): Outcome {
  const report = `${local}/vitest.json`;
  rmSync(report, { force: true });
  const exitCode = runTool('vitest/vitest.mjs', ['run', '--reporter=default', '--reporter=json', `--outputFile.json=${report}`]);
  if (!existsSync(report)) return { passed: 0, failed: 1, skipped: 0, exitCode: exitCode || 1 };
  const counts = JSON.parse(readFileSync(report, 'utf8')) as { numPassedTests: number; numFailedTests: number; numPendingTests: number };
  return { passed: counts.numPassedTests, failed: counts.numFailedTests, skipped: counts.numPendingTests, exitCode };
}

function runJourneys(): Outcome {
  if (!existsSync(`${local}/browser`)) {
    process.stdout.write('journeys: not run, no browser was found. On Debian: apt-get install -y chromium\n');
    return { passed: 0, failed: 0, skipped: 1, exitCode: 1 };
  }
  const report = `${local}/journeys.json`;
  rmSync(report, { force: true });
  const exitCode = runTool('@playwright/test/cli.js', ['test', '-c', 'tests/journeys'], { PLAYWRIGHT_JSON_OUTPUT_NAME: report });
  if (!existsSync(report)) return { passed: 0, failed: 1, skipped: 0, exitCode: exitCode || 1 };
  const { stats } = JSON.parse(readFileSync(report, 'utf8')) as { stats: { expected: number; unexpected: number; flaky: number; skipped: number } };
  return { passed: stats.expected + stats.flaky, failed: stats.unexpected, skipped: stats.skipped, exitCode };
}

function runTool(tool: string, args: readonly string[], env: Record<string, string> = {}): number {
  const done = spawnSync(process.execPath, [`${root}node_modules/${tool}`, ...args], { cwd: root, stdio: ['ignore', 'inherit', 'inherit'], env: { ...process.env, ...env } });
  return done.status ?? 1;
}

const outcomes = [runVitest(), runJourneys()];
const sum = (key: keyof Outcome) => outcomes.reduce((total, outcome) => total + outcome[key], 0);
// A tool that stopped with an error although no test failed has failed all the same.
const failed = Math.max(sum('failed'), outcomes.some((outcome) => outcome.exitCode !== 0) && sum('failed') === 0 && sum('skipped') === 0 ? 1 : 0);
process.stdout.write(`${sum('passed')} passed, ${failed} failed, ${sum('skipped')} skipped\n`);
process.exitCode = outcomes.some((outcome) => outcome.exitCode !== 0) ? 1 : 0;
