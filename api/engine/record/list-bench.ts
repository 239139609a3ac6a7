import { printLength, printNumber, type BenchRecord, type Measured, type RecordLine } from '../../../catalog-schema/index.ts';
import { sayTerminal } from '../as-left/index.ts';
import { RECORD_WORDS as words } from './words.ts';

/** Everything the record holds that was measured on the old part or of the machine's supply, for somebody who was not there. */
export function listBench(record: BenchRecord, unit: 'mm' | 'inch'): RecordLine[] {
  const lines: RecordLine[] = [];
  for (const terminal of record.terminals ?? []) {
    const figures = [
      ...(terminal.thread === undefined ? [] : [terminal.thread]),
      ...(terminal.majorDiameterMm === undefined ? [] : [words.diameter(sayLength(terminal.majorDiameterMm, unit))]),
      ...(terminal.pitchMm === undefined ? [] : [words.pitch(sayMeasured(terminal.pitchMm, 'mm'))]),
      ...(terminal.nutAcrossFlatsMm === undefined ? [] : [words.hexagon(sayLength(terminal.nutAcrossFlatsMm, unit))]),
      ...(terminal.tabWidthMm === undefined ? [] : [words.width(sayLength(terminal.tabWidthMm, unit))]),
    ];
    if (figures.length > 0) lines.push({ what: `${words.forms[terminal.form]} ${sayTerminal(terminal.id, [terminal])}`, showed: figures.join(', ') });
  }
  for (const reading of record.ohms ?? []) {
    const [a, b] = reading.between.map((node) => (node === 'case' ? words.case : node)) as [string, string];
    lines.push({ what: words.ohms(a, b, reading.pulledIn === true), showed: reading.ohm === 'open' ? words.openReading : sayMeasured(reading.ohm, 'Ω') });
  }
  if (record.demand?.inrushA !== undefined) lines.push({ what: words.inrush, showed: sayMeasured(record.demand.inrushA, 'A') });
  for (const key of ['lowestRestingV', 'lowestCrankingV', 'highestV'] as const) {
    const volts = record.system[key];
    if (volts !== undefined) lines.push({ what: words.volts[key], showed: `${printNumber(volts, 4)} V` });
  }
  return lines;
}

function sayLength(measured: Measured, unit: 'mm' | 'inch'): string {
  if (typeof measured === 'number') return printLength(measured, unit);
  const half = unit === 'mm' ? `${printNumber(measured.plusMinus, 2)} mm` : `${printNumber(measured.plusMinus / 25.4, 2)} in`;
  return `${printLength(measured.value, unit)} ± ${half}`;
}

function sayMeasured(measured: Measured, unit: string): string {
  return typeof measured === 'number' ? `${printNumber(measured, 3)} ${unit}` : `${printNumber(measured.value, 3)} ± ${printNumber(measured.plusMinus, 2)} ${unit}`;
}
