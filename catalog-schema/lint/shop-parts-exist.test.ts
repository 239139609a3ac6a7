import { expect, it } from 'vitest';
import { shopPartsExist } from './shop-parts-exist.ts';
import { soundData } from './sound-example.ts';

it('shop-parts-exist finds nothing in sound data', () => {
  expect(shopPartsExist.check(soundData)).toEqual([]);
});

it('shop-parts-exist finds a part on the shelf that is not in the catalogue', () => {
  expect(shopPartsExist.check({ ...soundData, shop: { ...soundData.shop!, shelf: [{ partId: 'gone', onHand: 1, unitCost: 1 }] } })).toEqual([{ where: 'shelf[0]', words: 'no part gone' }]);
});

it('shop-parts-exist finds an offer for a part that is not in the catalogue', () => {
  expect(shopPartsExist.check({ ...soundData, shop: { ...soundData.shop!, offers: [{ supplierId: 's', partId: 'gone', price: 1, leadDays: 1 }] } })).toEqual([{ where: 'offers[0]', words: 'no part gone' }]);
});
