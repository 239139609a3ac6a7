import Fraction from 'fraction.js';

/** What a number in the contract can be a number of; each has one unit there. */
export type Dimension = 'length' | 'area' | 'voltage' | 'current' | 'resistance' | 'time' | 'temperature' | 'number';

/** The contract's unit of each dimension, as printed. */
export const CONTRACT_UNIT: Readonly<Record<Dimension, string>> = {
  length: 'mm', area: 'mm²', voltage: 'V', current: 'A', resistance: 'Ω', time: 's', temperature: '°C', number: '',
};

/** A unit somebody may type. value in the contract's unit = (typed - zero) x factor, in exact fractions. */
export interface Unit {
  readonly dimension: Dimension;
  /** as printed back */
  readonly name: string;
  /** as typed; letters as they stand, since mΩ and MΩ differ */
  readonly spellings: readonly string[];
  readonly factor: Fraction;
  readonly zero?: Fraction;
}

const one = new Fraction(1);
const unit = (dimension: Dimension, name: string, factor: Fraction, spellings: string, zero?: Fraction): Unit =>
  ({ dimension, name, factor, spellings: spellings.split(' '), ...(zero && { zero }) });

/** Exact by definition: the inch is 25.4 mm, a mil a thousandth of it; 0 °C is 32 °F and 273.15 K. */
export const UNITS: readonly Unit[] = [
  unit('length', 'mm', one, 'mm MM millimetre millimetres millimeter millimeters'),
  unit('length', 'cm', new Fraction(10), 'cm CM centimetre centimetres centimeter centimeters'),
  unit('length', 'm', new Fraction(1000), 'm metre metres meter meters'),
  unit('length', 'µm', new Fraction(1, 1000), 'µm um μm micron microns'),
  unit('length', 'in', new Fraction(254, 10), 'in IN in. inch inches " ″ ” \'\''),
  unit('length', 'ft', new Fraction(3048, 10), 'ft ft. foot feet \''),
  unit('length', 'mil', new Fraction(254, 10_000), 'mil mils thou'),
  unit('area', 'mm²', one, 'mm² mm2 mm^2 sqmm qmm'),
  unit('area', 'cm²', new Fraction(100), 'cm² cm2 cm^2'),
  unit('voltage', 'V', one, 'V v volt volts Volt Volts VDC Vdc vdc V= VDC.'),
  unit('voltage', 'mV', new Fraction(1, 1000), 'mV mv millivolt millivolts mVDC'),
  unit('current', 'A', one, 'A a amp amps Amp Amps ampere amperes ADC Adc'),
  unit('current', 'mA', new Fraction(1, 1000), 'mA ma milliamp milliamps'),
  unit('current', 'kA', new Fraction(1000), 'kA'),
  unit('resistance', 'Ω', one, 'Ω ω ohm ohms Ohm Ohms OHM OHMS R r'),
  unit('resistance', 'mΩ', new Fraction(1, 1000), 'mΩ mohm mohms mOhm milliohm milliohms'),
  unit('resistance', 'kΩ', new Fraction(1000), 'kΩ KΩ k K kohm kohms kOhm'),
  unit('resistance', 'MΩ', new Fraction(1_000_000), 'MΩ Mohm Mohms MOhm megohm'),
  unit('time', 's', one, 's S sec secs sec. second seconds'),
  unit('time', 'min', new Fraction(60), 'min mins min. minute minutes'),
  unit('time', 'h', new Fraction(3600), 'h hr hrs hour hours'),
  unit('time', 'ms', new Fraction(1, 1000), 'ms millisecond milliseconds'),
  unit('temperature', '°C', one, '°C C c °c degC degc deg ° celsius Celsius'),
  unit('temperature', '°F', new Fraction(5, 9), '°F F f °f degF degf fahrenheit Fahrenheit', new Fraction(32)),
  unit('temperature', 'K', one, 'K kelvin Kelvin', new Fraction(27315, 100)),
];

/** The unit a spelling stands for in one dimension, or (where that is none) in whichever other knows it. */
export function findUnit(spelling: string, dimension: Dimension): Unit | undefined {
  // 'V DC', 'deg F', 'sq mm' are typed with a space as well as without.
  const joined = spelling.replace(/\s+/g, '').replace(/(?<=[A-Za-z])dc$/i, '').replace(/^sq\.?mm$/i, 'mm²');
  const known = (each: Unit): boolean => each.spellings.includes(joined) || (joined.length > 2 && each.spellings.includes(joined.toLowerCase()));
  return UNITS.find((each) => each.dimension === dimension && known(each)) ?? UNITS.find(known);
}
