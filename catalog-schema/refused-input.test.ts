import { describe, expect, it } from 'vitest';
import {
  LIMITS, jobEdit, printFault, readCatalogue, readHistory, readInput, readJobDocument, readJsonText, readNeed, readPart, readPrices, readProveCase, readRecord, type Read,
} from './index.ts';

// One case for each thing the data contract refuses: what is read, with which reader, and the whole fault line.

const record = (more: object): unknown => ({ system: { nominalV: 12 }, ...more });
const stud = { id: 'A', form: 'stud' };
const part = (more: object): unknown => ({
  id: 'p', partClass: 'start-relay', title: 'a relay', terminals: [{ id: 'A', form: 'stud' }, { id: 'B', form: 'stud' }, { id: 'S', form: 'tab' }],
  circuit: [], ...more,
});
const coil = { kind: 'coil', id: 'c', between: ['S', 'case'], nominalV: 12 };
const contact = { kind: 'contact', id: 'k', between: ['A', 'B'], form: 'NO', coils: [] };
const stock = { shelf: [], suppliers: [{ id: 's', freight: 5 }], offers: [] };
const offer = { supplierId: 's', partId: 'p', price: 10, leadDays: 2 };
const prices = (more: object): unknown => ({ currency: 'EUR', today: '2026-03-01', ...stock, ...more });
const need = (more: object): unknown => ({ currency: 'EUR', today: '2026-03-01', needs: [], ...stock, ...more });
const learned = { partId: 'p', held: 1, cameBack: 0 };
const oneNeed = { id: 'n', qty: 1, by: '2026-03-05', anyOf: [{ partId: 'p' }] };
const proof = (more: object): unknown => ({ system: { nominalV: 12 }, seen: [], ...more });
const many = <T>(count: number, make: (i: number) => T): T[] => Array.from({ length: count }, (_, i) => make(i));

type Case = [why: string, read: (value: unknown) => Read<unknown>, value: unknown, line: string];

const CASES: Case[] = [
  ['the contract\'s own example', readRecord, record({ terminals: [{ ...stud, pitchMm: -1 }] }), 'terminals[0].pitchMm: found -1, want a number above 0'],

  ['an unknown key', readRecord, record({ colour: 'RD' }), 'colour: found a key that is not known, want it left out'],
  ['an unknown key deep inside', readPart, part({ mounting: { holes: [{ xMm: 0, yMm: 0, diameterMm: 6, depthMm: 2 }] } }), 'mounting.holes[0].depthMm: found a key that is not known, want it left out'],
  ['an unknown key in one form of a union', readPart, part({ circuit: [{ kind: 'diode', from: 'A', to: 'B', ohm: 1 }] }), 'circuit[0].ohm: found a key that is not known, want it left out'],
  ['a key named __proto__', readRecord, JSON.parse('{"system":{"nominalV":12,"__proto__":{"nominalV":24}}}'), 'system.__proto__: found a key that is not known, want it left out'],
  ['a key that breaks the line', readRecord, record({ 'a\nb': 1 }), '"a\\nb": found a key that is not known, want it left out'],

  ['text for a number', readRecord, { system: { nominalV: '12' } }, 'system.nominalV: found "12", want a number'],
  ['text for a measured number', readRecord, record({ terminals: [{ ...stud, pitchMm: '1.25' }] }), 'terminals[0].pitchMm: found "1.25", want a number, or {value, plusMinus}'],
  ['a number for a text', readPart, part({ title: 5 }), 'title: found 5, want text'],
  ['a list for an object', readRecord, [], 'input: found a list, want an object'],
  ['nothing at all', readRecord, undefined, 'input: found nothing, want an object'],
  ['null for a list', readPart, part({ terminals: null }), 'terminals: found null, want a list'],
  ['a missing field', readRecord, {}, 'system: found nothing, want an object'],
  ['a word that is not one of those known', readRecord, record({ terminals: [{ ...stud, form: 'bolt' }] }), 'terminals[0].form: found "bolt", want one of "stud", "tab", "screw", "lead", "pin"'],
  ['an element of no known kind', readPart, part({ circuit: [{ kind: 'spark' }] }), 'circuit[0].kind: found "spark", want a known kind ("coil", "contact", "diode", "resistor", "motor")'],
  ['a wire end of no known form', readRecord, record({ wires: [{ tag: 'W1', wasOn: 'A', end: { form: 'plug' } }] }), 'wires[0].end.form: found "plug", want a known form ("ring", "receptacle", "bare")'],
  ['a wire end without its hole', readRecord, record({ wires: [{ tag: 'W1', wasOn: 'A', end: { form: 'ring' } }] }), 'wires[0].end.holeMm: found nothing, want a number'],
  ['a reading that is neither number nor open', readRecord, record({ ohms: [{ between: ['A', 'B'], ohm: 'shut' }] }), 'ohms[0].ohm: found "shut", want a number, or {value, plusMinus}'],
  ['three points of one reading', readRecord, record({ ohms: [{ between: ['A', 'B', 'C'], ohm: 1 }] }), 'ohms[0].between: found 3 entries, want a list of two nodes'],
  ['no thread', readRecord, record({ terminals: [{ ...stud, thread: 'stud' }] }), 'terminals[0].thread: found "stud", want a thread such as M8x1.25, 1/4-20 or #10-32'],
  ['no sealing code', readPart, part({ sealing: 'IP99' }), 'sealing: found "IP99", want an IEC 60529 code such as IP67'],
  ['no currency code', readPrices, prices({ currency: 'euro' }), 'currency: found "euro", want an ISO 4217 currency code such as EUR'],

  ['NaN', readRecord, { system: { nominalV: Number.NaN } }, 'system.nominalV: found NaN, want a finite number'],
  ['an infinity', readRecord, { system: { nominalV: -Infinity } }, 'system.nominalV: found -Infinity, want a finite number'],
  ['a number too large to hold', readRecord, JSON.parse('{"system":{"nominalV":1e999}}'), 'system.nominalV: found Infinity, want a finite number'],

  ['negative ohms', readRecord, record({ ohms: [{ between: ['A', 'B'], ohm: -1 }] }), 'ohms[0].ohm: found -1, want a number of at least 0'],
  ['negative ohms of a coil', readPart, part({ circuit: [{ ...coil, ohmAt20C: -4 }] }), 'circuit[0].ohmAt20C: found -4, want a number above 0'],
  ['plusMinus of 0', readRecord, record({ ohms: [{ between: ['A', 'B'], ohm: { value: 4, plusMinus: 0 } }] }), 'ohms[0].ohm.plusMinus: found 0, want a number above 0'],
  ['plusMinus missing', readRecord, record({ terminals: [{ ...stud, pitchMm: { value: 1 } }] }), 'terminals[0].pitchMm.plusMinus: found nothing, want a number'],
  ['min above max', readRecord, { system: { nominalV: 12, ambientC: { min: 40, max: 20 } } }, 'system.ambientC.min: found 40, want a number at most max (20)'],
  ['dropOutV at pullInV', readPart, part({ circuit: [{ ...coil, pullInV: 7, dropOutV: 7 }] }), 'circuit[0].dropOutV: found 7, want a number below pullInV (7)'],
  ['more reserved than there is', readPrices, prices({ shelf: [{ partId: 'p', onHand: 1, reserved: 2, unitCost: 3 }] }), 'shelf[0].reserved: found 2, want a number at most onHand (1)'],
  ['breaks that do not rise', readNeed, need({ offers: [{ ...offer, breaks: [{ minQty: 5, price: 9 }, { minQty: 5, price: 8 }] }] }), 'offers[0].breaks[1].minQty: found 5, want a number above 5: breaks rise'],
  ['a day that does not exist', readNeed, need({ today: '2026-02-30' }), 'today: found "2026-02-30", want a day that exists, YYYY-MM-DD'],
  ['a day written otherwise', readPrices, prices({ offers: [{ ...offer, validUntil: '1.3.2026' }] }), 'offers[0].validUntil: found "1.3.2026", want a day that exists, YYYY-MM-DD'],
  ['half a unit', readNeed, need({ needs: [{ ...oneNeed, qty: 1.5 }] }), 'needs[0].qty: found 1.5, want a whole number'],
  ['half a day of lead', readPrices, prices({ offers: [{ ...offer, leadDays: 0.5 }] }), 'offers[0].leadDays: found 0.5, want a whole number'],
  ['negative money', readPrices, prices({ labourPerHour: -60 }), 'labourPerHour: found -60, want a number of at least 0'],
  ['a nominal voltage of 0', readRecord, { system: { nominalV: 0 } }, 'system.nominalV: found 0, want a number above 0'],
  ['colder than absolute zero', readRecord, record({ benchC: -300 }), 'benchC: found -300, want a number above -273.15'],
  ['a positive ground, until it is handled', readRecord, { system: { nominalV: 12, ground: 'positive' } }, 'system.ground: found "positive", want negative: a positive-ground machine is not handled yet'],
  ['interlocks that the wires contradict', readRecord, { system: { nominalV: 12, interlocks: 'in-feed' }, wires: [{ tag: 'W2', wasOn: 'I', leadsTo: 'interlocked-return' }] }, 'system.interlocks: found "in-feed", want in-return or both, since wire W2 leads to interlocked-return'],

  ['two parts of one id', readCatalogue, [part({}), part({})], '[1].id (part 1, id "p"): found "p", want a part id that is not used twice'],
  ['two terminals of one id', readPart, part({ terminals: [stud, stud] }), 'terminals[1].id: found "A", want a terminal id that is not used twice'],
  ['two terminals of one id in a record', readRecord, record({ terminals: [stud, stud] }), 'terminals[1].id: found "A", want a terminal id that is not used twice'],
  ['a terminal called case', readPart, part({ terminals: [{ id: 'case', form: 'stud' }] }), 'terminals[0].id: found "case", want a terminal id other than case and chassis'],
  ['two coils of one id', readPart, part({ circuit: [coil, { ...coil, between: ['A', 'B'] }] }), 'circuit[1].id: found "c", want a coil id that is not used twice'],
  ['two wires of one tag', readRecord, record({ wires: [{ tag: 'W1', wasOn: 'A' }, { tag: 'W1', wasOn: 'B' }] }), 'wires[1].tag: found "W1", want a wire tag that is not used twice'],
  ['two needs of one id', readNeed, need({ needs: [oneNeed, oneNeed] }), 'needs[1].id: found "n", want a need id that is not used twice'],
  ['two suppliers of one id', readNeed, need({ suppliers: [stock.suppliers[0], stock.suppliers[0]] }), 'suppliers[1].id: found "s", want a supplier id that is not used twice'],
  ['one part and machine kind twice in a history', readHistory, [learned, { ...learned, machineKind: 'crane' }, learned], '[2].partId: found "p", want a part that has one row for each kind of machine'],
  ['a count below nothing', readHistory, [{ ...learned, held: -1 }], '[0].held: found -1, want a number of at least 0'],
  ['half a fitting', readHistory, [{ ...learned, cameBack: 0.5 }], '[0].cameBack: found 0.5, want a whole number'],
  ['a history that is no list', readHistory, learned, 'input: found an object, want a list'],
  ['an unknown key in a history', readHistory, [{ ...learned, fitted: 3 }], '[0].fitted: found a key that is not known, want it left out'],
  ['too long a history', readHistory, many(LIMITS.historyRows + 1, (i) => ({ ...learned, partId: `p${i}` })), 'input: found 20001 entries, want at most 20000 entries'],
  ['one supplier\'s two offers for one part', readPrices, prices({ offers: [offer, offer] }), 'offers[1].partId: found "p", want a part that supplier s offers only once'],

  ['an element on no terminal', readPart, part({ circuit: [{ ...coil, between: ['S', 'Q'] }] }), 'circuit[0].between[1]: found "Q", want a terminal id, an inner joint or case (A, B, S, case)'],
  ['a diode from nowhere', readPart, part({ circuit: [{ kind: 'diode', from: 'Q', to: 'A' }] }), 'circuit[0].from: found "Q", want a terminal id, an inner joint or case (A, B, S, case)'],
  ['a contact worked by no coil', readPart, part({ circuit: [{ ...contact, coils: ['z'] }] }), 'circuit[0].coils[0]: found "z", want the id of a coil of this part'],
  ['a reading at no terminal', readRecord, record({ terminals: [stud], ohms: [{ between: ['A', 'Q'], ohm: 1 }] }), 'ohms[0].between[1]: found "Q", want the id of a terminal of this record, or case'],
  ['a probe on neither point', readRecord, record({ ohms: [{ between: ['A', 'B'], ohm: 1, plusOn: 'C' }] }), 'ohms[0].plusOn: found "C", want one of the two points touched (A, B)'],
  ['a wire from no terminal', readRecord, record({ terminals: [stud], wires: [{ tag: 'W1', wasOn: 'Q' }] }), 'wires[0].wasOn: found "Q", want the id of a terminal of this record, or case'],
  ['a successor that is not there', readCatalogue, [part({ supersededBy: ['gone'] })], '[0].supersededBy[0] (part 0, id "p"): found "gone", want the id of a part of this catalogue'],
  ['an offer of nobody', readPrices, prices({ offers: [{ ...offer, supplierId: 'x' }] }), 'offers[0].supplierId: found "x", want the id of a supplier of this input'],

  ['an element between a node and itself', readPart, part({ circuit: [{ ...coil, between: ['S', 'S'] }] }), 'circuit[0].between[1]: found "S", want a node other than the first'],
  ['a diode from a node to itself', readPart, part({ circuit: [{ kind: 'diode', from: 'A', to: 'A' }] }), 'circuit[0].to: found "A", want a node other than the first'],
  ['a reading from a point to itself', readRecord, record({ ohms: [{ between: ['A', 'A'], ohm: 0 }] }), 'ohms[0].between[1]: found "A", want a node other than the first'],
  ['volts from a point to itself', readProveCase, proof({ seen: [{ kind: 'volts', startSwitch: true, plus: 'chassis', minus: 'chassis', volts: 0 }] }), 'seen[0].minus: found "chassis", want a point other than plus'],
  ['a part that succeeds itself', readCatalogue, [part({ supersededBy: ['p'] })], '[0].supersededBy[0] (part 0, id "p"): found "p", want a successor that does not lead back to this part'],
  ['a cycle of supersession', readCatalogue, [part({ supersededBy: ['q'] }), part({ id: 'q', supersededBy: ['p'] })], '[1].supersededBy[0] (part 1, id "q"): found "p", want a successor that does not lead back to this part'],

  ['17 terminals', readPart, part({ terminals: many(17, (i) => ({ id: `T${i}`, form: 'pin' })) }), 'terminals: found 17 entries, want at most 16 entries'],
  ['33 elements', readPart, part({ circuit: many(33, () => ({ kind: 'resistor', between: ['A', 'B'], ohm: 1 })) }), 'circuit: found 33 entries, want at most 32 entries'],
  ['13 holes', readRecord, record({ mounting: { holes: many(13, (i) => ({ xMm: i * 20, yMm: 0, diameterMm: 6 })) } }), 'mounting.holes: found 13 entries, want at most 12 entries'],
  ['33 wires', readRecord, record({ wires: many(33, (i) => ({ tag: `W${i}`, wasOn: 'A' })) }), 'wires: found 33 entries, want at most 32 entries'],
  ['201 readings', readRecord, record({ ohms: many(201, () => ({ between: ['A', 'B'], ohm: 1 })) }), 'ohms: found 201 entries, want at most 200 entries'],
  ['201 observations', readProveCase, proof({ seen: many(201, () => ({ kind: 'turn-by-hand', seen: 'free' })) }), 'seen: found 201 entries, want at most 200 entries'],
  ['501 needs', readNeed, need({ needs: many(501, (i) => ({ ...oneNeed, id: `n${i}` })) }), 'needs: found 501 entries, want at most 500 entries'],
  ['20,001 offers', readPrices, prices({ offers: many(20_001, (i) => ({ ...offer, partId: `p${i}` })) }), 'offers: found 20001 entries, want at most 20000 entries'],
  ['a text of 2,001 characters', readPart, part({ title: 'x'.repeat(2001) }), 'title: found 2001 characters, want at most 2000 characters'],
  ['text that is not JSON', (text) => readJsonText(String(text), LIMITS.jsonRequestBytes), '{nominalV: 12}', 'input: found text that is not JSON ("{nominalV: 12}"), want a JSON value'],
  ['an empty text', (text) => readJsonText(String(text), LIMITS.jsonRequestBytes), ' ', 'input: found nothing, want a JSON value'],
  ['a JSON text that is too large', (text) => readJsonText(String(text), 5), '"ééé"', 'input: found 8 bytes, want at most 5 bytes'],
];

describe('refused input', () => {
  it.each(CASES)('%s', (_why, read, value, line) => {
    const answer = read(value);
    expect(answer.ok ? [] : answer.faults.map(printFault)).toEqual([line]);
  });

  it('lets the limits themselves through', () => {
    expect(readPart(part({ terminals: many(16, (i) => ({ id: `T${i}`, form: 'pin' })), title: 'x'.repeat(2000) })).ok).toBe(true);
    expect(readRecord(record({ ohms: many(200, () => ({ between: ['A', 'B'], ohm: 'open' })), wires: many(32, (i) => ({ tag: `W${i}`, wasOn: 'A' })) })).ok).toBe(true);
    expect(readJsonText('"ééé"', 8).ok).toBe(true);
  });

  it('leaves readings and wires free to name any point while the record lists no terminals', () => {
    expect(readRecord(record({ ohms: [{ between: ['left', 'right'], ohm: 4 }], wires: [{ tag: 'W1', wasOn: 'left' }] })).ok).toBe(true);
  });

  it('gives each fault its own line, also those of references while a field elsewhere has the wrong type', () => {
    const answer = readPart(part({ title: 5, circuit: [{ ...coil, nominalV: -1, pullInV: 3, dropOutV: 4 }, { ...contact, between: ['A', 'Q'], coils: ['z'] }] }));
    expect(answer.ok ? [] : answer.faults.map((fault) => fault.path)).toEqual(
      ['title', 'circuit[0].nominalV', 'circuit[0].dropOutV', 'circuit[1].coils[0]', 'circuit[1].between[1]']);
  });

  it('says nothing of references to a list that cannot be read', () => {
    const answer = readPart(part({ terminals: 'A, B', circuit: [coil] }));
    expect(answer.ok ? [] : answer.faults.map(printFault)).toEqual(['terminals: found "A, B", want a list']);
  });

  it('refuses a value nested without end instead of running out of stack, wherever it stands', () => {
    let deep: unknown = 1;
    for (let i = 0; i < 100_000; i++) deep = i % 2 === 0 ? [deep] : { a: deep };
    const edit = { id: crypto.randomUUID(), field: ['title'], base: 0, at: '2026-03-01T09:30:00Z' };
    const answers = [readRecord(deep), readRecord(record({ wires: deep })), readInput(jobEdit, { ...edit, value: deep }), readCatalogue([deep]), readJobDocument({ title: 't', record: deep as never })];
    for (const answer of answers) expect(answer.ok ? [] : answer.faults.map((fault) => fault.want)).toContain('at most 64 levels');
    expect(jobEdit.safeParse({ ...edit, value: deep }).success).toBe(false);
  });

  it('keeps a million faults to a list a person can read', () => {
    const answer = readCatalogue(many(3000, () => 0));
    expect(answer.ok ? 0 : answer.faults.length).toBe(LIMITS.faultsListed + 1);
    expect(answer.ok ? '' : answer.faults.map(printFault)).toContain('input: found 2000 more faults, want the ones above mended first');
  });

  it('does not change what it reads', () => {
    const value = Object.freeze(record({ terminals: Object.freeze([Object.freeze({ ...stud, thread: 'm8 x 1.25' })]) }));
    expect(readRecord(value)).toEqual({ ok: true, value });
  });
});

describe('a catalogue of twenty thousand parts', () => {
  const parts = many(20_000, (i) => part({ id: `p${i}`, circuit: [coil, { ...contact, coils: ['c'] }], ...(i % 3 === 0 && i < 19_999 && { supersededBy: [`p${i + 1}`] }) }));

  it('reads in seconds at worst: ids and successors are looked up, not searched for', () => {
    const started = performance.now();
    expect(readCatalogue(parts).ok).toBe(true);
    // About 0.4 s on an idle machine; the bound leaves room for a busy one and none for a quadratic search.
    expect(performance.now() - started).toBeLessThan(4000);
  });

  it('follows one chain of successors through all of it', () => {
    const chain = many(20_000, (i) => part({ id: `p${i}`, supersededBy: [`p${(i + 1) % 20_000}`] }));
    const answer = readCatalogue(chain);
    expect(answer.ok ? [] : answer.faults.map((fault) => fault.partIndex)).toEqual([19_999]);
  });
});
