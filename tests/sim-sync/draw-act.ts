import type { JsonValue } from '../../catalog-schema/index.ts';
import type { FieldChange, JobSheet } from '../../ui/client/index.ts';
import type { Draws } from '../sim-identify/random.ts';

const COLOURS = ['RD', 'BK', 'YE/GN', 'BN', 'BU'] as const;
const TAGS = ['W1', 'W2', 'W3', 'W4', 'W5', 'W6'] as const;
const TERMINALS = ['B', 'M', 't1', 't2', 'X'] as const;
const STEPS = ['t1', 't2', 't3', 't4'] as const;

const KINDS = ['notes', 'machine', 'minutes', 'wire-field', 'wire-field', 'wire-whole', 'wire-off', 'marking', 'terminal', 'interlocks', 'tick', 'sign', 'several'] as const;
type Kind = (typeof KINDS)[number];
/** What each device does in a run in which nearly every device keeps to its own: little is held, and machines are signed off. */
const OWN: readonly (readonly Kind[])[] = [['notes', 'wire-field', 'tick', 'sign', 'sign'], ['minutes', 'wire-field', 'tick', 'sign', 'sign'], ['interlocks', 'wire-field', 'tick'], ['machine', 'wire-field', 'tick']];

/**
 * Something a person might do to a job, in fields few enough that devices meet. Some of it will not read; the sheet then says so.
 * `own`: the device's number where each keeps to fields of its own.
 */
export function drawAct(draws: Draws, sheet: JobSheet, count: () => number, own?: number): FieldChange[] {
  const { record } = sheet;
  const text = (): string => (draws.chance(0.3) ? 'the same' : `words ${count()}`);
  const number = (): number => (draws.chance(0.3) ? 7 : count());
  const tag = own === undefined ? draws.pick(TAGS) : TAGS[own]!;
  const wire = ['record', 'wires', tag];
  const there = record.wires?.some((entry) => entry.tag === tag) === true;
  const terminal = draws.pick(TERMINALS);
  const step = own === undefined ? draws.pick(STEPS) : STEPS[own]!;
  switch (draws.pick(own === undefined ? KINDS : OWN[own]!)) {
    case 'notes': return [{ field: ['notes'], value: text() }];
    case 'machine': return [{ field: ['machine'], value: draws.chance(0.2) ? null : text() }];
    case 'minutes': return [{ field: ['minutes'], value: number() }];
    case 'wire-field': return there ? [drawWireField(draws, wire, number)] : [{ field: wire, value: { wasOn: terminal } }];
    case 'wire-whole': return [{ field: wire, value: { wasOn: terminal, colour: draws.pick(COLOURS), areaMm2: number() } }];
    case 'wire-off': return [{ field: wire, value: null }];
    case 'marking': return [{ field: ['record', 'terminals', terminal, 'marking'], value: text() }];
    case 'terminal': return drawTerminal(sheet, terminal);
    case 'interlocks': return [{ field: ['record', 'system', 'interlockList'], value: [{ name: text(), acts: 'return' }] }];
    case 'tick': return [{ field: ['asLeft', step], value: { at: '2026-11-25T10:00:00Z', reading: number() } }];
    case 'sign': return [{ field: ['signedOff'], value: sheet.document.signedOff === undefined ? { at: '2026-11-25T10:00:00Z', by: text() } : null }];
    case 'several': return [
      { field: ['notes'], value: text() }, { field: ['minutes'], value: number() },
      ...(there ? [drawWireField(draws, wire, number), drawWireField(draws, wire, number)] : []),
    ];
  }
}

function drawWireField(draws: Draws, wire: readonly string[], number: () => number): FieldChange {
  const [name, value] = draws.pick<[string, JsonValue]>([
    ['colour', draws.pick(COLOURS)], ['areaMm2', number()], ['wasOn', draws.pick(TERMINALS)], ['colour', null],
  ]);
  return { field: [...wire, name], value };
}

/** Takes a terminal away with all that hangs on it, as the screen does, or adds it. */
function drawTerminal({ record }: JobSheet, terminal: string): FieldChange[] {
  if (record.terminals?.some((entry) => entry.id === terminal) !== true) return [{ field: ['record', 'terminals', terminal], value: { form: 'stud' } }];
  return [
    ...(record.wires ?? []).filter((entry) => entry.wasOn === terminal).map((entry) => ({ field: ['record', 'wires', entry.tag], value: null })),
    { field: ['record', 'terminals', terminal], value: null },
  ];
}
