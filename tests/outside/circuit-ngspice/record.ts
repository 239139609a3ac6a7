// Writes recorded.json anew: npx node tests/outside/circuit-ngspice/record.ts (needs ngspice: apt-get install ngspice)
import { writeFileSync } from 'node:fs';
import { NETWORKS } from './networks.ts';
import { findNgspice, runNgspice } from './run-ngspice.ts';

const program = findNgspice();
if (program === undefined) throw new Error('ngspice is not installed: apt-get install ngspice');
const recorded = runNgspice(NETWORKS, program);
writeFileSync(new URL('./recorded.json', import.meta.url), `${JSON.stringify(recorded, null, 1)}\n`);
