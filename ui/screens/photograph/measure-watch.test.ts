import { describe, expect, it } from 'vitest';
import type { MarkedPhotograph, MeasuredPhotograph } from '../../../api/engine/photograph/index.ts';
import type { JobPhotograph } from '../../../catalog-schema/index.ts';
import { ServiceFault, type Desk } from '../../client/index.ts';
import { MeasureWatch } from './measure-watch.ts';

const settle = (): Promise<void> => new Promise((resolve) => { setTimeout(resolve, 0); });
const photograph = (longEdge?: string): JobPhotograph => ({ name: 'p', at: '2026-03-01T09:30:00Z', widthPx: 100, heightPx: 100, ...(longEdge === undefined ? {} : { longEdge }) });

/** A worker that answers when the test says so, with the name of the edge it was asked about in `order`. */
function makeWatch() {
  const asked: string[] = [];
  const answers: (() => void)[] = [];
  const closed: string[] = [];
  let missing = false;
  const desk = {
    photographs: { find: async (_job: string, hash: string) => { if (missing) throw new ServiceFault('not-found', ''); return hash; } },
    pictures: {
      open: async (blob: unknown) => ({ name: blob, close: () => closed.push(blob as string) }),
      measure: (marked: MarkedPhotograph) => new Promise((resolve) => {
        asked.push(marked.longEdge ?? '-');
        answers.push(() => resolve({ order: [marked.longEdge ?? '-'] } as unknown as MeasuredPhotograph));
      }),
    },
  } as unknown as Desk;
  return { watch: new MeasureWatch(desk), asked, closed, answer: async () => { answers.shift()?.(); await settle(); }, lose: () => { missing = true; } };
}

describe('a picture that is being measured', () => {
  it('is opened once and asked about once while nothing changes', async () => {
    const { watch, asked, answer } = makeWatch();
    watch.look('j', 'h', photograph());
    watch.look('j', 'h', photograph());
    await settle();
    await answer();
    watch.look('j', 'h', photograph());
    await settle();
    expect([asked, watch.measured?.order, watch.failed]).toEqual([['-'], ['-'], '']);
  });

  it('is asked about the newest marks only, when several change during one answer', async () => {
    const { watch, asked, answer } = makeWatch();
    watch.look('j', 'h', photograph());
    await settle();
    for (const edge of ['a', 'b', 'c']) watch.look('j', 'h', photograph(edge));
    await answer();
    await answer();
    expect([asked, watch.measured?.order]).toEqual([['-', 'c'], ['c']]);
  });

  it('gives way to another picture, is let go of, and its late answer is not taken for the other’s', async () => {
    const { watch, closed, answer } = makeWatch();
    watch.look('j', 'h', photograph('old'));
    await settle();
    watch.look('j', 'i', photograph('new'));
    await answer();
    expect([closed, watch.measured]).toEqual([['h'], undefined]);
    await settle();
    await answer();
    expect(watch.measured?.order).toEqual(['new']);
  });

  it('says so when its bytes are nowhere, and tries again after it was closed', async () => {
    const { watch, lose } = makeWatch();
    lose();
    watch.look('j', 'h', photograph());
    await settle();
    expect(watch.failed).not.toBe('');
    watch.close();
    expect(watch.failed).toBe('');
  });
});
