import { awgAreaMm2, type TerminalForm, type WireEnd } from '../../../catalog-schema/index.ts';
import type { LengthUnit } from '../../client/index.ts';
import { formatLength, formatNumber } from '../../format.ts';
import { words } from '../../words.ts';

/** Conductor areas of IEC 60228 that are met on small machines, mm². */
const AREAS_MM2 = [0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50] as const;
const GAUGES = ['18', '16', '14', '12', '10', '8', '6', '4', '2', '1', '1/0'] as const;

/** Sizes to tap: areas, or gauges where inches are the setting; `mm2` is what is stored. */
export function wireSizes(unit: LengthUnit): readonly { readonly label: string; readonly mm2: number }[] {
  if (unit === 'mm') return AREAS_MM2.map((mm2) => ({ label: `${mm2} mm²`, mm2 }));
  return GAUGES.flatMap((gauge) => {
    const mm2 = awgAreaMm2(gauge);
    return mm2 === undefined ? [] : [{ label: `${gauge} AWG`, mm2 }];
  });
}

/** Ends to tap, those that go on the terminal's form first. Holes are those of ring lugs sold for the studs named. */
const RINGS = [['#10 · M5', 5.3], ['M6 · 1/4', 6.4], ['5/16 · M8', 8.4], ['3/8 · M10', 10.5]] as const;
const RECEPTACLES_MM = [6.3, 4.8, 2.8, 9.5] as const;

export interface EndChoice { readonly key: string; readonly label: string; readonly hint?: string; readonly end: WireEnd }

export function wireEnds(form: TerminalForm | undefined, unit: LengthUnit): readonly EndChoice[] {
  const rings = RINGS.map(([studs, holeMm]): EndChoice => ({
    key: endKey({ form: 'ring', holeMm }), label: words.asFound.ringFor(studs), hint: words.asFound.hole(formatLength(holeMm, unit)), end: { form: 'ring', holeMm },
  }));
  const receptacles = RECEPTACLES_MM.map((tabWidthMm): EndChoice => ({
    key: endKey({ form: 'receptacle', tabWidthMm }), label: words.asFound.receptacle, hint: formatLength(tabWidthMm, unit), end: { form: 'receptacle', tabWidthMm },
  }));
  const bare: EndChoice = { key: 'bare', label: words.wire.bare, end: { form: 'bare' } };
  switch (form) {
    case 'tab': case 'pin': return [...receptacles, bare, ...rings];
    case 'lead': return [bare, ...receptacles, ...rings];
    case 'stud': case 'screw': case undefined: return [...rings, ...receptacles, bare];
  }
}

/** One text for one end, to find the choice that a stored end is. */
export function endKey(end: WireEnd): string {
  switch (end.form) {
    case 'ring': return `ring ${formatNumber(end.holeMm, 1)}`;
    case 'receptacle': return `receptacle ${formatNumber(end.tabWidthMm, 1)}`;
    case 'bare': return 'bare';
  }
}
