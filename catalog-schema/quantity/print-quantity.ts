/** How far a length may lie from a sixty-fourth and still be named by it, mm: what a caliper shows in its last digit, twice. */
const FRACTION_WITHIN_MM = 0.02;

/** A number with at most `digits` significant figures, without needless zeros and never in powers of ten. */
export function printNumber(value: number, digits = 6): string {
  if (value === 0 || !Number.isFinite(value)) return String(value === 0 ? 0 : value);
  const decimals = Math.min(12, Math.max(0, digits - 1 - Math.floor(Math.log10(Math.abs(value)))));
  const rounded = value.toFixed(decimals);
  return rounded.includes('.') ? rounded.replace(/\.?0+$/, '').replace(/^-0$/, '0') : rounded;
}

/** A number with its unit, to four figures: '12.63 V', '3.2 Ω'; thousandths where it is below a tenth: '45 mΩ', '2.5 mA'. */
export function printQuantity(value: number, unit: string): string {
  const small = (unit === 'Ω' || unit === 'A' || unit === 'V') && value !== 0 && Math.abs(value) < 0.1;
  return small ? `${printNumber(value * 1000, 4)} m${unit}` : `${printNumber(value, 4)}${unit === '' ? '' : ` ${unit}`}`;
}

/**
 * A length in the reader's system: '7.94 mm', '0.3125 in (5/16)', '0.315 in'.
 * The fraction is added where a sixty-fourth lies within 0.02 mm.
 * @param mm any length, mm
 */
export function printLength(mm: number, system: 'mm' | 'inch'): string {
  if (system === 'mm') return `${printDecimals(mm, 2)} mm`;
  const inches = `${printDecimals(mm / 25.4, 4)} in`;
  const fraction = nearestFraction(mm);
  return fraction === undefined ? inches : `${inches} (${fraction})`;
}

/** The sixty-fourth a length is near enough to, in lowest terms: '5/16', '1-3/8'; undefined for whole inches and where none is near. */
export function nearestFraction(mm: number): string | undefined {
  const sixtyFourths = Math.round((Math.abs(mm) / 25.4) * 64);
  if (sixtyFourths % 64 === 0 || Math.abs(Math.abs(mm) - (sixtyFourths * 25.4) / 64) > FRACTION_WITHIN_MM) return undefined;
  const whole = Math.floor(sixtyFourths / 64);
  let [over, under] = [sixtyFourths % 64, 64];
  while (over % 2 === 0) [over, under] = [over / 2, under / 2];
  return `${mm < 0 ? '-' : ''}${whole === 0 ? '' : `${whole}-`}${over}/${under}`;
}

/** Halves round away from zero, also where binary arithmetic left them a hair short (34.925). */
function printDecimals(value: number, decimals: number): string {
  const scale = 10 ** decimals;
  const rounded = (Math.sign(value) * Math.round(Math.abs(value) * scale * (1 + 1e-12))) / scale;
  return String(rounded === 0 ? 0 : Number(rounded.toFixed(decimals)));
}
