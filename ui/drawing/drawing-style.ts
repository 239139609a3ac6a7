import { css } from 'lit';

/** What every drawing looks like; takes its colours and weights from the tokens. */
export const drawingStyle = css`
  :host { display: block; color: var(--ink); font-family: var(--face); font-variant-numeric: tabular-nums lining-nums; }
  svg { display: block; max-width: 100%; overflow: visible; }
  svg text { fill: var(--ink); font-family: var(--face); font-size: 14px; paint-order: stroke; stroke: var(--paper); stroke-width: 3.5px; stroke-linejoin: round; }
  svg text.strong { font-weight: 700; }
  svg text.large { font-size: 17px; font-weight: 700; }
  svg text.quiet { fill: var(--ink-2); }
  svg text.figure { font-family: var(--face-figures); }
  svg text.do { fill: var(--do); font-weight: 700; }
  svg text.not { fill: var(--not); font-weight: 700; }
  .outline { fill: none; stroke: var(--ink); stroke-width: var(--line); stroke-linejoin: round; stroke-linecap: round; }
  .thin { fill: none; stroke: var(--ink); stroke-width: 0.75px; }
  .taken { stroke-dasharray: 4 3; }
  .fill { fill: var(--paper); }
  .metal { fill: var(--paper-2); }
  .solid { fill: var(--ink); stroke: none; }
  .body { fill: none; stroke: var(--ink-2); stroke-width: var(--line); }
  .dim { fill: none; stroke: var(--ink-2); stroke-width: 0.75px; }
  .dim-head { fill: var(--ink-2); stroke: none; }
  .old { fill: none; stroke: var(--ghost); stroke-width: 2px; }
  .old.wash { fill: var(--ghost-2); }
  .bolt { fill: var(--ghost); stroke: var(--ghost); fill-opacity: 0.55; stroke-width: 1px; }
  .mark-do { fill: none; stroke: var(--do); stroke-width: var(--line-heavy); stroke-linecap: round; }
  .mark-not { fill: none; stroke: var(--not); stroke-width: var(--line-heavy); stroke-dasharray: 5 4; }
  .cross { stroke: var(--not); stroke-width: var(--line-heavy); fill: none; stroke-linecap: round; }
  .thin-mark { stroke-width: 1px; }
  .wash-do { fill: var(--do); stroke: none; }
  .cable path { fill: none; stroke-linecap: butt; stroke-linejoin: round; }
  .cable-gap { stroke: var(--paper); }
  .cable-edge { stroke: var(--ink); }
  .old-face .outline, .old-face .thin, .old-face .body { stroke: var(--ghost); }
  .way-head { fill: var(--do); stroke: var(--paper); stroke-width: 1px; }
  .jumper-gap, .jumper, .jumper-core { fill: none; stroke-linejoin: round; }
  .jumper-gap { stroke: var(--paper); stroke-width: 11px; }
  .jumper { stroke: var(--do); stroke-width: 7px; }
  .jumper-core { stroke: var(--paper); stroke-width: 3px; }
  .live-line { fill: none; stroke: var(--do); stroke-width: var(--line-heavy); stroke-linejoin: round; }
  .live-line.fill { fill: var(--paper); }
  .faint { opacity: 0.32; }
  .hatch { stroke: var(--ink-2); stroke-width: 0.75px; fill: none; }
  [role='button'] { cursor: pointer; outline: none; }
  .hit { fill: transparent; stroke: none; pointer-events: all; }
  .focus-ring { fill: none; stroke: transparent; stroke-width: var(--line-heavy); }
  [role='button']:focus-visible .focus-ring { stroke: var(--focus); }
  [role='button']:hover .focus-ring { stroke: var(--rule); stroke-width: var(--line-thin); }
  [role='button']:focus-visible:hover .focus-ring { stroke: var(--focus); stroke-width: var(--line-heavy); }
  .caption { font-size: var(--type-s); color: var(--ink-2); margin: var(--space-1) 0 0; }
  .empty { color: var(--ink-2); border-block: var(--line-thin) dashed var(--rule); padding: var(--space-4) 0; text-align: center; margin: 0; }
  .travels { transition: d var(--move), transform var(--move); }
  @media (prefers-reduced-motion: reduce) { .travels { transition: none; } }
  @media print { [role='button'] .focus-ring { display: none; } svg { print-color-adjust: exact; -webkit-print-color-adjust: exact; } }
`;
