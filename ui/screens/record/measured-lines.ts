import type { BenchRecord } from '../../../catalog-schema/index.ts';
import type { LengthUnit } from '../../client/index.ts';
import { formatMeasured, formatMeasuredLength, formatNumber } from '../../format.ts';
import { words } from '../../words.ts';

/** One thing that was measured, for somebody who was not there. */
export interface MeasuredLine { readonly what: string; readonly figure: string }

/** Everything the record holds that was measured on the old part or the machine. */
export function listMeasured(record: BenchRecord, unit: LengthUnit): MeasuredLine[] {
  const lines: MeasuredLine[] = [];
  for (const terminal of record.terminals ?? []) {
    const name = words.bench.terminalNamed(words.form[terminal.form], words.wiring.terminal(terminal.id, terminal.marking));
    const figures = [
      ...(terminal.thread === undefined ? [] : [terminal.thread]),
      ...(terminal.majorDiameterMm === undefined ? [] : [words.record.diameter(formatMeasuredLength(terminal.majorDiameterMm, unit))]),
      ...(terminal.pitchMm === undefined ? [] : [words.record.pitch(formatMeasured(terminal.pitchMm, 'mm'))]),
      ...(terminal.nutAcrossFlatsMm === undefined ? [] : [words.record.hexagon(formatMeasuredLength(terminal.nutAcrossFlatsMm, unit))]),
      ...(terminal.tabWidthMm === undefined ? [] : [words.record.width(formatMeasuredLength(terminal.tabWidthMm, unit))]),
    ];
    if (figures.length > 0) lines.push({ what: name, figure: figures.join(', ') });
  }
  for (const reading of record.ohms ?? []) {
    const [a, b] = reading.between.map((node) => (node === 'case' ? words.node.case : node)) as [string, string];
    lines.push({
      what: `${words.bench.ohmsBetween(a, b)}${reading.pulledIn === true ? `, ${words.bench.pulledIn}` : ''}`,
      figure: reading.ohm === 'open' ? words.field.open : formatMeasured(reading.ohm, 'Ω'),
    });
  }
  if (record.demand?.inrushA !== undefined) lines.push({ what: words.bench.demand.inrushA, figure: formatMeasured(record.demand.inrushA, 'A') });
  for (const key of ['lowestRestingV', 'lowestCrankingV', 'highestV'] as const) {
    const volts = record.system[key];
    if (volts !== undefined) lines.push({ what: words.bench[key], figure: `${formatNumber(volts)} V` });
  }
  return lines;
}
