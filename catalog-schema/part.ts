import { z } from 'zod';
import { readInput, type Read } from './input-fault.ts';
import { LIMITS } from './limits.ts';
import {
  aboveZero, identifier, number, pushDuplicates, sealingCode, temperatureRange, text, wanted, wholeAboveZero, zeroOrMore,
} from './scalar.ts';
import { checkSound, type Issues } from './sound-check.ts';
import { threadName } from './thread/index.ts';

export const PART_CLASSES = ['start-relay', 'contactor', 'plug-in-relay', 'shift-solenoid', 'starter-motor'] as const;
export const partClass = z.enum(PART_CLASSES);
export type PartClass = z.infer<typeof partClass>;

export const terminalForm = z.enum(['stud', 'tab', 'screw', 'lead', 'pin']);
export type TerminalForm = z.infer<typeof terminalForm>;

/** Terminal face towards you, bracket down, x to the right, y up. */
export const facePoint = z.strictObject({ xMm: number, yMm: number });

/** 'case' is the metal body; 'chassis' is the machine's; neither may name a terminal. */
export const RESERVED_NODES: readonly string[] = ['case', 'chassis'];

export const terminalId = identifier.refine((id) => !RESERVED_NODES.includes(id), {
  error: 'want:a terminal id other than case and chassis',
});

export const terminal = z.strictObject({
  id: terminalId,
  form: terminalForm,
  thread: threadName.optional(),
  tabWidthMm: aboveZero.optional(),
  tabThicknessMm: aboveZero.optional(),
  marking: text.optional(),
  at: facePoint.optional(),
});
export type Terminal = z.infer<typeof terminal>;

/** A point of a part's own circuit: a terminal id, 'case' (the metal body and bracket), or one of `inside`. */
export type CircuitNode = string;
export const twoNodes = z.tuple([identifier, identifier], { error: 'want:a list of two nodes' });
const between = twoNodes;

export const coilDuty = z.discriminatedUnion('type', [
  z.strictObject({ type: z.literal('continuous') }),
  z.strictObject({ type: z.literal('intermittent'), maxOnS: aboveZero.optional() }),
]);

const twoEnds = checkSound<{ between: [string, string] }>(['between'], ({ between: [first, second] }, issues) => {
  if (first === second) issues.push(wanted(second, ['between', 1], 'a node other than the first'));
});

export const coilElement = z.strictObject({
  kind: z.literal('coil'), id: identifier, between, nominalV: aboveZero,
  ohmAt20C: aboveZero.optional(),
  /** guaranteed to pull in at or above, V at 20 C */
  pullInV: aboveZero.optional(),
  /** guaranteed to let go at or below, V at 20 C */
  dropOutV: zeroOrMore.optional(),
  duty: coilDuty.optional(),
}).check(twoEnds, checkSound<{ pullInV?: number; dropOutV?: number }>(['pullInV', 'dropOutV'], ({ pullInV, dropOutV }, issues) => {
  if (pullInV !== undefined && dropOutV !== undefined && dropOutV >= pullInV) {
    issues.push(wanted(dropOutV, ['dropOutV'], `a number below pullInV (${pullInV})`));
  }
}));
export const contactElement = z.strictObject({
  kind: z.literal('contact'), id: identifier, between, form: z.enum(['NO', 'NC']), coils: z.array(identifier).max(LIMITS.elements),
  continuousA: aboveZero.optional(), inrushA: aboveZero.optional(), dropMvPer100A: zeroOrMore.optional(),
}).check(twoEnds);
export const diodeElement = z.strictObject({ kind: z.literal('diode'), from: identifier, to: identifier })
  .check(checkSound<{ from: string; to: string }>(['from', 'to'], ({ from, to }, issues) => {
    if (from === to) issues.push(wanted(to, ['to'], 'a node other than the first'));
  }));
export const resistorElement = z.strictObject({ kind: z.literal('resistor'), between, ohm: zeroOrMore }).check(twoEnds);
export const motorElement = z.strictObject({ kind: z.literal('motor'), between, ohm: zeroOrMore.optional() }).check(twoEnds);

export const circuitElement = z.discriminatedUnion('kind', [
  coilElement, contactElement, diodeElement, resistorElement, motorElement,
]);
export type CircuitElement = z.infer<typeof circuitElement>;
export type CoilElement = z.infer<typeof coilElement>;
export type ContactElement = z.infer<typeof contactElement>;

/** Holes in the plane of the bracket, seen from the body's side. `slotMm` is the centre-to-centre travel; absent or 0 is round. */
export const mountingHole = z.strictObject({
  xMm: number, yMm: number, diameterMm: aboveZero, slotMm: zeroOrMore.optional(), slotAngleDeg: number.optional(),
});
export type MountingHole = z.infer<typeof mountingHole>;

export const mounting = z.strictObject({
  holes: z.array(mountingHole).max(LIMITS.holes),
  /** the bracket is metal and part of 'case' */
  conductive: z.boolean().optional(),
  /** may the bracket be drilled? */
  drillable: z.boolean().optional(),
});
export type Mounting = z.infer<typeof mounting>;

/** Length and width in the bracket's plane, height away from the panel, mm. */
export const bodySize = z.strictObject({ lengthMm: aboveZero, widthMm: aboveZero, heightMm: aboveZero });
export type BodySize = z.infer<typeof bodySize>;

export const starterData = z.strictObject({
  nominalV: aboveZero.optional(), powerKw: aboveZero.optional(),
  /** seen from the drive end */
  rotation: z.enum(['cw', 'ccw']).optional(),
  pinionTeeth: wholeAboveZero.optional(),
  /** diametral pitch is converted: module = 25.4 / DP */
  pinionModuleMm: aboveZero.optional(),
  noseMm: aboveZero.optional(), lockedRotorA: aboveZero.optional(), freeRunA: aboveZero.optional(),
});
export type StarterData = z.infer<typeof starterData>;

const partShape = z.strictObject({
  id: identifier,
  partClass,
  title: text,
  numbers: z.array(z.strictObject({ issuer: text, number: identifier })).optional(),
  replaces: z.array(z.strictObject({ issuer: text, number: identifier, source: text.optional() })).optional(),
  supersededBy: z.array(identifier).optional(),
  terminals: z.array(terminal).max(LIMITS.terminals),
  inside: z.array(identifier).max(LIMITS.elements).optional(),
  circuit: z.array(circuitElement).max(LIMITS.elements),
  mounting: mounting.optional(),
  body: bodySize.optional(),
  sealing: sealingCode.optional(),
  ambientC: temperatureRange.optional(),
  starter: starterData.optional(),
});
export type Part = z.infer<typeof partShape>;

/** A catalogue part; checks what a shape alone cannot: unique ids, references, thresholds in order. */
export const partSchema = partShape.check(
  checkSound<Part>(['terminals.*.id'], (part, issues) => {
    pushDuplicates(issues, part.terminals, (t) => t.id, (i) => ['terminals', i, 'id'], 'terminal id');
  }),
  checkSound<Part>(['terminals.*.id', 'inside'], checkInnerJoints),
  checkSound<Part>(['circuit.*.kind', 'circuit.*.id', 'circuit.*.coils'], checkCoilsAndContacts),
  checkSound<Part>(['terminals.*.id', 'inside', 'circuit.*.kind', 'circuit.*.between', 'circuit.*.from', 'circuit.*.to'], checkNodes),
);

function checkInnerJoints(part: Part, issues: Issues): void {
  const taken = new Set<string>([...part.terminals.map((t) => t.id), ...RESERVED_NODES]);
  (part.inside ?? []).forEach((node, index) => {
    if (taken.has(node)) issues.push(wanted(node, ['inside', index], 'an inner joint with a name of its own'));
    taken.add(node);
  });
}

function checkCoilsAndContacts(part: Part, issues: Issues): void {
  const coils = new Set<string>();
  const contacts = new Set<string>();
  part.circuit.forEach((element, index) => {
    if (element.kind !== 'coil' && element.kind !== 'contact') return;
    const seen = element.kind === 'coil' ? coils : contacts;
    if (seen.has(element.id)) issues.push(wanted(element.id, ['circuit', index, 'id'], `a ${element.kind} id that is not used twice`));
    seen.add(element.id);
  });
  part.circuit.forEach((element, index) => {
    if (element.kind !== 'contact') return;
    element.coils.forEach((coil, i) => {
      if (!coils.has(coil)) issues.push(wanted(coil, ['circuit', index, 'coils', i], 'the id of a coil of this part'));
    });
  });
}

function checkNodes(part: Part, issues: Issues): void {
  const nodes = new Set<string>([...part.terminals.map((t) => t.id), ...(part.inside ?? []), 'case']);
  const check = (node: string, path: (string | number)[]): void => {
    if (!nodes.has(node)) issues.push(wanted(node, path, `a terminal id, an inner joint or case (${[...nodes].join(', ')})`));
  };
  part.circuit.forEach((element, index) => {
    if (element.kind === 'diode') {
      check(element.from, ['circuit', index, 'from']);
      check(element.to, ['circuit', index, 'to']);
    } else element.between.forEach((node, end) => check(node, ['circuit', index, 'between', end]));
  });
}

/** Reads one catalogue part; that its successors are there is a question to the whole catalogue. */
export function readPart(value: unknown): Read<Part> {
  return readInput(partSchema, value);
}
