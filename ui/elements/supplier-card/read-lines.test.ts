import { expect, it } from 'vitest';
import { readBreaks, readDays, readTaxes } from './read-lines.ts';

it('days are read one a line, and one that does not exist is named', () => {
  expect(readDays(' 2026-12-25\n\n2028-02-29 ')).toEqual({ ok: true, value: ['2026-12-25', '2028-02-29'] });
  expect(readDays('2026-12-25\n2026-02-29')).toEqual({ ok: false, line: '2026-02-29' });
});

it('prices from a quantity on are read with a point or a comma', () => {
  expect(readBreaks('5: 8.25\n10 = 7,5')).toEqual({ ok: true, value: [{ minQty: 5, price: 8.25 }, { minQty: 10, price: 7.5 }] });
  expect(readBreaks('5 8.25')).toEqual({ ok: false, line: '5 8.25' });
  expect(readBreaks('0: 1')).toEqual({ ok: false, line: '0: 1' });
});

it('taxes are read with their rate and name, commas in the name and all', () => {
  expect(readTaxes('full, 20, VAT, 20 %\nnone, 0, free')).toEqual({ ok: true, value: [{ id: 'full', percent: 20, words: 'VAT, 20 %' }, { id: 'none', percent: 0, words: 'free' }] });
  expect(readTaxes('full, 120, VAT')).toEqual({ ok: false, line: 'full, 120, VAT' });
});
