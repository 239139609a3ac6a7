import { describe, expect, it } from 'vitest';
import { CRANK_NODES, FAULTS, type CrankFault } from '../../catalog-schema/index.ts';
import { CRANK_PARTS, FAULTS_OF_PART, judgeParts, sayPart } from './crank-parts.ts';
import { layCrankSheet, type CrankSheet } from './crank-sheet.ts';
import { overlapArea, type Box } from './geometry.ts';
import type { InterlocksAct } from './state-sheet.ts';

/** Sheet widths: a telephone of 320 px at the least, the common one of 390 px, a tablet's half and a desk. */
const WIDTHS = [300, 328, 358, 480, 720] as const;
const INTERLOCKS: readonly InterlocksAct[] = ['in-return', 'in-feed', 'both', 'none'];
const answer = (shares: Partial<Record<CrankFault, number>>, cleared: CrankFault[] = [], proven: CrankFault | null = null) =>
  ({ faults: FAULTS.map((fault) => ({ fault, probability: shares[fault] ?? 0 })), cleared, proven });
/** The longest words that any part can carry. */
const longest = judgeParts(answer({}, [...FAULTS]));
const sheets: readonly CrankSheet[] = WIDTHS.flatMap((widthPx) => INTERLOCKS.flatMap((interlocks) => [true, false].map((startSwitch) => layCrankSheet({ widthPx, interlocks, startSwitch, states: longest }))));
const meet = (boxes: readonly Box[]): number => boxes.flatMap((a, i) => boxes.slice(i + 1).map((b) => overlapArea(a, b))).filter((area) => area > 0).length;

describe('the drawing of the cranking circuit', () => {
  it('gives every point that a meter can touch, and START, a target of 48 px that no other reaches into', () => {
    for (const { spots, start, width, height } of sheets) {
      expect(spots.map(({ node }) => node).toSorted()).toEqual([...CRANK_NODES].toSorted());
      const targets = [...spots.map(({ target }) => target), start.target];
      for (const { left, right, top, bottom } of targets) {
        expect([right - left, bottom - top].map((side) => side.toFixed(6))).toEqual(['48.000000', '48.000000']);
        expect(left >= -5 && right <= width + 5 && top >= 0 && bottom <= height).toBe(true);
      }
      expect(meet(targets)).toBe(0);
    }
  });

  it('names every part, and lays no name on another, on a point, on START or out of the sheet, however long it is', () => {
    for (const { labels, spots, start, width, height } of sheets) {
      expect(new Set(labels.flatMap(({ part }) => part ?? []))).toEqual(new Set(CRANK_PARTS));
      expect(meet(labels.map(({ box }) => box))).toBe(0);
      for (const { box, lines } of labels) {
        for (const { at, node } of spots) expect(overlapArea(box, { left: at.x - 11, right: at.x + 11, top: at.y - 11, bottom: at.y + 11 }), `${lines.join(' ')} on ${node}, ${width} px wide`).toBe(0);
        expect(overlapArea(box, { left: start.at.x - 20, right: start.at.x + 8, top: start.at.y - 14, bottom: start.at.y + 14 })).toBe(0);
        expect(box.left >= 0 && box.right <= width && box.top >= 0 && box.bottom <= height, `${lines.join(' ')}, ${width} px wide`).toBe(true);
      }
    }
  });

  it('draws a safety switch where the machine has one', () => {
    const has = (interlocks: InterlocksAct) => { const { feedLock, returnLock } = layCrankSheet({ widthPx: 358, interlocks, startSwitch: true, states: [] }); return [feedLock !== undefined, returnLock !== undefined]; };
    expect(INTERLOCKS.map(has)).toEqual([[false, true], [true, false], [true, true], [false, false]]);
  });
});

describe('what the evidence holds against each part', () => {
  it('places each fault but none on one part', () => {
    expect(CRANK_PARTS.flatMap((part) => FAULTS_OF_PART[part]).toSorted()).toEqual(FAULTS.filter((fault) => fault !== 'none').toSorted());
  });

  it('adds up the faults of a part, and clears it only when all of them are cleared', () => {
    const states = judgeParts(answer({ 'starter-open': 0.2, 'starter-dragging': 0.2, 'battery-weak': 0.12, 'coil-feed': 0.004 }, ['relay-contacts', 'coil-return']));
    const of = (part: (typeof CRANK_PARTS)[number]) => states.find((state) => state.part === part)!;
    expect(of('starter')).toMatchObject({ share: 0.4, suspicion: 'likely' });
    expect(of('battery').suspicion).toBe('possible');
    expect(of('return').suspicion).toBe('cleared');
    // stuck closed is still possible
    expect(of('contacts').suspicion).toBe('hardly');
    expect([of('starter'), of('battery'), of('feed'), of('return')].map(sayPart)).toEqual(['40 %', '12 %', '<1 %', 'cleared']);
  });

  it('shows a proof whatever the share', () => {
    expect(judgeParts(answer({ 'relay-contacts': 0.97 }, [], 'relay-contacts')).find(({ part }) => part === 'contacts')!.suspicion).toBe('proven');
  });
});
