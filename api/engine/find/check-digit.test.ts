import { describe, expect, it } from 'vitest';
import { checkDigitOf, listOtherForms, readTradeNumber } from './check-digit.ts';

describe('the check digit of a trade item number', () => {
  it.each([
    ['629104150021', 3, 'gs1.org, example of the check digit'], ['890400021003', 7, 'gs1india.org, example'], ['730001100001', 7, 'gs1.se, example'],
    ['01234567890', 5, 'from memory'], ['9638507', 4, 'from memory'],
  ])('after %s is %d (%s)', (digits, check) => {
    expect(checkDigitOf(digits)).toBe(check);
  });

  it('finds every digit misread, and not every swap of neighbours (5 apart)', () => {
    const right = '6291041500213';
    for (let at = 0; at < right.length; at++) {
      for (const digit of '0123456789') {
        const read = right.slice(0, at) + digit + right.slice(at + 1);
        expect(readTradeNumber(read)!.right).toBe(read === right);
      }
    }
    expect(readTradeNumber('2691041500213')!.right).toBe(false);
    expect(checkDigitOf('05')).toBe(checkDigitOf('50'));
  });
});

describe('what looks like a trade item number', () => {
  it.each([
    ['96385074', 'GTIN-8'], ['012345678905', 'GTIN-12'], ['6 291041 500213', 'GTIN-13'], ['00012345678905', 'GTIN-14'], [']E06291041500213', 'GTIN-13'],
    ['(01)00012345678905(10)A7', 'GTIN-14'], ['0100012345678905', 'GTIN-14'], ['010001234567890510A7', 'GTIN-14'],
  ])('%s is a %s', (text, name) => {
    expect(readTradeNumber(text)).toMatchObject({ name, right: true });
  });

  it.each(['', '1234567', '123456789', 'SR-00123456', '12345678901', '1234567890123456789', '01A0012345678905'])('%s is none', (text) => {
    expect(readTradeNumber(text)).toBeUndefined();
  });

  it('stands for the same with other zeros before it', () => {
    expect(listOtherForms(readTradeNumber('012345678905')!)).toEqual(['0012345678905', '00012345678905']);
    expect(listOtherForms(readTradeNumber('00012345678905')!)).toEqual(['012345678905', '0012345678905']);
    expect(listOtherForms(readTradeNumber('6291041500213')!)).toEqual(['06291041500213']);
  });
});
