import type { BenchRecord, IdentifyAnswer } from '../../../catalog-schema/index.ts';
import { TABS } from '../../../catalog-schema/reference/index.ts';
import type { Said } from './said.ts';
import { readMeasured, showNumber } from './read-measured.ts';

/** Standard tabs (IEC 61210) whose limits overlap what was measured. */
export function findTabs(record: BenchRecord, said: Said): IdentifyAnswer['tabs'] {
  return (record.terminals ?? []).flatMap((terminal, index) => {
    const { tabWidthMm, tabThicknessMm } = terminal;
    if (tabWidthMm === undefined && tabThicknessMm === undefined) return [];
    const width = tabWidthMm === undefined ? undefined : readMeasured(tabWidthMm, 'caliper', said.assumptions);
    const thickness = tabThicknessMm === undefined ? undefined : readMeasured(tabThicknessMm, 'caliper', said.assumptions);
    const left = TABS.filter((tab) => (!width || (width.high >= tab.widthMinMm && width.low <= tab.widthMaxMm))
      && (!thickness || (thickness.high >= tab.thicknessMinMm && thickness.low <= tab.thicknessMaxMm)));
    if (left.length === 0) {
      const measured = [width && `${showNumber(width.value)} mm wide`, thickness && `${showNumber(thickness.value)} mm thick`].filter((words) => words !== undefined);
      said.conflicts.push({
        paths: [tabWidthMm === undefined ? '' : `terminals[${index}].tabWidthMm`, tabThicknessMm === undefined ? '' : `terminals[${index}].tabThicknessMm`].filter((path) => path !== ''),
        why: `no standard tab is ${measured.join(' and ')}`,
      });
    }
    if (left.length > 1 && tabThicknessMm === undefined) {
      said.open.push({ what: `measure the thickness of tab ${terminal.id}`, why: `it may be ${left.map(({ name }) => name).join(', ')}`, worth: Math.round(Math.log2(left.length) * 1e6) / 1e6 });
    }
    return [{
      terminal: terminal.id,
      candidates: left.map((tab) => ({ widthMm: tab.widthMm, thicknessMm: tab.thicknessMm, probability: Math.round(1e6 / left.length) / 1e6 })),
    }];
  });
}
