import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { NamedNetwork } from './networks.ts';
import { readResults, writeNetlist } from './write-netlist.ts';

export interface Recorded {
  /** program and version as it names itself */
  readonly program: string;
  readonly networks: Record<string, { volts: Record<string, number>; amps: number[] }>;
}

/** The version ngspice names, or undefined where it is not installed. */
export function findNgspice(): string | undefined {
  const { stdout, status } = spawnSync('ngspice', ['--version'], { encoding: 'utf8' });
  if (status !== 0) return undefined;
  return /ngspice-\S+/.exec(stdout)?.[0];
}

/** Solve every network in one run. */
export function runNgspice(networks: readonly NamedNetwork[], program: string): Recorded {
  const folder = mkdtempSync(join(tmpdir(), 'circuit-'));
  try {
    const file = join(folder, 'networks.cir');
    writeFileSync(file, writeNetlist(networks));
    const run = spawnSync('ngspice', ['-b', file], { encoding: 'utf8', maxBuffer: 1 << 26 });
    const results = readResults(networks, `${run.stdout}`);
    return { program, networks: Object.fromEntries(networks.map((network, n) => [network.name, results[n]!])) };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
