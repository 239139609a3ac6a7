import { z } from 'zod';
import { LIMITS } from './limits.ts';
import { measuredAboveZero, measuredZeroOrMore } from './measured.ts';
import { bodySize, facePoint, mountingHole, partClass, starterData, terminalForm, terminalId } from './part.ts';
import {
  aboveZero, celsius, identifier, pushDuplicates, sealingCode, temperatureRange, text, wanted, zeroOrMore,
} from './scalar.ts';
import { threadName } from './thread/thread-name.ts';

export const LEADS_TO = [
  'battery', 'starter', 'start-switch', 'chassis', 'interlocked-return', 'cranking-feed', 'tap', 'unknown',
] as const;
export const leadsTo = z.enum(LEADS_TO);
export type LeadsTo = z.infer<typeof leadsTo>;

export const wireEnd = z.discriminatedUnion('form', [
  z.strictObject({ form: z.literal('ring'), holeMm: aboveZero }),
  z.strictObject({ form: z.literal('receptacle'), tabWidthMm: aboveZero }),
  z.strictObject({ form: z.literal('bare') }),
]);
export type WireEnd = z.infer<typeof wireEnd>;

export const wire = z.strictObject({
  /** the label tied to the wire */
  tag: identifier,
  /** IEC 60757 letters, 'YE', with a stripe 'YE/GN' */
  colour: text.optional(),
  areaMm2: aboveZero.optional(),
  end: wireEnd.optional(),
  wasOn: identifier,
  leadsTo: leadsTo.optional(),
});
export type Wire = z.infer<typeof wire>;

export const interlocksAct = z.enum(['in-return', 'in-feed', 'both', 'none']);

export const machineSystem = z.strictObject({
  nominalV: aboveZero,
  ground: z.enum(['negative', 'positive']).optional(),
  interlocks: interlocksAct.optional(),
  interlockList: z.array(z.strictObject({ name: identifier, acts: z.enum(['return', 'feed', 'stops-engine']) })).max(32).optional(),
  ambientC: temperatureRange.optional(),
  lowestRestingV: aboveZero.optional(),
  lowestCrankingV: aboveZero.optional(),
  highestV: aboveZero.optional(),
});
export type MachineSystem = z.infer<typeof machineSystem>;

export const recordTerminal = z.strictObject({
  id: terminalId,
  form: terminalForm,
  majorDiameterMm: measuredAboveZero.optional(),
  pitchMm: measuredAboveZero.optional(),
  nutAcrossFlatsMm: measuredAboveZero.optional(),
  thread: threadName.optional(),
  tabWidthMm: measuredAboveZero.optional(),
  tabThicknessMm: measuredAboveZero.optional(),
  marking: text.optional(),
  at: facePoint.optional(),
});
export type RecordTerminal = z.infer<typeof recordTerminal>;

export const ohmReading = z.strictObject({
  between: z.tuple([identifier, identifier]),
  ohm: z.union([z.literal('open'), measuredZeroOrMore], { error: 'want:a number of ohms, {value, plusMinus}, or "open"' }),
  pulledIn: z.boolean().optional(),
  by: z.enum(['meter', 'supply']).optional(),
  plusOn: identifier.optional(),
});
export type OhmReading = z.infer<typeof ohmReading>;

export const machineMounting = z.strictObject({
  holes: z.array(mountingHole).max(LIMITS.holes),
  plusMinusMm: aboveZero.optional(),
  boltMm: aboveZero.optional(),
  /** may the machine's panel be drilled? */
  drillable: z.boolean().optional(),
  /** does a metal bracket bolted there reach battery minus? absent = not known */
  panelGrounded: z.boolean().optional(),
});
export type MachineMounting = z.infer<typeof machineMounting>;

export const demand = z.strictObject({
  inrushA: measuredZeroOrMore.optional(),
  continuousA: measuredZeroOrMore.optional(),
  longestOnS: aboveZero.optional(),
  continuousUse: z.boolean().optional(),
  controlFuseA: aboveZero.optional(),
  controlRatingA: aboveZero.optional(),
  controlOhm: measuredZeroOrMore.optional(),
  from: z.strictObject({
    batteryCcaA: aboveZero.optional(),
    restingV: aboveZero.optional(),
    cable: z.array(z.strictObject({ areaMm2: aboveZero, lengthMm: zeroOrMore })).max(LIMITS.wires).optional(),
    starterOhm: measuredAboveZero.optional(),
  }).optional(),
  minSealing: sealingCode.optional(),
});
export type Demand = z.infer<typeof demand>;

const benchRecordShape = z.strictObject({
  partClass: partClass.optional(),
  system: machineSystem,
  marked: z.strictObject({
    numbers: z.array(identifier).optional(), coilV: aboveZero.optional(), text: text.optional(),
  }).optional(),
  benchC: celsius.optional(),
  terminals: z.array(recordTerminal).max(LIMITS.terminals).optional(),
  ohms: z.array(ohmReading).max(LIMITS.ohms).optional(),
  mounting: machineMounting.optional(),
  space: bodySize.optional(),
  wires: z.array(wire).max(LIMITS.wires).optional(),
  demand: demand.optional(),
  starter: starterData.optional(),
});
export type BenchRecord = z.infer<typeof benchRecordShape>;

/** What is known of a removed part, the wires that were on it, and what the machine asks of it. */
export const benchRecordSchema = benchRecordShape.check((context) => {
  const record = context.value;
  const { issues } = context;
  if (record.system.ground === 'positive') {
    issues.push(wanted('positive', ['system', 'ground'], 'negative: a positive-ground machine is not handled yet'));
  }
  const terminals = record.terminals;
  if (terminals) {
    pushDuplicates(issues, terminals, (t) => t.id, (i) => ['terminals', i, 'id'], 'terminal id');
  }
  const nodes = terminals && new Set([...terminals.map((t) => t.id), 'case']);
  (record.ohms ?? []).forEach((reading, index) => {
    const [a, b] = reading.between;
    if (a === b) issues.push(wanted(b, ['ohms', index, 'between', 1], 'a node other than the first'));
    reading.between.forEach((node, end) => {
      if (nodes && !nodes.has(node)) issues.push(wanted(node, ['ohms', index, 'between', end], 'the id of a terminal of this record, or case'));
    });
    if (reading.plusOn !== undefined && !reading.between.includes(reading.plusOn)) {
      issues.push(wanted(reading.plusOn, ['ohms', index, 'plusOn'], `one of the two points touched (${a}, ${b})`));
    }
  });
  const wires = record.wires ?? [];
  pushDuplicates(issues, wires, (w) => w.tag, (i) => ['wires', i, 'tag'], 'wire tag');
  wires.forEach((w, index) => {
    if (nodes && !nodes.has(w.wasOn)) issues.push(wanted(w.wasOn, ['wires', index, 'wasOn'], 'the id of a terminal of this record'));
  });
  const contradiction = findInterlockContradiction(record);
  if (contradiction) issues.push(wanted(record.system.interlocks, ['system', 'interlocks'], contradiction));
});

/**
 * Where `system.interlocks` and the wires cannot both be true.
 * "in the return" is only contradicted once every wire is traced and the start-switch wire is among them:
 * a record with half its wires says nothing yet.
 */
function findInterlockContradiction(record: BenchRecord): string | undefined {
  const { interlocks } = record.system;
  const wires = record.wires ?? [];
  const inReturn = wires.find((w) => w.leadsTo === 'interlocked-return');
  if ((interlocks === 'in-feed' || interlocks === 'none') && inReturn) {
    return `in-return or both, since wire ${inReturn.tag} leads to interlocked-return`;
  }
  const allTraced = wires.every((w) => w.leadsTo !== undefined && w.leadsTo !== 'unknown');
  if ((interlocks === 'in-return' || interlocks === 'both') && !inReturn && allTraced
    && wires.some((w) => w.leadsTo === 'start-switch')) {
    return 'in-feed or none, since no wire leads to interlocked-return';
  }
  return undefined;
}
