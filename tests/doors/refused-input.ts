import { caseReturnPart, goodCase, goodHistory, goodNeed, goodPart, goodPrices, goodRecord } from './good-input.ts';

/** One line of the contract's "Refused input", with the path its fault has to name. `text` is sent as it stands. */
export interface RefusedCase {
  readonly why: string;
  readonly as: 'record' | 'part' | 'prices' | 'history' | 'catalogue' | 'need' | 'case';
  readonly input?: unknown;
  readonly text?: string;
  /** start of the fault line */
  readonly line: string;
}

type Tree = Record<string, unknown>;

/** A deep copy of a good input with one place changed. */
function change(good: unknown, path: readonly (string | number)[], value: unknown): unknown {
  const copy: unknown = structuredClone(good);
  let at = copy as Tree;
  for (const step of path.slice(0, -1)) at = at[step] as Tree;
  at[path.at(-1)!] = value;
  return copy;
}

const record = (why: string, path: (string | number)[], value: unknown, line: string): RefusedCase =>
  ({ why, as: 'record', input: change(goodRecord, path, value), line });
const part = (why: string, path: (string | number)[], value: unknown, line: string): RefusedCase =>
  ({ why, as: 'part', input: change(goodPart, path, value), line });
const prices = (why: string, path: (string | number)[], value: unknown, line: string): RefusedCase =>
  ({ why, as: 'prices', input: change(goodPrices, path, value), line });
const history = (why: string, path: (string | number)[], value: unknown, line: string): RefusedCase =>
  ({ why, as: 'history', input: change(goodHistory, path, value), line });
const catalogue = (why: string, parts: unknown, line: string): RefusedCase => ({ why, as: 'catalogue', input: parts, line });

const need = (why: string, path: (string | number)[], value: unknown, line: string): RefusedCase => ({ why, as: 'need', input: change(goodNeed, path, value), line });
const crankCase = (why: string, path: (string | number)[], value: unknown, line: string): RefusedCase => ({ why, as: 'case', input: change(goodCase, path, value), line });

const many = <T>(count: number, make: (index: number) => T): T[] => Array.from({ length: count }, (_, index) => make(index));

export const REFUSED: readonly RefusedCase[] = [
  need('two needs of one id', ['needs', 1, 'id'], 'n1', 'needs[1].id: found "n1"'),
  need('breaks that do not rise', ['offers', 1, 'breaks'], [{ minQty: 4, price: 7 }, { minQty: 4, price: 6 }], 'offers[1].breaks[1].minQty: found 4, want a number above 4: breaks rise'),
  need('more set aside than there is', ['shelf', 0, 'reserved'], 2, 'shelf[0].reserved: found 2'),
  need('a day that does not exist', ['today'], '2026-02-30', 'today: found "2026-02-30"'),
  need('an offer of a supplier that is not there', ['offers', 0, 'supplierId'], 'west', 'offers[0].supplierId: found "west"'),
  need('half a unit', ['needs', 0, 'qty'], 1.5, 'needs[0].qty: found 1.5'),
  crankCase('volts from a point to itself', ['seen', 2, 'minus'], 'coil-feed', 'seen[2].minus: found "coil-feed"'),
  crankCase('a point that is none', ['seen', 2, 'plus'], 'bonnet', 'seen[2].plus: found "bonnet"'),
  crankCase('a sound nobody knows', ['seen', 0, 'heard'], 'song', 'seen[0].heard: found "song"'),
  crankCase('too many observations', ['seen'], many(201, () => ({ kind: 'turn-by-hand', seen: 'free' })), 'seen: found 201 entries, want at most 200 entries'),
  record('an unknown key', ['colour'], 'red', 'colour: found'),
  record('an unknown key further in', ['terminals', 1, 'torque'], 3, 'terminals[1].torque: found'),
  record('a wrong type', ['wires'], 'four', 'wires: found "four", want a list'),
  record('a number given as text', ['system', 'nominalV'], '12', 'system.nominalV: found "12", want a number'),
  { why: 'an infinity', as: 'record', text: JSON.stringify(goodRecord).replace('"nominalV":12', '"nominalV":1e999'), line: 'system.nominalV: found Infinity' },
  { why: 'NaN, which JSON does not have', as: 'record', text: JSON.stringify(goodRecord).replace('"nominalV":12', '"nominalV":NaN'), line: 'input: found text that is not JSON' },
  { why: 'not JSON', as: 'record', text: 'B on the left', line: 'input: found text that is not JSON' },
  { why: 'nothing at all', as: 'record', text: '', line: 'input: found nothing' },
  { why: 'a list instead of a record', as: 'record', text: '[]', line: 'input: found a list, want an object' },
  { why: 'too large a file', as: 'record', text: `{"marked":{"text":"${'x'.repeat(5_000_001)}"}}`, line: 'input: found' },
  record('the contract\'s own example', ['terminals', 0, 'pitchMm'], -1, 'terminals[0].pitchMm: found -1, want a number above 0'),
  record('negative ohms', ['ohms', 0, 'ohm'], -0.1, 'ohms[0].ohm: found -0.1'),
  record('an interval without width', ['demand', 'inrushA', 'plusMinus'], 0, 'demand.inrushA.plusMinus: found 0, want a number above 0'),
  record('min above max', ['system', 'ambientC'], { min: 40, max: -10 }, 'system.ambientC.min: found 40'),
  record('two terminals of one id', ['terminals', 1, 'id'], 'B', 'terminals[1].id: found "B"'),
  record('two wires of one tag', ['wires', 3, 'tag'], 'W1', 'wires[3].tag: found "W1"'),
  record('a wire on a terminal that is not there', ['wires', 0, 'wasOn'], 'X', 'wires[0].wasOn: found "X"'),
  record('a reading at a terminal that is not there', ['ohms', 0, 'between', 1], 'X', 'ohms[0].between[1]: found "X"'),
  record('a reading between a point and itself', ['ohms', 0, 'between', 1], 'S', 'ohms[0].between[1]: found "S"'),
  record('a terminal called case', ['terminals', 0, 'id'], 'case', 'terminals[0].id: found "case"'),
  record('positive ground', ['system', 'ground'], 'positive', 'system.ground: found "positive"'),
  record('interlocks that the wires contradict', ['system', 'interlocks'], 'in-feed', 'system.interlocks: found "in-feed"'),
  record('a thread that is none', ['terminals', 0, 'thread'], 'thick', 'terminals[0].thread: found "thick"'),
  record('too many terminals', ['terminals'], many(17, (i) => ({ id: `T${i}`, form: 'tab' })), 'terminals: found 17 entries, want at most 16 entries'),
  record('too many wires', ['wires'], many(33, (i) => ({ tag: `T${i}`, wasOn: 'B' })), 'wires: found 33 entries, want at most 32 entries'),
  record('too many holes', ['mounting', 'holes'], many(13, (i) => ({ xMm: i, yMm: 0, diameterMm: 5 })), 'mounting.holes: found 13 entries'),
  record('too many readings', ['ohms'], many(201, () => ({ between: ['S', 'R'], ohm: 4 })), 'ohms: found 201 entries'),
  record('too long a string', ['wires', 0, 'colour'], 'R'.repeat(2001), 'wires[0].colour: found 2001 characters'),
  part('a drop-out at or above pull-in', ['circuit', 0, 'dropOutV'], 7, 'circuit[0].dropOutV: found 7, want a number below pullInV (7)'),
  part('a coil between points that are not there', ['circuit', 0, 'between', 1], 'X', 'circuit[0].between[1]: found "X"'),
  part('an element between a node and itself', ['circuit', 1, 'between', 1], 'B', 'circuit[1].between[1]: found "B"'),
  part('a contact worked by no coil of the part', ['circuit', 1, 'coils', 0], 'z', 'circuit[1].coils[0]: found "z"'),
  part('two coils of one id', ['circuit', 1], goodPart.circuit[0], 'circuit[1].id: found "k"'),
  part('an unknown kind of element', ['circuit', 0, 'kind'], 'spring', 'circuit[0].kind: found "spring"'),
  part('an unknown class', ['partClass'], 'alternator', 'partClass: found "alternator"'),
  part('a sealing that is no IEC 60529 code', ['sealing'], 'waterproof', 'sealing: found "waterproof"'),
  part('too many elements', ['circuit'], many(33, (i) => ({ kind: 'resistor', between: ['B', 'M'], ohm: i + 1 })), 'circuit: found 33 entries'),
  prices('more reserved than on hand', ['shelf', 0, 'reserved'], 3, 'shelf[0].reserved: found 3, want a number at most onHand (2)'),
  prices('breaks that do not rise', ['offers', 0, 'breaks', 1, 'minQty'], 5, 'offers[0].breaks[1].minQty: found 5'),
  prices('a date that does not exist', ['today'], '2026-02-30', 'today: found "2026-02-30"'),
  prices('an offer of a supplier that is not there', ['offers', 0, 'supplierId'], 'south', 'offers[0].supplierId: found "south"'),
  prices('two suppliers of one id', ['suppliers'], [goodPrices.suppliers[0], goodPrices.suppliers[0]], 'suppliers[1].id: found "north"'),
  prices('one supplier\'s two offers for one part', ['offers'], [goodPrices.offers[0], goodPrices.offers[0]], 'offers[1].partId: found'),
  prices('negative money', ['offers', 0, 'price'], -1, 'offers[0].price: found -1'),
  prices('half a day of lead time', ['offers', 0, 'leadDays'], 1.5, 'offers[0].leadDays: found 1.5, want a whole number'),
  history('a count of came-backs below nothing', [0, 'cameBack'], -1, '[0].cameBack: found -1'),
  history('a part and kind of machine twice', [1], goodHistory[0], '[1].partId: found "ov-3120-12"'),
  history('an unknown key in what was learned', [2, 'fitted'], 3, '[2].fitted: found'),

  catalogue('two parts of one id', [goodPart, { ...caseReturnPart, id: 'same' }], '[1].id (part 1, id "same"): found "same"'),
  catalogue('a successor that is not there', [{ ...goodPart, supersededBy: ['gone'] }], '[0].supersededBy[0] (part 0, id "same"): found "gone"'),
  catalogue('a cycle of supersession', [{ ...goodPart, supersededBy: ['case-return'] }, { ...caseReturnPart, supersededBy: ['same'] }], '[1].supersededBy[0] (part 1, id "case-return"): found "same"'),
  catalogue('a fault inside one part', [goodPart, change(caseReturnPart, ['circuit', 0, 'ohmAt20C'], 0)], '[1].circuit[0].ohmAt20C (part 1, id "case-return"): found 0'),
];
