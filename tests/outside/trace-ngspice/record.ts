// Writes recorded.json anew: npx node tests/outside/trace-ngspice/record.ts (needs ngspice: apt-get install ngspice)
import { writeFileSync } from 'node:fs';
import { findNgspice, runNgspice } from '../circuit-ngspice/run-ngspice.ts';
import { TRACE_NETWORKS } from './machines.ts';

const program = findNgspice();
if (program === undefined) throw new Error('ngspice is not installed: apt-get install ngspice');
const { networks } = runNgspice(TRACE_NETWORKS, program);
const amps = Object.fromEntries(Object.entries(networks).map(([name, result]) => [name, result.amps.at(-1)!]));
writeFileSync(new URL('./recorded.json', import.meta.url), `${JSON.stringify({ program, amps }, null, 1)}\n`);
