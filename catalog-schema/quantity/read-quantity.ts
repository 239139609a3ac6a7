import Fraction from 'fraction.js';
import { awgAreaMm2 } from '../reference/index.ts';
import { readThread } from '../thread/index.ts';
import { printNumber } from './print-quantity.ts';
import { normaliseSigns, readNumber } from './read-number.ts';
import { CONTRACT_UNIT, findUnit, UNITS, type Dimension } from './unit.ts';

export type LengthUnit = 'mm' | 'inch';

export type Quantity =
  /** `value` in the contract's unit, `understood` to be echoed at the field: '5/16 in = 7.9375 mm' */
  | { readonly ok: true; readonly value: number; readonly unit: string; readonly understood: string }
  /** plain words to be said at the field: '1.2.3: not one number' */
  | { readonly ok: false; readonly fault: string };

const MOST_CHARACTERS = 60;

/**
 * Reads a measured value as a person types it: '5/16', '1-3/8 in', '0.3125 in', '12 VDC', '3.2 Ω', '12,5', '4 AWG', '2 min', '68 degF'.
 * @param dimension what the field holds; the value comes back in the contract's unit for it
 * @param lengthUnit taken where a length is typed without a unit; a fraction without a unit is always inches
 */
export function readQuantity(text: string, dimension: Dimension, lengthUnit: LengthUnit = 'mm'): Quantity {
  const written = normaliseSigns(text.slice(0, MOST_CHARACTERS + 1));
  if (written === '') return { ok: false, fault: 'nothing: want a number' };
  const refuse = (why: string): Quantity => ({ ok: false, fault: `${written.length > 40 ? `${written.slice(0, 39)}…` : written}: ${why}` });
  if (text.length > MOST_CHARACTERS) return refuse('too long for a number');

  if (dimension === 'area') {
    const gauge = readGauge(written);
    if (gauge !== undefined) {
      const areaMm2 = awgAreaMm2(gauge);
      if (areaMm2 === undefined) return refuse('want an AWG gauge from 22 to 4/0');
      return { ok: true, value: areaMm2, unit: 'mm²', understood: `${gauge} AWG = ${printNumber(areaMm2)} mm²` };
    }
  }
  const number = readNumber(written);
  const isThread = dimension !== 'number' && /^[Mm#]|[\dxX] ?[-xX] ?\d/.test(written) && readThread(written) !== undefined;
  if (!number.ok) return refuse(isThread ? `a thread, want ${describe(dimension)}` : number.fault === 'not a number' ? `${number.fault}, want ${describe(dimension)}` : number.fault);
  if (number.rest === '') return convert(number, dimension, defaultSpelling(dimension, number.isFraction, lengthUnit));

  const unit = findUnit(number.rest, dimension);
  if (isThread) return refuse(`a thread, want ${describe(dimension)}`);
  if (/^[\d.,/-]/.test(number.rest) || /\d/.test(number.rest.replace(/^(mm|cm)\^?2/, ''))) return refuse('not one number');
  if (/^v ?ac|^vac|^v ?~/i.test(number.rest)) return refuse('alternating volts, want DC');
  if (!unit) return refuse(`${JSON.stringify(number.rest)} is no unit of ${describe(dimension)}`);
  if (unit.dimension !== dimension) return refuse(`${unit.name} is ${aOrAn(unit.dimension)}, want ${describe(dimension)}`);
  return convert(number, dimension, number.rest);
}

/** Does a meter's reading say that nothing conducts: 'open', 'OL', '0L', '∞'? */
export function isOpenReading(text: string): boolean {
  return /^(open|[o0]\.?l\.?|∞|inf(inite)?)$/i.test(text.trim());
}

function convert(number: { value: Fraction; printed: string }, dimension: Dimension, spelling: string): Quantity {
  const unit = findUnit(spelling, dimension);
  const contractUnit = CONTRACT_UNIT[dimension];
  if (!unit) return { ok: true, value: number.value.valueOf(), unit: contractUnit, understood: number.printed };
  const value = number.value.sub(unit.zero ?? 0).mul(unit.factor).valueOf();
  const typed = `${number.printed} ${unit.name}`;
  return { ok: true, value, unit: contractUnit, understood: unit.name === contractUnit && !number.printed.includes('/') ? typed : `${typed} = ${printNumber(value)} ${contractUnit}` };
}

function defaultSpelling(dimension: Dimension, isFraction: boolean, lengthUnit: LengthUnit): string {
  if (dimension === 'length') return isFraction || lengthUnit === 'inch' ? 'in' : 'mm';
  return UNITS.find((unit) => unit.dimension === dimension)?.spellings[0] ?? '';
}

/** '4' of '4 AWG', 'AWG 4', '#4 AWG', '4 ga'; '2/0' of '2/0 AWG' and of '2/0' alone, which is no fraction. */
function readGauge(written: string): string | undefined {
  const match = /^(?:awg ?#?|#)?([1-4]\/0|0{1,4}|\d{1,2}) ?(?:awg|ga|gauge)?$/i.exec(written);
  if (!match) return undefined;
  return /awg|ga|#|\/0/i.test(written) ? match[1] : undefined;
}

function describe(dimension: Dimension): string {
  switch (dimension) {
    case 'length': return 'a length such as 7.9 mm or 5/16 in';
    case 'area': return 'an area such as 16 mm² or 4 AWG';
    case 'voltage': return 'volts such as 12.6';
    case 'current': return 'amperes such as 150';
    case 'resistance': return 'ohms such as 3.2';
    case 'time': return 'a time such as 45 s or 2 min';
    case 'temperature': return 'a temperature such as 20 °C or 68 °F';
    case 'number': return 'a plain number';
    default: return dimension satisfies never;
  }
}

function aOrAn(dimension: Dimension): string {
  switch (dimension) {
    case 'voltage': return 'volts';
    case 'current': return 'amperes';
    case 'resistance': return 'ohms';
    case 'area': return 'an area';
    default: return `a ${dimension}`;
  }
}
