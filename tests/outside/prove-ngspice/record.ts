// Writes recorded.json anew: npx node tests/outside/prove-ngspice/record.ts (needs ngspice: apt-get install ngspice)
import { writeFileSync } from 'node:fs';
import { findNgspice, runNgspice } from '../circuit-ngspice/run-ngspice.ts';
import { SOLVED_MACHINES } from './machines.ts';

const program = findNgspice();
if (program === undefined) throw new Error('ngspice is not installed: apt-get install ngspice');
const { networks } = runNgspice(SOLVED_MACHINES.flatMap((one) => one.networks), program);
// Volts of each node, and the amps of battery and starter: the first two elements.
const kept = Object.fromEntries(Object.entries(networks).map(([name, { volts, amps }]) => [name, { volts, amps: amps.slice(0, 2) }]));
const lines = Object.entries(kept).map(([name, result]) => ` ${JSON.stringify(name)}: ${JSON.stringify(result)}`);
writeFileSync(new URL('./recorded.json', import.meta.url), `{"program": ${JSON.stringify(program)}, "networks": {\n${lines.join(',\n')}\n}}\n`);
