import { describe, expect, it } from 'vitest';
import { readPicked, writePicked } from './picked.ts';

const read = (address: string, parts: string[] = []): string[] | undefined => readPicked(decodeURIComponent(address), new Set(parts));

describe('parts laid side by side, in an address', () => {
  it.each([[['a']], [['a', 'b&c', 'd/e']], [['&', '%41', 'ü ?']]])('are read as written: %j', (ids) => {
    expect(writePicked(ids)).not.toMatch(/[/?#&]/);
    expect(read(writePicked(ids))).toEqual(ids);
  });

  it('are three at most, each once', () => {
    expect(read(writePicked(['a', 'b', 'a', 'c', 'd']))).toEqual(['a', 'b', 'c']);
  });

  it('are none where one part is opened, even one whose id looks like several', () => {
    expect(read('a')).toBeUndefined();
    expect(readPicked(undefined, new Set())).toBeUndefined();
    expect(read('%26a%26b', ['&a&b'])).toBeUndefined();
  });
});
