import { INSTRUMENT_DEFAULTS, type Measured } from '../../../catalog-schema/index.ts';

export type InstrumentName = 'caliper' | 'tape' | 'threadGauge' | 'eye' | 'wrench' | 'meter' | 'clamp' | 'own';

/** What a value was read with. `plusMinus` undefined: a bare number, which takes the class's default. */
export interface Instrument { readonly name: InstrumentName; readonly plusMinus: number | undefined; readonly unit: string; readonly shown: number }

const { caliper, pitch, hexagon } = INSTRUMENT_DEFAULTS;

/** Half-widths in mm where the contract's table has none: common practice, no source. */
const TAPE_MM = 1;
const EYE_MM = 2;
const EYE_PITCH_MM = 0.25;
const CALIPER_PITCH_MM = 0.08;
const EYE_HEIGHT_MM = 3;
const CALIPER_HEIGHT_MM = 0.3;

/** Instruments for each kind of figure; the first is taken unless another is chosen. */
export const INSTRUMENTS = {
  diameter: [
    { name: 'caliper', plusMinus: undefined, unit: 'mm', shown: caliper.absolute }, { name: 'tape', plusMinus: TAPE_MM, unit: 'mm', shown: TAPE_MM },
    { name: 'eye', plusMinus: EYE_MM, unit: 'mm', shown: EYE_MM },
  ],
  pitch: [
    { name: 'threadGauge', plusMinus: undefined, unit: 'mm', shown: pitch.absolute }, { name: 'caliper', plusMinus: CALIPER_PITCH_MM, unit: 'mm', shown: CALIPER_PITCH_MM },
    { name: 'eye', plusMinus: EYE_PITCH_MM, unit: 'mm', shown: EYE_PITCH_MM },
  ],
  hexagon: [
    { name: 'wrench', plusMinus: undefined, unit: 'mm', shown: hexagon.absolute }, { name: 'caliper', plusMinus: caliper.absolute, unit: 'mm', shown: caliper.absolute },
    { name: 'eye', plusMinus: EYE_MM, unit: 'mm', shown: EYE_MM },
  ],
  height: [
    { name: 'tape', plusMinus: TAPE_MM, unit: 'mm', shown: TAPE_MM }, { name: 'caliper', plusMinus: CALIPER_HEIGHT_MM, unit: 'mm', shown: CALIPER_HEIGHT_MM },
    { name: 'eye', plusMinus: EYE_HEIGHT_MM, unit: 'mm', shown: EYE_HEIGHT_MM },
  ],
} as const satisfies Record<string, readonly Instrument[]>;
export type FigureKind = keyof typeof INSTRUMENTS;

/** The instrument a stored value was read with; 'own' where its plus-minus is none of the table's. */
export function instrumentOf(value: Measured | undefined, instruments: readonly Instrument[]): InstrumentName {
  const first = instruments[0]!.name;
  if (value === undefined || typeof value === 'number') return first;
  return instruments.find((entry) => (entry.plusMinus ?? entry.shown) === value.plusMinus)?.name ?? 'own';
}

/** A value as read with an instrument: bare where the class's default holds, else with its half-width. */
export function measureWith(value: number, name: InstrumentName, instruments: readonly Instrument[], ownPlusMinus: number | undefined): Measured {
  if (name === 'own') return ownPlusMinus === undefined ? value : { value, plusMinus: ownPlusMinus };
  const plusMinus = instruments.find((entry) => entry.name === name)?.plusMinus;
  return plusMinus === undefined ? value : { value, plusMinus };
}
