import { describe, expect, it } from 'vitest';
import { readPlace } from './router.ts';

describe('an address of the page', () => {
  it.each([
    ['/', { kind: 'jobs' }], ['/start', { kind: 'start-job' }], ['/settings', { kind: 'settings' }], ['/gauge', { kind: 'gauge' }], ['/waiting', { kind: 'waiting' }], ['/counter', { kind: 'counter' }],
    ['/counter/bench', { kind: 'counter-step', step: 'bench', detail: undefined }],
    ['/counter/fits/p%201', { kind: 'counter-step', step: 'fits', detail: 'p 1' }],
    ['/jobs/abc', { kind: 'job', id: 'abc', step: undefined, detail: undefined }],
    ['/jobs/abc/as-found', { kind: 'job', id: 'abc', step: 'as-found', detail: undefined }],
    ['/jobs/abc/fits/sb-12%2F4', { kind: 'job', id: 'abc', step: 'fits', detail: 'sb-12/4' }],
    ['/jobs/abc/bench/', { kind: 'job', id: 'abc', step: 'bench', detail: undefined }],
  ])('%s is read', (path, place) => {
    expect(readPlace(path)).toEqual(place);
  });

  it.each(['/nothing', '/jobs/abc/nothing', '/counter/nothing', '/jobs', '/jobs/a/fits/b/c'])('%s is nowhere', (path) => {
    expect(readPlace(path)).toEqual({ kind: 'nowhere' });
  });

  it('keeps an id whose escape is broken as it stands', () => {
    expect(readPlace('/jobs/%E0%A4')).toMatchObject({ kind: 'job', id: '%E0%A4' });
  });
});
