import { html, render } from 'lit';
import '../elements/terminal-picture/index.ts';
import { CASE_RELAY_TERMINALS, CASE_RELAY_WIRES, CUBE_TERMINALS, CUBE_WIRES, MANY_WIRES, UNPLACED } from './sandbox-parts.ts';

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
  empty: () => html`<h2>Empty</h2><terminal-picture .terminals=${[]}></terminal-picture>`,
};
render(Object.entries(sections).filter(([name]) => shown === null || shown.split(',').includes(name))
  .map(([, section]) => html`<section>${section()}</section>`), main);
