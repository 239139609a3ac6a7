export { CLEARANCE_HOLES, clearanceHoleMm, findClearance, type ClearanceRow, type ClearanceSeries } from './clearance-holes.ts';
export { COLOURS, readColour, type Colour } from './colours.ts';
export {
  AWG_SIZES, COPPER_ALPHA_20C, COPPER_CONDUCTIVITY_20C, IEC_60228_SIZES, awgAreaMm2, wireOhmPerM, wireResistance, type WireSize,
} from './copper-wire.ts';
export { citeFact, type Fact } from './fact.ts';
export { BATTERY_FACTS, COPPER_FACTS, RELAY_DUTY_FACTS, TORQUE_FACTS } from './fact-tables.ts';
export { RING_HOLES, TABS, type RingHole, type TabRow } from './tabs.ts';
export { TERMINAL_MARKINGS, meaningsOfMarking, type TerminalMarking } from './terminal-markings.ts';
export { THREADS, unifiedMajorMm, type AcrossFlats, type ThreadRow, type ThreadSeries } from './thread-table.ts';
export { torqueFor, type TorqueAdvice } from './torque.ts';
export { VOLTAGE_DROP_LIMITS, type VoltageDropLimit } from './voltage-drop.ts';
export { isRingGap, RING_GAP_MM } from './ring-gap.ts';
