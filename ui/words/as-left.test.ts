import { describe, expect, it } from 'vitest';
import { LEADS_TO } from '../../catalog-schema/index.ts';
import { readWireColour } from '../drawing/index.ts';
import { formatEnd } from '../format.ts';
import { STEP_WORDS } from '../worker/as-left.ts';
import { sayColour, sayEnd } from '../../api/engine/as-left/index.ts';
import { words } from '../words.ts';
import { fitsWords } from '../words/fits.ts';
import { asLeftWords } from '../words/as-left.ts';

describe('the checklist and the screens', () => {
  it('name duties, terminals, ends and kit alike', () => {
    for (const leadsTo of LEADS_TO) expect(STEP_WORDS.leadsTo[leadsTo]).toBe(words.wire.leadsTo[leadsTo].name);
    expect(STEP_WORDS.node).toEqual(words.node);
    for (const marking of [undefined, 'B', 'BAT']) expect(STEP_WORDS.terminal('B', marking)).toBe(words.wiring.terminal('B', marking));
    for (const unit of ['mm', 'inch'] as const) {
      for (const end of [undefined, { form: 'bare' as const }, { form: 'ring' as const, holeMm: 8.4 }, { form: 'receptacle' as const, tabWidthMm: 6.3 }]) expect(sayEnd(end, unit)).toBe(formatEnd(end, unit));
    }
    expect(STEP_WORDS.end.new).toBe(words.wire.newEnd);
    expect(STEP_WORDS.kitItem(2, 'ring lug', '5/16')).toBe(fitsWords.kitItem(2, 'ring lug', '5/16'));
    for (const items of [[], ['a'], ['a', 'b'], ['a', 'b', 'c']]) expect(STEP_WORDS.list(items)).toBe(words.list(items));
    for (const colour of ['YE', 'ye/gn', 'YEGN', 'mauve']) expect(sayColour(colour)).toBe(readWireColour(colour).letters);
  });

  it('warn of an untested interlock alike', () => {
    expect(asLeftWords.cautionRelease).toBe(STEP_WORDS.cautionRelease);
  });
});
