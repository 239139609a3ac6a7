import type { Catalogue, Part } from '../../../catalog-schema/index.ts';
import { normaliseNumber } from '../normalise-number.ts';
import { factsOf } from '../part-facts.ts';
import { patternKeyOf } from '../placement/index.ts';
import { circuitKeyOf, formKeyOf } from '../rewire/index.ts';
import { CoilCensus } from './coil-census.ts';
import { GrowingArray } from './growing-array.ts';
import { COLUMNS, measureColumns, profileOf, rememberMajors } from './index-columns.ts';
import { hashText } from './number-hash.ts';
import { SHARED_PIECES, takeApart } from './part-pieces.ts';
import { NO_CODE, nameSettings } from './snapshot-layout.ts';
import { writeSections, type SectionArray } from './section-file.ts';
import { encodeText } from './text-coding.ts';
import { TextDictionary, TextStore } from './text-store.ts';
import { encodeColumn } from './value-column.ts';

/** Takes a catalogue one part at a time, so that one of a million parts need not be in memory at once. */
export interface SnapshotWriter {
  /** @throws on an id that came before: a catalogue has been read before it is written */
  add(part: Part): void;
  /** The whole file; the writer is of no use after it. */
  finish(): ArrayBuffer;
}

/** One binary file of a catalogue: parts taken apart and kept without loss, and the columns a fit is sorted out by. */
export function writeSnapshot(catalogue: Catalogue): ArrayBuffer {
  const writer = createSnapshotWriter();
  for (const part of catalogue) writer.add(part);
  return writer.finish();
}

export function createSnapshotWriter(): SnapshotWriter {
  const ids: string[] = [];
  const own = new TextStore();
  const keys = new TextDictionary();
  const keyCodes = new GrowingArray(new Uint32Array(0));
  const shared = SHARED_PIECES.map((name) => ({ name, dictionary: new TextDictionary(), codes: new GrowingArray(new Uint32Array(0)) }));
  const profiles = new TextDictionary();
  const profileCodes = new GrowingArray(new Uint32Array(0));
  const columns = COLUMNS.map((name) => ({ name, numbers: new GrowingArray(new Float64Array(0)) }));
  const sealing = new TextDictionary();
  sealing.codeOf('');
  const sealingCodes = new GrowingArray(new Uint32Array(0));
  const patterns = new TextDictionary();
  const patternCodes = new GrowingArray(new Uint32Array(0));
  const circuits = new TextDictionary();
  const circuitCodes = new GrowingArray(new Uint32Array(0));
  const forms = new TextDictionary();
  const formCodes = new GrowingArray(new Uint32Array(0));
  const numbers = { hashes: new GrowingArray(new Uint32Array(0)), parts: new GrowingArray(new Uint32Array(0)) };
  const links: { from: number; to: string }[] = [];
  const census = new CoilCensus();
  const majorOf = rememberMajors();
  // What the wiring hangs on is worked out once for each circuit on equal terminals, not for each part.
  const wirings = new Map<string, { readonly circuit: number; readonly form: number }>();

  return {
    add: (part) => {
      const place = ids.length;
      ids.push(part.id);
      const pieces = takeApart(part);
      own.add(pieces.own);
      keyCodes.push(keys.codeOf(pieces.keys));
      const codes = shared.map(({ name, dictionary, codes: list }) => {
        const code = dictionary.codeOf(pieces.shared[name]);
        list.push(code);
        return code;
      });
      const facts = factsOf(part);
      profileCodes.push(profiles.codeOf(profileOf(part, facts)));
      measureColumns(part, facts, majorOf).forEach((number, column) => columns[column]!.numbers.push(number));
      sealingCodes.push(sealing.codeOf(part.sealing ?? ''));
      patternCodes.push(part.mounting ? patterns.codeOf(patternKeyOf(part.mounting)) : NO_CODE);
      const wiringKey = `${part.partClass} ${codes[0]} ${codes[1]} ${part.mounting?.conductive}`;
      let wiring = wirings.get(wiringKey);
      if (wiring === undefined) wirings.set(wiringKey, wiring = { circuit: circuits.codeOf(circuitKeyOf(part)), form: forms.codeOf(formKeyOf(part)) });
      circuitCodes.push(wiring.circuit);
      formCodes.push(wiring.form);
      for (const { number } of [...(part.numbers ?? []), ...(part.replaces ?? [])]) {
        numbers.hashes.push(hashText(normaliseNumber(number)));
        numbers.parts.push(place);
      }
      for (const to of part.supersededBy ?? []) links.push({ from: place, to });
      census.add(part);
    },
    finish: () => {
      const { order, rowOfPlace, byId } = orderParts(ids, profileCodes.values);
      const pick = <T extends Uint16Array | Uint32Array>(values: Uint32Array, into: T): T => {
        for (let row = 0; row < order.length; row++) into[row] = values[order[row]!]!;
        return into;
      };
      const narrow = (values: Uint32Array, count: number): Uint16Array | Uint32Array => pick(values, count <= 0xffff ? new Uint16Array(order.length) : new Uint32Array(order.length));
      const sections = new Map<string, SectionArray>([['settings', encodeText(nameSettings())]]);
      const putTexts = (name: string, { bytes, ends }: { bytes: Uint8Array; ends: Uint32Array }): void => {
        sections.set(`${name}.bytes`, bytes).set(`${name}.ends`, ends);
      };
      putTexts('own', own.finishInOrder(order));
      putTexts('keys', keys.finish());
      sections.set('keys', narrow(keyCodes.values, keys.size));
      for (const { name, dictionary, codes } of shared) {
        putTexts(`piece.${name}`, dictionary.finish());
        sections.set(`piece.${name}`, narrow(codes.values, dictionary.size));
      }
      putTexts('profiles', profiles.finish());
      sections.set('profiles', narrow(profileCodes.values, profiles.size));
      for (const { name, numbers: list } of columns) {
        const { codes, values } = encodeColumn(list.values, order);
        sections.set(`column.${name}`, codes).set(`values.${name}`, values);
      }
      putTexts('sealing', sealing.finish());
      sections.set('sealing', narrow(sealingCodes.values, sealing.size));
      sections.set('patterns', pick(patternCodes.values, new Uint32Array(order.length)));
      sections.set('circuits', pick(circuitCodes.values, new Uint32Array(order.length)));
      sections.set('forms', narrow(formCodes.values, forms.size));
      sections.set('ranks', ranksOf(byId, rowOfPlace)).set('byId', byId.map((place) => rowOfPlace[place]!));
      const found = sortPairs(numbers.hashes.values, numbers.parts.values.map((place) => rowOfPlace[place]!));
      sections.set('numbers.hash', found.keys).set('numbers.row', found.values);
      const rowOfId = new Map(links.length === 0 ? [] : ids.map((id, place) => [id, rowOfPlace[place]!]));
      const from = Uint32Array.from(links, (link) => rowOfPlace[link.from]!);
      const to = Uint32Array.from(links, (link) => rowOfId.get(link.to) ?? NO_CODE);
      const forward = sortPairs(from, to);
      sections.set('successors.of', forward.keys).set('successors.are', forward.values);
      sections.set('coils', census.finish());
      return writeSections(sections);
    },
  };
}

/** Rows by profile, within it by id; and the parts' places in order of id alone. */
function orderParts(ids: readonly string[], profiles: Uint32Array): { order: Uint32Array; rowOfPlace: Uint32Array; byId: Uint32Array } {
  const placeOf = new Map(ids.map((id, place) => [id, place]));
  if (placeOf.size !== ids.length) throw new Error('a catalogue with an id used twice was to be written');
  // Without a comparing function text is sorted by code unit.
  const byId = Uint32Array.from([...ids].sort(), (id) => placeOf.get(id)!);
  const starts = new Uint32Array(profiles.reduce((most, code) => Math.max(most, code + 1), 0) + 1);
  for (const code of profiles) starts[code + 1]!++;
  for (let code = 1; code < starts.length; code++) starts[code]! += starts[code - 1]!;
  const order = new Uint32Array(ids.length);
  const rowOfPlace = new Uint32Array(ids.length);
  for (const place of byId) {
    const row = starts[profiles[place]!]!++;
    order[row] = place;
    rowOfPlace[place] = row;
  }
  return { order, rowOfPlace, byId };
}

function ranksOf(byId: Uint32Array, rowOfPlace: Uint32Array): Uint32Array {
  const ranks = new Uint32Array(byId.length);
  byId.forEach((place, rank) => {
    ranks[rowOfPlace[place]!] = rank;
  });
  return ranks;
}

const PACKED = 2 ** 21;

/** Pairs of 32-bit numbers in order of the first, then of the second. */
function sortPairs(keys: Uint32Array, values: Uint32Array): { keys: Uint32Array; values: Uint32Array } {
  if (values.every((value) => value < PACKED)) {
    // A pair in the 53 bits of one number: sorting numbers as they are is ten times as fast as asking a function.
    const packed = Float64Array.from(keys, (key, at) => key * PACKED + values[at]!).sort();
    return { keys: Uint32Array.from(packed, (pair) => Math.floor(pair / PACKED)), values: Uint32Array.from(packed, (pair) => pair % PACKED) };
  }
  const order = Uint32Array.from(keys, (_, at) => at).sort((a, b) => keys[a]! - keys[b]! || values[a]! - values[b]!);
  return { keys: order.map((at) => keys[at]!), values: order.map((at) => values[at]!) };
}
