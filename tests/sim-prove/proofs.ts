// Machines with one fault each, a technician who does the test that prove puts first until something is proven.
// npx node tests/sim-prove/proofs.ts [--cases 300] [--seed 40000] [--failures]
import { parseArgs } from 'node:util';
import { prove } from '../../api/engine/index.ts';
import type { Observation, ProveCase } from '../../catalog-schema/index.ts';
import { drawMachine, type BenchMachine, type Point } from './bench-machine.ts';

const { values } = parseArgs({ options: { cases: { type: 'string', default: '300' }, seed: { type: 'string', default: '40000' }, failures: { type: 'boolean', default: false } } });
const cases = Number(values.cases);
const firstSeed = Number(values.seed);
const MOST_TESTS = 12;
const BOUND = { right: 0.97, wrong: 0.005, tests: 4, bridged: 0.05, answerMs: 200, nextMs: 500 };
/** So many machines apart the whole answer is timed, with what a proof hangs on. */
const WHOLE_EVERY = 10;

type Ask = ReturnType<typeof prove>['nextTest'][number]['ask'];

function observe(machine: BenchMachine, ask: Ask): Observation {
  switch (ask.kind) {
    case 'volts': return { ...ask, volts: machine.volts(ask.startSwitch, ask.plus as Point, ask.minus as Point) };
    case 'amps': return { kind: 'amps', startSwitch: true, amps: machine.amps() };
    case 'sound': return { kind: 'sound', startSwitch: ask.startSwitch, heard: machine.sounds(ask.startSwitch) };
    case 'crank': return { kind: 'crank', startSwitch: ask.startSwitch, seen: machine.cranks(ask.startSwitch) };
    case 'bridge-studs': return { kind: 'bridge-studs', seen: machine.bridged() };
    case 'turn-by-hand': return { kind: 'turn-by-hand', seen: machine.turnsByHand() };
    case 'battery-load': return { ...ask, volts: machine.load(ask.ratioOfCca, ask.seconds) };
    default: throw new Error(`no such test: ${JSON.stringify(ask satisfies never)}`);
  }
}

function isSame(seen: Observation, ask: Ask): boolean {
  return Object.entries(ask).every(([key, value]) => seen[key as keyof Observation] === value);
}

let right = 0;
let wrong = 0;
let tests = 0;
let bridged = 0;
let slowest = 0;
let spent = 0;
let answers = 0;
const wholes: number[] = [];
const byFault = new Map<string, { right: number; wrong: number; undecided: number }>();
let seed = firstSeed;
for (let done = 0; done < cases; seed++) {
  const machine = drawMachine(seed);
  if (!machine) continue;
  done++;
  const off = machine.fault === 'relay-stuck-closed';
  const crankCase: ProveCase = {
    system: { nominalV: machine.nominalV, batteryCcaA: machine.ccaA, ambientC: machine.celsius },
    seen: [{ kind: 'crank', startSwitch: !off, seen: machine.cranks(!off) }],
  };
  let answer = prove(crankCase, { carriers: false });
  let taken = 0;
  const retaken = new Set<string>();
  while (answer.proven === null && taken < MOST_TESTS) {
    // What quarrels is taken again once, in place of what was written down before.
    const next = answer.nextTest.find(({ ask }) => !retaken.has(JSON.stringify(ask)));
    if (!next) break;
    const observation = observe(machine, next.ask);
    const before = crankCase.seen.findIndex((seen) => isSame(seen, next.ask));
    if (before >= 0) {
      crankCase.seen.splice(before, 1);
      retaken.add(JSON.stringify(next.ask));
    }
    crankCase.seen.push(observation);
    if (observation.kind === 'bridge-studs') bridged++;
    taken++;
    const began = process.cpuUsage();
    answer = prove(crankCase, { carriers: false });
    const used = process.cpuUsage(began);
    const ms = (used.user + used.system) / 1000;
    slowest = Math.max(slowest, ms);
    spent += ms;
    answers++;
  }
  tests += taken;
  if (done % WHOLE_EVERY === 0) {
    const began = process.cpuUsage();
    prove(crankCase);
    const used = process.cpuUsage(began);
    wholes.push((used.user + used.system) / 1000);
  }
  const tally = byFault.get(machine.fault) ?? { right: 0, wrong: 0, undecided: 0 };
  byFault.set(machine.fault, tally);
  if (answer.proven === machine.fault) { right++; tally.right++; }
  else if (answer.proven === null) tally.undecided++;
  else { wrong++; tally.wrong++; }
  if (values.failures && answer.proven !== machine.fault) {
    console.log(`seed ${seed}, ${machine.fault}: proven ${answer.proven}; ${answer.faults.slice(0, 4).map(({ fault, probability }) => `${fault} ${probability.toFixed(3)}`).join(', ')}${answer.conflicts.length > 0 ? `; quarrel ${answer.conflicts[0]!.paths.join(' ')}` : ''}`);
    for (const one of crankCase.seen) console.log(`    ${JSON.stringify(one)}`);
  }
}
for (const [fault, { right: good, wrong: bad, undecided }] of [...byFault].toSorted(([a], [b]) => (a < b ? -1 : 1))) console.log(`${fault.padEnd(20)} right ${good}, wrong ${bad}, undecided ${undecided}`);
console.log(`tests ${(tests / cases).toFixed(2)} (bound ${BOUND.tests}), studs bridged in ${(100 * bridged / cases).toFixed(2)} % (bound ${100 * BOUND.bridged})`);
wholes.sort((a, b) => a - b);
console.log(`answer with next test: ${(spent / Math.max(1, answers)).toFixed(0)} ms on average, slowest ${slowest.toFixed(0)} ms of the processor (bound ${BOUND.nextMs}); with what the proof hangs on: median ${(wholes[wholes.length >> 1] ?? 0).toFixed(0)} ms, slowest ${(wholes.at(-1) ?? 0).toFixed(0)} ms (bound ${BOUND.answerMs})`);
const held = right / cases >= BOUND.right && wrong / cases <= BOUND.wrong && tests / cases <= BOUND.tests && bridged / cases <= BOUND.bridged;
console.log(`right ${(100 * right / cases).toFixed(2)} % (bound ${100 * BOUND.right}), wrong ${(100 * wrong / cases).toFixed(2)} % (bound ${100 * BOUND.wrong}), undecided ${(100 * (cases - right - wrong) / cases).toFixed(2)} %, ${cases} machines, seeds ${firstSeed} to ${seed - 1}: ${held ? 'held' : 'not held'}`);
process.exitCode = held ? 0 : 1;
