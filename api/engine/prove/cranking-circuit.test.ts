import { describe, expect, it } from 'vitest';
import { CRANK_NODES } from '../../../catalog-schema/index.ts';
import { CIRCUIT_CONSTANTS, NodalSolver } from '../circuit/index.ts';
import { createState, CrankingCircuit, indexOfNode, SITUATIONS, type CrankState, type Situation } from './cranking-circuit.ts';
import { listHypotheses, type Hypothesis, type Place } from './hypotheses.ts';
import { DRAWS, MachineMaker, type Machine } from './machine.ts';
import { NormalDraws } from './normal-draws.ts';

const WAYS = listHypotheses();
const GROUND = indexOfNode('battery-');
const at = (node: (typeof CRANK_NODES)[number]): number => (indexOfNode(node) === GROUND ? 0 : indexOfNode(node) < GROUND ? indexOfNode(node) + 1 : indexOfNode(node));

/** The same machine, contact and back-EMF given, by the general solver. */
function solveGenerally(m: Machine, { open, place }: Hypothesis, situation: Situation, closed: boolean, backV: number): NodalSolver {
  const solver = new NodalSolver();
  solver.begin(CRANK_NODES.length);
  const isOpen = (one: Place): boolean => open === true && place === one;
  const add = (from: (typeof CRANK_NODES)[number], to: (typeof CRANK_NODES)[number], ohm: number, on: boolean, emfV = 0): void => {
    solver.setOn(solver.addBranch(at(from), at(to), ohm, emfV), on);
  };
  add('battery-', 'battery+', m.batteryOhm, true, m.batteryV);
  add('battery+', 'battery+clamp', m.plusPostOhm, !isOpen('plus-post'));
  add('battery+clamp', 'relay-battery-stud', m.batteryCableOhm, !isOpen('battery-cable'));
  add('relay-battery-stud', 'relay-starter-stud', situation === 'bridged' ? CIRCUIT_CONSTANTS.contactOhm.value : m.contactOhm, closed);
  add('relay-starter-stud', 'starter-stud', m.startCableOhm, !isOpen('start-cable'));
  add('starter-stud', 'starter-case', m.starterOhm, !isOpen('starter'), -backV);
  add('starter-case', 'chassis', m.engineGroundOhm, !isOpen('engine-ground'));
  add('chassis', 'battery-clamp', m.frameGroundOhm, !isOpen('frame-ground'));
  add('battery-clamp', 'battery-', m.minusPostOhm, !isOpen('minus-post'));
  add(m.feedFromClamp ? 'battery+clamp' : 'relay-battery-stud', 'coil-feed', m.switchOhm, situation === 'on' && !isOpen('feed'));
  add('coil-feed', 'coil-return', m.coilOhm, !isOpen('coil'));
  add('coil-return', 'chassis', m.returnOhm, !isOpen('return'));
  solver.solve();
  return solver;
}

/** The greatest difference between two points of one island. */
function farthest(state: CrankState, solver: NodalSolver): number {
  let most = 0;
  for (const a of CRANK_NODES) {
    for (const b of CRANK_NODES) {
      const [i, j] = [indexOfNode(a), indexOfNode(b)];
      if (state.island[i] !== state.island[j]) continue;
      most = Math.max(most, Math.abs(state.volts[i]! - state.volts[j]! - (solver.voltsAt(at(a)) - solver.voltsAt(at(b)))));
    }
  }
  return most;
}

describe('the circuit in closed form', () => {
  const normals = new NormalDraws(DRAWS, 77);
  const circuit = new CrankingCircuit();

  it.each([[6, 40], [12, 120], [24, 40]])('agrees with the general solver at %i V in every way of every fault and every situation', (nominalV, machines) => {
    const maker = new MachineMaker({ nominalV });
    let settled = 0;
    for (const way of WAYS) {
      for (let row = 0; row < machines; row++) {
        const machine = maker.make(normals.row(row), way);
        for (const situation of SITUATIONS) {
          circuit.lay(machine, way);
          const state = circuit.settle(situation, createState());
          if (state.relay === 'chatters') {
            const open = solveGenerally(machine, way, situation, false, 0);
            const shut = solveGenerally(machine, way, situation, true, 0);
            for (const node of CRANK_NODES) {
              const [low, high] = [open.voltsAt(at(node)), shut.voltsAt(at(node))];
              if (state.island[indexOfNode(node)] === state.island[GROUND]) {
                expect(state.volts[indexOfNode(node)]).toBeCloseTo((low + high) / 2, 6);
                expect(state.span[indexOfNode(node)]).toBeCloseTo(high - low, 6);
              }
            }
            continue;
          }
          const closed = situation === 'bridged' || way.fault === 'relay-stuck-closed' || (state.relay === 'in' && !(way.open === true && way.place === 'contact'));
          const turns = state.motion === 'slow' || state.motion === 'normal' || state.motion === 'spinning';
          const starterV = state.volts[indexOfNode('starter-stud')]! - state.volts[indexOfNode('starter-case')]!;
          const solver = solveGenerally(machine, way, situation, closed, turns ? starterV - machine.turningA * machine.starterOhm : 0);
          expect(farthest(state, solver), `${way.fault} ${way.place ?? ''} ${way.open ?? ''} ${situation} row ${row}`).toBeLessThan(1e-6);
          settled++;
        }
      }
    }
    expect(settled).toBeGreaterThan(WAYS.length * machines * 2);
  });

  it('says of two points whether anything joins them', () => {
    const way = WAYS.find(({ place, open }) => place === 'frame-ground' && open === true)!;
    circuit.lay(new MachineMaker({ nominalV: 12 }).make(new Float64Array(DRAWS), way), way);
    const off = circuit.settle('off', createState());
    expect(off.island[indexOfNode('chassis')]).not.toBe(off.island[GROUND]);
    expect(off.island[indexOfNode('starter-stud')]).toBe(off.island[indexOfNode('chassis')]);
    const on = circuit.settle('on', createState());
    // Through the coil the chassis hangs on plus: a meter from it to the minus clamp shows the whole battery.
    expect(on.volts[indexOfNode('chassis')]! - on.volts[indexOfNode('battery-clamp')]!).toBeCloseTo(12.6, 3);
  });

  it('turns the starter just as fast as its torque asks for', () => {
    const way = WAYS.find(({ fault }) => fault === 'none')!;
    const machine = new MachineMaker({ nominalV: 12 }).make(new Float64Array(DRAWS), way);
    circuit.lay(machine, way);
    const state = circuit.settle('on', createState());
    const coilA = (state.volts[indexOfNode('coil-feed')]! - state.volts[indexOfNode('coil-return')]!) / machine.coilOhm;
    expect(state.batteryA - coilA).toBeCloseTo(machine.turningA, 6);
  });
});
