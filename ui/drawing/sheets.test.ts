import { describe, expect, it } from 'vitest';
import type { RecordTerminal } from '../../catalog-schema/index.ts';
import { holeBox, slotEnds } from './bracket-view.ts';
import { layCircuitSheet, orderNodes } from './circuit-sheet.ts';
import { layFaceOverSheet } from './face-over-sheet.ts';
import { layFaceSheet } from './face-sheet.ts';
import { commonScale, layOutlineSheet } from './outline-sheet.ts';
import { faceTerminals, sayScale } from './face-terminals.ts';
import { PX_PER_MM_TRUE, lengthInside, overlapArea } from './geometry.ts';
import { groupNewHoles, layMountingSheet } from './mounting-sheet.ts';
import { CASE_RELAY_TERMINALS, CASE_RELAY_WIRES, CHANGEOVER, CUBE_TERMINALS, CUBE_WIRES, MANY_WIRES, PLAN, PLAN_CUBE, SHIFT, UNIVERSAL, UNPLACED } from './sandbox-parts.ts';
import { layStackSheet, stackOf } from './stack-sheet.ts';
import { majorDiameterMm, usualNutMm } from './thread-size.ts';
import { readWireColour } from './wire-colours.ts';
import { uprightPieces, wireWidthPx } from './wire-line.ts';
import { layWiringSheet } from './wiring-sheet.ts';

const WIDTHS = [288, 358, 560, 760];

describe('the terminal face', () => {
  const faces = [
    { name: 'a four-terminal relay', terminals: CASE_RELAY_TERMINALS, wires: CASE_RELAY_WIRES },
    { name: 'a relay with ten wires', terminals: CASE_RELAY_TERMINALS, wires: MANY_WIRES },
    { name: 'a cube relay', terminals: CUBE_TERMINALS, wires: CUBE_WIRES },
    { name: 'terminals without places', terminals: UNPLACED, wires: [] },
  ];

  for (const face of faces) {
    it(`clips nothing and covers no label of a wire on ${face.name}, from 288 px up`, () => {
      for (const widthPx of WIDTHS) {
        const sheet = layFaceSheet({ terminals: faceTerminals(face.terminals), wires: face.wires, widthPx });
        for (const wire of sheet.wires) {
          expect(wire.label.left).toBeGreaterThanOrEqual(-0.01);
          expect(wire.label.right).toBeLessThanOrEqual(widthPx + 0.01);
          expect(wire.label.top).toBeGreaterThanOrEqual(0);
          expect(wire.label.bottom).toBeLessThanOrEqual(sheet.height);
          for (const other of sheet.wires) {
            if (other === wire) continue;
            expect(overlapArea(wire.label, other.label)).toBe(0);
            const pieces = uprightPieces(other.points);
            const through = pieces.slice(1).reduce((sum, p, i) => sum + lengthInside(pieces[i]!, p, wire.label), 0);
            expect(through).toBeLessThan(0.5);
          }
        }
      }
    });
  }

  it('draws distances and diameters to one scale', () => {
    const sheet = layFaceSheet({ terminals: faceTerminals(CASE_RELAY_TERMINALS), wires: [], widthPx: 358 });
    const [b, m] = [sheet.spots[0]!, sheet.spots[1]!];
    expect(m.centre.x - b.centre.x).toBeCloseTo(34 * sheet.projection.scale, 6);
    expect(b.reach).toBeCloseTo((13 / 2 / Math.cos(Math.PI / 6)) * sheet.projection.scale, 6);
  });

  it('puts terminals without a place somewhere sensible and says the drawing is not to scale', () => {
    const drawn = faceTerminals(UNPLACED);
    expect(new Set(drawn.map((t) => `${t.at.xMm} ${t.at.yMm}`)).size).toBe(4);
    expect(sayScale(drawn)).toContain('not to scale');
    expect(sayScale(faceTerminals(CASE_RELAY_TERMINALS))).toBe('to scale');
    expect(sayScale(faceTerminals([CASE_RELAY_TERMINALS[0]!, UNPLACED[2]!]))).toContain('places not measured');
  });

  it('hangs every wire of sixteen terminals and thirty-two wires within the sheet', () => {
    const terminals: RecordTerminal[] = Array.from({ length: 16 }, (_, i) => ({ id: `t${i}`, form: 'tab' }));
    const wires = Array.from({ length: 32 }, (_, i) => ({ tag: `w${i}`, wasOn: `t${i % 16}` }));
    const sheet = layFaceSheet({ terminals: faceTerminals(terminals), wires, widthPx: 358 });
    expect(sheet.wires).toHaveLength(32);
    for (const wire of sheet.wires) expect(wire.points.every((p) => p.x >= 0 && p.x <= 358 && p.y >= 0 && p.y <= sheet.height)).toBe(true);
  });

  it('takes measured sizes as well as names of threads, and dashes what nobody gave', () => {
    const drawn = faceTerminals([{ id: 'a', form: 'stud', majorDiameterMm: { value: 7.9, plusMinus: 0.05 } }, { id: 'b', form: 'stud' }, { id: 'c', form: 'stud', thread: '5/16-24' }]);
    expect(drawn.map((t) => t.sizeKnown)).toEqual([true, false, true]);
    expect(drawn[0]!.majorMm).toBe(7.9);
    // ASME B1.1: 5/16 in is 7.938 mm.
    expect(drawn[2]!.majorMm).toBeCloseTo(7.938, 2);
  });
});

describe('old under new', () => {
  const bolts = [{ xMm: -27, yMm: 0, diameterMm: 7 }, { xMm: 27, yMm: 0, diameterMm: 7 }];
  const holes = UNIVERSAL.mounting!.holes;
  const placement = { rotationDeg: 0, flipped: false, shiftMm: [-3, 0] as [number, number], newHoles: [] };

  it('draws true millimetres on paper: the sheet’s px over 96 per inch are the part’s own', () => {
    const sheet = layMountingSheet({ bolts, holes, placement, widthPx: 358, trueSize: true });
    expect(sheet.projection.scale).toBe(PX_PER_MM_TRUE);
    const [a, b] = bolts.map((h) => holeBox(h, sheet.projection)) as [ReturnType<typeof holeBox>, ReturnType<typeof holeBox>];
    expect((b.left - a.left) / 96 * 25.4).toBeCloseTo(54, 9);
    expect((a.right - a.left) / 96 * 25.4).toBeCloseTo(7, 9);
  });

  it('keeps both parts in the sheet and at one scale, however turned', () => {
    for (const rotationDeg of [0, 30, 90, 180]) {
      const sheet = layMountingSheet({ bolts, holes, placement: { ...placement, rotationDeg }, widthPx: 358, boltMm: 6 });
      for (const box of [...bolts.map((h) => holeBox(h, sheet.projection)), ...holes.map((h) => holeBox(h, sheet.projection, { ...placement, rotationDeg }))]) {
        expect(box.left).toBeGreaterThanOrEqual(0);
        expect(box.right).toBeLessThanOrEqual(358);
        expect(box.top).toBeGreaterThanOrEqual(sheet.top - 0.01);
        expect(box.bottom).toBeLessThanOrEqual(sheet.bottom + 0.01);
      }
    }
  });

  it('turns a slot with its bracket: a level slot of 8 mm stands upright after a quarter turn', () => {
    const [a, b] = slotEnds({ xMm: 10, yMm: 0, diameterMm: 6, slotMm: 8 }, { rotationDeg: 90, flipped: false, shiftMm: [0, 0] });
    expect(a.xMm).toBeCloseTo(0);
    expect([a.yMm, b.yMm].sort((x, y) => x - y)).toEqual([expect.closeTo(6), expect.closeTo(14)]);
  });

  it('lays them centre on centre where no placement is known, and says it is none', () => {
    const sheet = layMountingSheet({ bolts: [{ xMm: 100, yMm: 50, diameterMm: 7 }], holes: [{ xMm: 0, yMm: 0, diameterMm: 6 }], placement: null, widthPx: 358 });
    expect(sheet.placed).toBe(false);
    expect(sheet.placement.shiftMm).toEqual([100, 50]);
  });

  it('says alike holes to drill once, with their number', () => {
    const hole = { xMm: 0, yMm: 0, diameterMm: 9, in: 'bracket' as const };
    expect(groupNewHoles([hole, { ...hole, xMm: 60 }, { ...hole, in: 'panel' }]).map((g) => g.words))
      .toEqual(['drill 2 × Ø 9 mm in the bracket', 'drill Ø 9 mm in the panel']);
  });

  it('is drawn with nothing known', () => {
    expect(layMountingSheet({ bolts: [], holes: [], placement: null, widthPx: 358 }).height).toBeGreaterThan(0);
  });
});

describe('the wiring picture', () => {
  it('ends every wire on the terminal the plan names, both faces at one scale', () => {
    const terminals = faceTerminals(UNIVERSAL.terminals);
    const sheet = layWiringSheet({ oldTerminals: faceTerminals(CASE_RELAY_TERMINALS), newTerminals: terminals, wires: CASE_RELAY_WIRES, plan: PLAN, widthPx: 358 });
    expect(sheet.old.projection.scale).toBe(sheet.next.projection.scale);
    for (const lane of sheet.lanes) {
      const spot = sheet.next.spots.find((s) => s.terminal.id === lane.to)!;
      expect(lane.below.at(-1)).toEqual(spot.centre);
    }
    expect(sheet.lanes.filter((l) => l.fate === 'moves').map((l) => l.wire.tag).sort()).toEqual(['4', '5']);
    expect(sheet.points.map((p) => p.id)).toEqual(['chassis']);
  });

  it('caps a wire that is left off and covers no label with another wire', () => {
    for (const widthPx of WIDTHS) {
      const faces = faceTerminals(CUBE_TERMINALS);
      const sheet = layWiringSheet({ oldTerminals: faces, newTerminals: faces, wires: CUBE_WIRES, plan: PLAN_CUBE, widthPx });
      expect(sheet.lanes.find((l) => l.wire.tag === 'e')?.fate).toBe('left-off');
      for (const lane of sheet.lanes) {
        expect(lane.label.left).toBeGreaterThanOrEqual(-0.01);
        expect(lane.label.right).toBeLessThanOrEqual(widthPx + 0.01);
        for (const other of sheet.lanes) {
          if (other === lane) continue;
          for (const points of [other.above, other.below]) {
            const pieces = uprightPieces(points);
            expect(pieces.slice(1).reduce((sum, p, i) => sum + lengthInside(pieces[i]!, p, lane.label), 0)).toBeLessThan(0.5);
          }
        }
      }
    }
  });
});

describe('the stack', () => {
  it('puts lugs on the seat, the largest cable first, and the washer outside them all', () => {
    const pieces = stackOf({ form: 'stud', wires: [{ tag: 's', wasOn: 'B', areaMm2: 2.5 }, { tag: 'L', wasOn: 'B', areaMm2: 25 }], jumpers: 1 });
    expect(pieces.map((p) => p.wire?.tag ?? p.piece)).toEqual(['body', 'inner-nut', 'L', 's', 'jumper-lug', 'washer', 'spring', 'outer-nut']);
  });

  it('numbers what is put on in the order it goes on, and lays no words over others', () => {
    const sheet = layStackSheet({ form: 'stud', wires: CASE_RELAY_WIRES.slice(0, 2), jumpers: 1, torque: '10 N·m', widthPx: 358 });
    expect(sheet.layers.map((l) => l.order).filter((o) => o !== null)).toEqual([1, 2, 3, 4, 5, 6]);
    const blocks = sheet.layers.map((l) => [l.textTop, l.textTop + l.lines.length * 18] as const).toSorted((a, b) => a[0] - b[0]);
    blocks.forEach((block, i) => { if (i > 0) expect(block[0]).toBeGreaterThanOrEqual(blocks[i - 1]![1]); });
    expect(sheet.never).not.toBeNull();
  });

  it('warns of no washer where there is no lug', () => {
    expect(layStackSheet({ form: 'tab', wires: CASE_RELAY_WIRES.slice(3, 4), jumpers: 0, torque: '', widthPx: 358 }).never).toBeNull();
  });
});

describe('the circuit', () => {
  it('stands rails in an order that crosses as little as can be', () => {
    expect(orderNodes(['30', '87', '87a'], [
      { kind: 'contact', id: 'a', between: ['30', '87'], form: 'NO', coils: [] }, { kind: 'contact', id: 'b', between: ['30', '87a'], form: 'NC', coils: [] },
    ])[1]).toBe('30');
  });

  it('joins each element to the rails of its own two nodes and shares no row between rungs that would touch', () => {
    for (const part of [UNIVERSAL, SHIFT, CHANGEOVER]) {
      const sheet = layCircuitSheet({ terminals: part.terminals, circuit: part.circuit, widthPx: 358, pulledIn: false, live: [] });
      sheet.rungs.forEach((rung, i) => {
        for (const x of [rung.from, rung.to]) {
          const rail = sheet.rails.find((r) => r.x === x)!;
          expect(rung.y).toBeGreaterThanOrEqual(rail.top);
          expect(rung.y).toBeLessThanOrEqual(rail.bottom);
        }
        for (const other of sheet.rungs.slice(i + 1)) {
          if (other.y !== rung.y) continue;
          const [a, b] = [[rung.from, rung.to].sort((p, q) => p - q), [other.from, other.to].sort((p, q) => p - q)];
          expect(a[1]! <= b[0]! || b[1]! <= a[0]!).toBe(true);
        }
      });
    }
  });

  it('writes the role of each terminal over it, none over another and none outside the sheet', () => {
    const roles = { BAT: 'battery stud', STA: 'starter stud', '+': 'coil plus', '-': 'coil minus' };
    for (const widthPx of WIDTHS) {
      const { rails } = layCircuitSheet({ terminals: UNIVERSAL.terminals, circuit: UNIVERSAL.circuit, widthPx, pulledIn: false, live: [], roles });
      const said = rails.flatMap(({ role, top }) => (role === undefined ? [] : [{ ...role, top, half: role.words.length * 3.8 }]));
      expect(said.map(({ words }) => words).sort()).toEqual(Object.values(roles).sort());
      said.forEach((one, i) => {
        expect(one.x - one.half).toBeGreaterThanOrEqual(0);
        expect(one.x + one.half).toBeLessThanOrEqual(widthPx);
        expect(one.y).toBeLessThan(one.top - 18 - 14);
        for (const other of said.slice(i + 1)) expect(one.y !== other.y || Math.abs(one.x - other.x) >= one.half + other.half).toBe(true);
      });
    }
  });

  it('closes a normally open contact when pulled in, and opens a normally closed one', () => {
    const draw = (pulledIn: boolean) => layCircuitSheet({ terminals: CHANGEOVER.terminals, circuit: CHANGEOVER.circuit, widthPx: 358, pulledIn, live: [] });
    const closed = (pulledIn: boolean): string[] => draw(pulledIn).rungs.filter((r) => r.closed).map((r) => (r.element.kind === 'contact' ? r.element.form : ''));
    expect(closed(true)).toEqual(['NO']);
    expect(closed(false)).toEqual(['NC']);
  });

  it('never shows current in a diode that blocks', () => {
    const sheet = layCircuitSheet({ terminals: UNIVERSAL.terminals, circuit: UNIVERSAL.circuit, widthPx: 358, pulledIn: true, live: ['BAT', 'STA', '+'] });
    expect(sheet.rungs.filter((r) => r.live).map((r) => r.element.kind)).toEqual(['coil', 'contact']);
  });
});

describe('sizes and colours', () => {
  it('draws the nut the standards give a stud', () => {
    // ISO 4032: M8 13 mm, M6 10 mm; ASME B18.2.2: 5/16 in 1/2 in, 3/8 in 9/16 in.
    expect([8, 6, 7.9375, 9.525].map(usualNutMm)).toEqual([13, 10, 12.7, expect.closeTo(14.287, 2)]);
    expect(majorDiameterMm('#10-32')).toBeCloseTo(25.4 * 0.19, 2);
    expect(majorDiameterMm('a bolt')).toBeUndefined();
  });

  it('draws a heavy cable wider than a control wire, within bounds', () => {
    expect(wireWidthPx({ areaMm2: 25 })).toBeGreaterThan(wireWidthPx({ areaMm2: 1 }));
    expect(wireWidthPx({ areaMm2: 500 })).toBe(12);
  });

  it('keeps letters nobody knows as words, and never guesses a colour for them', () => {
    expect(readWireColour('YE/GN')).toMatchObject({ known: true, letters: 'YE/GN', words: 'yellow with green stripe' });
    expect(readWireColour('pale')).toMatchObject({ known: false, words: 'pale', stripe: null });
    expect(readWireColour(undefined)).toMatchObject({ known: false });
  });
});

describe('the old face under the new', () => {
  const lay = (widthPx: number) => layFaceOverSheet({
    oldTerminals: faceTerminals(CASE_RELAY_TERMINALS), newTerminals: faceTerminals(UNIVERSAL.terminals), wires: CASE_RELAY_WIRES, plan: PLAN, widthPx,
  });

  it('lays both in one frame to one scale, every old terminal on the sheet', () => {
    for (const widthPx of WIDTHS) {
      const { face, under } = lay(widthPx);
      const [a, b] = [under[0]!, under[1]!];
      const apart = Math.hypot(a.terminal.at.xMm - b.terminal.at.xMm, a.terminal.at.yMm - b.terminal.at.yMm);
      expect(Math.hypot(a.centre.x - b.centre.x, a.centre.y - b.centre.y)).toBeCloseTo(apart * face.projection.scale, 6);
      for (const { centre } of under) {
        expect(centre.x).toBeGreaterThanOrEqual(0);
        expect(centre.x).toBeLessThanOrEqual(widthPx);
        expect(centre.y).toBeLessThanOrEqual(face.height);
      }
    }
  });

  it('leads every wire that moves from its old terminal to its new one, labelled with tag and letters', () => {
    const { ways, face, under } = lay(560);
    const moved = PLAN.wires.filter((wire) => wire.moved);
    expect(moved.length).toBeGreaterThan(0);
    for (const { tag, from, to } of moved) {
      const way = ways.find(({ wire }) => wire.tag === tag)!;
      expect(way.words).toContain(tag);
      expect(way.from).toEqual(under.find(({ terminal }) => terminal.id === from)!.centre);
      expect(way.to).toEqual(face.spots.find(({ terminal }) => terminal.id === to)!.centre);
    }
  });

  it('names the wires that end on no terminal', () => {
    const elsewhere = layFaceOverSheet({
      oldTerminals: faceTerminals(CASE_RELAY_TERMINALS), newTerminals: faceTerminals(UNIVERSAL.terminals), wires: CASE_RELAY_WIRES, widthPx: 358,
      plan: { ...PLAN, wires: PLAN.wires.slice(1).map((wire, i) => (i === 0 ? { ...wire, to: 'case' } : wire)), leftOff: [PLAN.wires[0]!.tag] },
    }).elsewhere;
    expect(elsewhere.map(({ wire, to }) => [wire.tag, to])).toEqual(expect.arrayContaining([[PLAN.wires[0]!.tag, undefined], [PLAN.wires[1]!.tag, 'case']]));
  });
});

describe('parts beside one another', () => {
  it('are drawn to one scale, each within its column', () => {
    const parts = [{ terminals: faceTerminals(CASE_RELAY_TERMINALS), holes: UNIVERSAL.mounting!.holes }, { terminals: faceTerminals(CUBE_TERMINALS), holes: [] }];
    const scale = commonScale(parts, 168);
    for (const part of parts) {
      const sheet = layOutlineSheet({ ...part, widthPx: 168, scale });
      expect(sheet.face!.projection.scale).toBe(scale);
      expect(sheet.face!.body.left).toBeGreaterThanOrEqual(0);
      expect(sheet.face!.body.right).toBeLessThanOrEqual(168);
      if (sheet.bracket !== undefined) expect(sheet.bracket.projection.scale).toBe(scale);
    }
  });
});
