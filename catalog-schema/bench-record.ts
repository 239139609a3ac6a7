import { z } from 'zod';
import { readInput, type Read } from './input-fault.ts';
import { LIMITS } from './limits.ts';
import { measured, measuredAboveZero, measuredZeroOrMore } from './measured.ts';
import { bodySize, facePoint, mountingHole, partClass, starterData, terminalForm, terminalId, twoNodes } from './part.ts';
import {
  aboveZero, celsius, identifier, pushDuplicates, sealingCode, temperatureRange, text, wanted, zeroOrMore,
} from './scalar.ts';
import { checkSound, type Issues } from './sound-check.ts';
import { threadName } from './thread/index.ts';

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

const traceOhm = z.union([z.literal('open'), measuredZeroOrMore], { error: 'want:a number of ohms, {value, plusMinus}, or "open"' });

/**
 * What a meter showed at the free end of a wire that was taken off its terminal, all others on theirs. Volts against the chassis with
 * the battery connected and the cable off the starter's own stud; ohms with both clamps off the battery.
 */
export const traceReadings = z.strictObject({
  /** key out */
  voltsOff: measured.optional(),
  /** key at run, engine standing */
  voltsRun: measured.optional(),
  /** START held, every interlock made */
  voltsStart: measured.optional(),
  /** to the chassis, every interlock made */
  ohmChassisMade: traceOhm.optional(),
  /** to the chassis, the interlocks open, one after the other: the highest reading */
  ohmChassisOpen: traceOhm.optional(),
  /** to the lug of the starter's cable, taken off the starter's own stud */
  ohmStarterCable: traceOhm.optional(),
  /** to the plus clamp, taken off the battery's post */
  ohmBatteryPlus: traceOhm.optional(),
});
export type TraceReadings = z.infer<typeof traceReadings>;
export type TraceMeasurement = keyof TraceReadings;

/** How it was found where a wire leads: followed by eye or hand, measured, read from the machine's own diagram, or told by somebody. */
export const wireTrace = z.strictObject({
  by: z.enum(['followed', 'meter', 'diagram', 'told']).optional(),
  readings: traceReadings.optional(),
});
export type WireTrace = z.infer<typeof wireTrace>;

export const wire = z.strictObject({
  /** the label tied to the wire */
  tag: identifier,
  /** IEC 60757 letters, 'YE', with a stripe 'YE/GN' */
  colour: text.optional(),
  areaMm2: aboveZero.optional(),
  end: wireEnd.optional(),
  wasOn: identifier,
  leadsTo: leadsTo.optional(),
  /** how `leadsTo` was found; absent = nobody said */
  traced: wireTrace.optional(),
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
  /** how `at` came about; absent = measured. A place set by eye is good for telling terminals apart, not for a drawing to scale. */
  atBy: z.enum(['measured', 'eye']).optional(),
});
export type RecordTerminal = z.infer<typeof recordTerminal>;

export const ohmReading = z.strictObject({
  between: twoNodes,
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

/** The room the machine leaves; with the half-width of what was measured with, where that matters: without it the figures are taken as they stand. */
export const machineRoom = z.strictObject({ ...bodySize.shape, plusMinusMm: aboveZero.optional() });
export type MachineRoom = z.infer<typeof machineRoom>;

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
  space: machineRoom.optional(),
  wires: z.array(wire).max(LIMITS.wires).optional(),
  demand: demand.optional(),
  starter: starterData.optional(),
});
export type BenchRecord = z.infer<typeof benchRecordShape>;

/** What is known of a removed part, the wires that were on it, and what the machine asks of it. */
export const benchRecordSchema = benchRecordShape.check(
  checkSound<BenchRecord>(['system.ground'], ({ system }, issues) => {
    if (system.ground === 'positive') {
      issues.push(wanted('positive', ['system', 'ground'], 'negative: a positive-ground machine is not handled yet'));
    }
  }),
  checkSound<BenchRecord>(['terminals.*.id'], ({ terminals }, issues) => {
    pushDuplicates(issues, terminals ?? [], (t) => t.id, (i) => ['terminals', i, 'id'], 'terminal id');
  }),
  checkSound<BenchRecord>(['ohms.*.between', 'ohms.*.plusOn'], checkReadings),
  checkSound<BenchRecord>(['wires.*.tag'], ({ wires }, issues) => {
    pushDuplicates(issues, wires ?? [], (w) => w.tag, (i) => ['wires', i, 'tag'], 'wire tag');
  }),
  checkSound<BenchRecord>(['terminals.*.id', 'ohms.*.between', 'wires.*.wasOn'], checkTerminalReferences),
  checkSound<BenchRecord>(['system.interlocks', 'wires.*.tag', 'wires.*.leadsTo'], (record, issues) => {
    const contradiction = findInterlockContradiction(record);
    if (contradiction) issues.push(wanted(record.system.interlocks, ['system', 'interlocks'], contradiction));
  }),
);

function checkReadings(record: BenchRecord, issues: Issues): void {
  (record.ohms ?? []).forEach(({ between: [a, b], plusOn }, index) => {
    if (a === b) issues.push(wanted(b, ['ohms', index, 'between', 1], 'a node other than the first'));
    if (plusOn !== undefined && plusOn !== a && plusOn !== b) {
      issues.push(wanted(plusOn, ['ohms', index, 'plusOn'], `one of the two points touched (${a}, ${b})`));
    }
  });
}

/** Readings and wires may name any point as long as the record lists no terminals. */
function checkTerminalReferences(record: BenchRecord, issues: Issues): void {
  if (!record.terminals) return;
  const nodes = new Set([...record.terminals.map((t) => t.id), 'case']);
  (record.ohms ?? []).forEach((reading, index) => {
    reading.between.forEach((node, end) => {
      if (!nodes.has(node)) issues.push(wanted(node, ['ohms', index, 'between', end], 'the id of a terminal of this record, or case'));
    });
  });
  (record.wires ?? []).forEach((each, index) => {
    if (!nodes.has(each.wasOn)) issues.push(wanted(each.wasOn, ['wires', index, 'wasOn'], 'the id of a terminal of this record, or case'));
  });
}

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

/** Reads a bench record: the record, or every fault in it. */
export function readRecord(value: unknown): Read<BenchRecord> {
  return readInput(benchRecordSchema, value);
}
