import { expect, it } from 'vitest';
import { readPlace } from '../../app/router.ts';
import { findPath } from './find-path.ts';

it.each(['SR-0012/B', 'a?b#c', '100 %', '\u7535 12', 'x'.repeat(2_000), '%2F'])('leads back to %s', (text) => {
  expect(readPlace(new URL(findPath(text), 'http://shop').pathname)).toEqual({ kind: 'find', text });
});

it('asks nothing where there is nothing to ask', () => {
  for (const text of ['', ' ', '.', '..']) expect(findPath(text)).toBe('/find');
  expect(readPlace('/find')).toEqual({ kind: 'find', text: '' });
});
