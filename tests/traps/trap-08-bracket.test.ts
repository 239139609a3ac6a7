import { describe, expect, it } from 'vitest';
import { checkOf, judge } from './ask-fit.ts';
import { changed, partOf, readDemoCatalogue, readDemoJob } from './read-demo.ts';

const catalogue = readDemoCatalogue();

describe('the bracket as the return path', () => {
  const noStrap = changed(readDemoJob('donkey-engine-6v-wooden-board').record, (record) => {
    record.wires = record.wires!.filter((wire) => wire.tag !== 'gnd');
  });

  it('asks for a ground strap on a wooden board', () => {
    const entry = judge(noStrap, catalogue, 'ov-3110-6');
    expect(entry.verdict).toBe('adapt');
    expect(checkOf(entry, 'wiring').outcome).toBe('work');
    expect(entry.rewire?.jumpers).toEqual([{ from: 'case', to: 'chassis' }]);
  });

  it('asks for none on a panel that reaches battery minus', () => {
    const entry = judge(changed(noStrap, (record) => { record.mounting!.panelGrounded = true; }), catalogue, 'ov-3110-6');
    expect(entry.verdict).toBe('direct');
    expect(entry.rewire?.jumpers).toEqual([]);
  });

  it('asks for none either where the old strap under the bolt is put back', () => {
    expect(judge(readDemoJob('donkey-engine-6v-wooden-board').record, catalogue, 'ov-3110-6').verdict).toBe('direct');
  });
});

describe('holes, slots and planes', () => {
  const bilge = readDemoJob('bilge-pump-set-universal').record;
  const boltsAt = (spacing: number) => changed(bilge, (record) => {
    record.mounting!.holes.forEach((hole, index) => { hole.xMm = (index === 0 ? -1 : 1) * spacing / 2; });
  });

  it('reaches bolts 58.5 mm apart with a slotted bracket and not with round holes 60 mm apart', () => {
    expect(checkOf(judge(boltsAt(58.5), catalogue, 'slb-u1-12'), 'mounting').outcome).toBe('pass');
    expect(checkOf(judge(boltsAt(58.5), catalogue, 'ov-3175-12w'), 'mounting').outcome).toBe('fail');
    expect(checkOf(judge(boltsAt(60), catalogue, 'ov-3175-12w'), 'mounting').outcome).toBe('pass');
  });

  it('drills the universal bracket where its slots do not reach, and leaves one that may not be drilled', () => {
    // Slots 57 mm apart, 7 mm wide, 14 mm of travel, 6 mm bolts: they reach 57 - 14 - 1 to 57 + 14 + 1 mm; bolts are known to 0.3 mm.
    expect(checkOf(judge(boltsAt(43), catalogue, 'slb-u1-12'), 'mounting').outcome).toBe('pass');
    expect(checkOf(judge(boltsAt(71), catalogue, 'slb-u1-12'), 'mounting').outcome).toBe('pass');
    const drilled = judge(boltsAt(38), catalogue, 'slb-u1-12');
    expect(checkOf(drilled, 'mounting').outcome).toBe('work');
    expect(drilled.placement?.newHoles.map((hole) => hole.in)).toEqual(['bracket']);
    expect(checkOf(judge(boltsAt(38), catalogue, 'ov-3175-12w'), 'mounting').outcome).toBe('fail');
  });

  it('calls a bracket that only goes on from the other side of the panel work', () => {
    const holes = partOf(catalogue, 'qm-6114-12').mounting!.holes;
    const onThisSide = changed(bilge, (record) => {
      record.mounting = { holes: holes.map(({ xMm, yMm }) => ({ xMm, yMm, diameterMm: 5.5 })), boltMm: 5, plusMinusMm: 0.1, drillable: false, panelGrounded: false };
    });
    const mirrored = changed(onThisSide, (record) => { for (const hole of record.mounting!.holes) hole.xMm = -hole.xMm; });
    expect(judge(onThisSide, catalogue, 'qm-6114-12').placement?.flipped).toBe(false);
    expect(checkOf(judge(onThisSide, catalogue, 'qm-6114-12'), 'mounting').outcome).toBe('pass');
    expect(judge(mirrored, catalogue, 'qm-6114-12').placement?.flipped).toBe(true);
    expect(checkOf(judge(mirrored, catalogue, 'qm-6114-12'), 'mounting').outcome).toBe('work');
  });
});
