import { z } from 'zod';
import { readInput, type Read } from './input-fault.ts';
import { LIMITS } from './limits.ts';
import { measured, measuredZeroOrMore } from './measured.ts';
import { checkSound } from './sound-check.ts';
import { aboveZero, celsius, wanted, zeroOrMore } from './scalar.ts';

export const CRANK_NODES = [
  'battery+', 'battery-', 'battery+clamp', 'battery-clamp', 'relay-battery-stud', 'relay-starter-stud',
  'coil-feed', 'coil-return', 'starter-stud', 'starter-case', 'chassis',
] as const;
/** A point of the cranking circuit: battery+ is the post, the clamp is what sits on it. */
export const crankNode = z.enum(CRANK_NODES);
export type CrankNode = z.infer<typeof crankNode>;

export const FAULTS = [
  'battery-weak', 'battery-connection', 'ground-connection', 'battery-cable', 'start-cable', 'relay-contacts',
  'relay-coil-open', 'relay-stuck-closed', 'coil-feed', 'coil-return', 'starter-open', 'starter-dragging',
  'starter-drive', 'engine-locked', 'none',
] as const;
export const crankFault = z.enum(FAULTS);
export type CrankFault = z.infer<typeof crankFault>;

/** One thing seen or measured on the machine. */
export const crankObservation = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('sound'), startSwitch: z.boolean().optional(), heard: z.enum(['nothing', 'one-click', 'rapid-clicks', 'hum', 'grinding']) }),
  z.strictObject({ kind: z.literal('crank'), startSwitch: z.boolean().optional(), seen: z.enum(['nothing', 'slow', 'normal', 'spins-without-engaging']) }),
  z.strictObject({ kind: z.literal('volts'), startSwitch: z.boolean(), plus: crankNode, minus: crankNode, volts: measured }),
  z.strictObject({ kind: z.literal('amps'), startSwitch: z.literal(true), amps: measured }),
  z.strictObject({ kind: z.literal('bridge-studs'), seen: z.enum(['nothing', 'slow', 'normal', 'spark-only']) }),
  z.strictObject({ kind: z.literal('turn-by-hand'), seen: z.enum(['free', 'stiff', 'locked']) }),
  z.strictObject({ kind: z.literal('battery-load'), ratioOfCca: aboveZero, seconds: aboveZero, volts: measuredZeroOrMore }),
]);
export type Observation = z.infer<typeof crankObservation>;

export const CRANK_INSTRUMENTS = ['meter', 'clamp', 'load-tester'] as const;
export type CrankInstrument = (typeof CRANK_INSTRUMENTS)[number];
export const crankInstruments = z.array(z.enum(CRANK_INSTRUMENTS)).max(3);

const proveCaseShape = z.strictObject({
  system: z.strictObject({ nominalV: aboveZero, batteryCcaA: aboveZero.optional(), ambientC: celsius.optional() }),
  threshold: zeroOrMore.min(0.5).max(0.9999).optional(),
  /** what there is to measure with; tests for anything else are not proposed. Absent: all of these */
  instruments: crankInstruments.optional(),
  seen: z.array(crankObservation).max(LIMITS.seen),
});
/** An observation that a test asks for: what it showed is left open. */
export const crankAsk = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('sound'), startSwitch: z.boolean() }), z.strictObject({ kind: z.literal('crank'), startSwitch: z.boolean() }),
  z.strictObject({ kind: z.literal('volts'), startSwitch: z.boolean(), plus: crankNode, minus: crankNode }),
  z.strictObject({ kind: z.literal('amps'), startSwitch: z.literal(true) }),
  z.strictObject({ kind: z.literal('bridge-studs') }), z.strictObject({ kind: z.literal('turn-by-hand') }),
  z.strictObject({ kind: z.literal('battery-load'), ratioOfCca: aboveZero, seconds: aboveZero }),
]);
export type CrankAsk = z.infer<typeof crankAsk>;

export type ProveCase = z.infer<typeof proveCaseShape>;
export const proveCaseSchema = proveCaseShape.check(
  checkSound<ProveCase>(['seen.*.kind', 'seen.*.plus', 'seen.*.minus'], ({ seen }, issues) => {
    seen.forEach((entry, index) => {
      if (entry.kind === 'volts' && entry.plus === entry.minus) {
        issues.push(wanted(entry.minus, ['seen', index, 'minus'], 'a point other than plus'));
      }
    });
  }),
);

/** Reads what was seen and measured on a machine that does not crank. */
export function readProveCase(value: unknown): Read<ProveCase> {
  return readInput(proveCaseSchema, value);
}
