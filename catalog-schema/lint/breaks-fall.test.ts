import { expect, it } from 'vitest';
import { breaksFall } from './breaks-fall.ts';
import { soundData } from './sound-example.ts';

it('breaks-fall finds nothing in sound data', () => {
  expect(breaksFall.check(soundData)).toEqual([]);
});

it('breaks-fall finds a planted fault: p: 10 from 5 on is not below 10', () => {
  expect(breaksFall.check({ ...soundData, shop: { ...soundData.shop!, offers: [{ supplierId: 's', partId: 'p', price: 10, leadDays: 1, breaks: [{ minQty: 5, price: 10 }] }] } })).toEqual([{ where: 'offers[0]', words: 'p: 10 from 5 on is not below 10' }]);
});
