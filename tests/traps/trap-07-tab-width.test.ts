import { describe, expect, it } from 'vitest';
import { checkOf, judge } from './ask-fit.ts';
import { changed, readDemoCatalogue, readDemoJob } from './read-demo.ts';

const catalogue = readDemoCatalogue();
const wide = changed(readDemoJob('concrete-float-untraced-wire').record, (record) => { record.wires![3]!.leadsTo = 'chassis'; });
const narrow = changed(wide, (record) => { record.wires![2]!.end = { form: 'receptacle', tabWidthMm: 4.8 }; });

describe('tab width', () => {
  it('asks for a new receptacle where a 4.8 mm one meets a 6.3 mm tab', () => {
    const entry = judge(narrow, catalogue, 'ov-3120-12');
    expect(entry.verdict).toBe('adapt');
    expect(checkOf(entry, 'tab').outcome).toBe('work');
    expect(entry.rewire?.wires.find((wire) => wire.tag === '3')).toMatchObject({ moved: false, newEnd: true });
    expect(entry.kit.some((item) => /receptacle/i.test(item.item) && /6\.3/.test(`${item.item} ${item.detail}`))).toBe(true);
  });

  it('asks for nothing where the receptacle is 6.3 mm wide', () => {
    const entry = judge(wide, catalogue, 'ov-3120-12');
    expect(entry.verdict).toBe('direct');
    expect(checkOf(entry, 'tab').outcome).toBe('pass');
    expect(entry.kit).toEqual([]);
  });
});
