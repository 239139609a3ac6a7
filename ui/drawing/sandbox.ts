import { html, render } from 'lit';
import '../elements/circuit-picture/index.ts';
import '../elements/old-under-new/index.ts';
import '../elements/pattern-sheet/element.ts';
import '../elements/stack-picture/index.ts';
import '../elements/state-picture/index.ts';
import '../elements/terminal-picture/index.ts';
import '../elements/wiring-picture/index.ts';
import { CASE_RELAY_TERMINALS, CASE_RELAY_WIRES, CHANGEOVER, CUBE_TERMINALS, CUBE_WIRES, MANY_WIRES, PLAN, PLAN_CUBE, SHIFT, STATES, UNIVERSAL, UNPLACED } from './sandbox-parts.ts';

// A page of drawings to look at while working on them; served by the development server only.
const asked = new URLSearchParams(location.search);
const theme = asked.get('theme');
if (theme !== null) document.documentElement.dataset['theme'] = theme;
const main = document.querySelector('main')!;
const shown = asked.get('show');
const sections: Record<string, () => unknown> = {
  relay: () => html`<h2>Relay</h2><terminal-picture .terminals=${CASE_RELAY_TERMINALS} .wires=${CASE_RELAY_WIRES} .selected=${['S']}></terminal-picture>`,
  pair: () => html`<h2>Pair</h2><terminal-picture mode="pair" .terminals=${CASE_RELAY_TERMINALS} .marks=${[{ terminal: 'I', kind: 'not' }]}></terminal-picture>`,
  cube: () => html`<h2>Plug-in</h2><terminal-picture .terminals=${CUBE_TERMINALS} .wires=${CUBE_WIRES}></terminal-picture>`,
  many: () => html`<h2>Many wires</h2><terminal-picture .terminals=${CASE_RELAY_TERMINALS} .wires=${MANY_WIRES} .selectedWire=${'8'}></terminal-picture>`,
  unplaced: () => html`<h2>Nothing measured</h2><terminal-picture .terminals=${UNPLACED} .wires=${[]}></terminal-picture>`,
  step: () => html`<h2>One step</h2><terminal-picture mode="still" .terminals=${CASE_RELAY_TERMINALS} .wires=${CASE_RELAY_WIRES}
    .only=${{ terminals: ['S'], wires: ['4'] }} .marks=${[{ terminal: 'S', kind: 'do' }]}></terminal-picture>`,
  slots: () => html`<h2>Slots reach</h2><old-under-new .machine=${{ holes: [{ xMm: -27, yMm: 0, diameterMm: 7 }, { xMm: 27, yMm: 0, diameterMm: 7 }], boltMm: 6 }}
    .bracket=${UNIVERSAL.mounting} .placement=${{ rotationDeg: 0, flipped: false, shiftMm: [-3, 0], newHoles: [] }}></old-under-new>`,
  drill: () => html`<h2>Drill</h2><old-under-new .machine=${{ holes: [{ xMm: 0, yMm: -22, diameterMm: 7 }, { xMm: 10, yMm: 22, diameterMm: 7 }], boltMm: 6, drillable: true }}
    .bracket=${UNIVERSAL.mounting} .placement=${{ rotationDeg: 90, flipped: false, shiftMm: [0, 8], newHoles: [{ xMm: 0, yMm: 38, diameterMm: 6.6, in: 'panel' }] }}></old-under-new>`,
  nofit: () => html`<h2>No way</h2><old-under-new .machine=${{ holes: [{ xMm: 0, yMm: 0, diameterMm: 9 }, { xMm: 80, yMm: 0, diameterMm: 9, slotMm: 6, slotAngleDeg: 45 }, { xMm: 40, yMm: 30, diameterMm: 5 }] }}
    .bracket=${UNIVERSAL.mounting}></old-under-new>`,
  truesize: () => html`<h2>True size</h2><pattern-sheet .machine=${{ holes: [{ xMm: -27, yMm: 0, diameterMm: 7 }, { xMm: 27, yMm: 0, diameterMm: 7 }], boltMm: 6 }}
    .bracket=${UNIVERSAL.mounting} .placement=${{ rotationDeg: 0, flipped: false, shiftMm: [-3, 0], newHoles: [] }}></old-under-new>`,
  over: () => html`<h2>Terminals over terminals</h2><old-under-new .oldTerminals=${CASE_RELAY_TERMINALS} .newTerminals=${UNIVERSAL.terminals} .wires=${CASE_RELAY_WIRES} .plan=${PLAN}></old-under-new>`,
  wiring: () => html`<h2>Wiring</h2><wiring-picture .oldTerminals=${CASE_RELAY_TERMINALS} .newTerminals=${UNIVERSAL.terminals} .wires=${CASE_RELAY_WIRES} .plan=${PLAN}></wiring-picture>`,
  rewired: () => html`<h2>Cube to cube</h2><wiring-picture .oldTerminals=${CUBE_TERMINALS} .newTerminals=${CUBE_TERMINALS} .wires=${CUBE_WIRES} .plan=${PLAN_CUBE}></wiring-picture>`,
  stack: () => html`<h2>Stud</h2><stack-picture .terminal=${CASE_RELAY_TERMINALS[0]} .wires=${CASE_RELAY_WIRES.slice(0, 2)} .jumpers=${1} .torque=${'10 N·m (IEC 60947-1, a test torque)'}></stack-picture>`,
  screw: () => html`<h2>Screw</h2><stack-picture .terminal=${UNPLACED[3]} .wires=${CASE_RELAY_WIRES.slice(3, 4)} .torque=${'1.2 N·m'}></stack-picture>`,
  tab: () => html`<h2>Tab</h2><stack-picture .terminal=${CASE_RELAY_TERMINALS[2]} .wires=${CASE_RELAY_WIRES.slice(3, 4)}></stack-picture>`,
  states: () => html`<h2>States</h2>${STATES.map((state) => html`<state-picture .state=${state} interlocks="both"></state-picture><state-picture .state=${state} interlocks="in-return" hasFeed></state-picture>`)}`,
  circuit: () => html`<h2>Circuit, isolated with diode</h2><circuit-picture .terminals=${UNIVERSAL.terminals} .circuit=${UNIVERSAL.circuit} pulled-in .live=${['BAT', 'STA', '+']}></circuit-picture>`,
  shift: () => html`<h2>Shift solenoid</h2><circuit-picture .terminals=${SHIFT.terminals} .circuit=${SHIFT.circuit}></circuit-picture>`,
  changeover: () => html`<h2>Changeover</h2><circuit-picture .terminals=${CHANGEOVER.terminals} .circuit=${CHANGEOVER.circuit}></circuit-picture>`,
  empty: () => html`<h2>Empty</h2><terminal-picture .terminals=${[]}></terminal-picture>`,
};
render(Object.entries(sections).filter(([name]) => shown === null || shown.split(',').includes(name))
  .map(([, section]) => html`<section>${section()}</section>`), main);
