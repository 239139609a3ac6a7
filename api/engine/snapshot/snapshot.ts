import type { InputFault, Part, PartClass, Read } from '../../../catalog-schema/index.ts';
import { normaliseNumber } from '../normalise-number.ts';
import { factsOf, type PartFacts } from '../part-facts.ts';
import { coilsOfClass } from './coil-census.ts';
import { COLUMNS, type Column } from './index-columns.ts';
import { hashText } from './number-hash.ts';
import { OWN, SHARED_PIECES, writeRecipe, type Recipe } from './part-pieces.ts';
import { openSections, type Sections } from './section-file.ts';
import { NO_CODE, nameSettings } from './snapshot-layout.ts';
import { decodeText } from './text-coding.ts';
import { StoredTexts } from './text-store.ts';
import { firstCodeWhere, type ValueColumn } from './value-column.ts';

/** Most parsed pieces kept of each kind; a catalogue whose parts have nothing alike must not fill the memory. */
const MOST_KEPT = 20_000;

const TERMINALS = SHARED_PIECES.indexOf('terminals');
const MOUNTING = SHARED_PIECES.indexOf('mounting');
const RATING = SHARED_PIECES.indexOf('rating');

/** What stands for a part's own: id and title, and nothing else. */
const NOBODYS: readonly unknown[] = ['', '', [], [], []];

/** Parts that fare alike at every check that hangs on no column: rows `start` to before `end`, in order of id. */
export interface ProfileRows { readonly start: number; readonly end: number }

/** What a part is found by. */
export type PartNames = Pick<Part, 'id' | 'title' | 'partClass'> & Required<Pick<Part, 'numbers' | 'replaces' | 'supersededBy'>>;

/** Opens a file that `writeSnapshot` made, or says why it cannot be used. Makes views and parses no part: some 0.3 s for a million parts. */
export function openSnapshot(buffer: ArrayBuffer): Read<Snapshot> {
  const opened = openSections(buffer);
  if (!opened.ok) return opened;
  const { sections, hash } = opened.value;
  const settings = sections.get('settings');
  if (!settings || decodeText(settings as Uint8Array) !== nameSettings()) {
    const fault: InputFault = { path: '', found: 'a snapshot written with other defaults', want: 'one written by this version: write it anew from the catalogue' };
    return { ok: false, faults: [fault] };
  }
  return { ok: true, value: new Snapshot(sections, hash, buffer.byteLength) };
}

/** A catalogue in one binary file. A row is a part's place in it: by profile, then by id. */
export class Snapshot {
  readonly hash: string;
  readonly bytes: number;
  readonly count: number;
  readonly ranks: Uint32Array;
  /** equal for parts whose wiring is alike on any machine but for the names and places of their terminals */
  readonly circuits: Uint32Array;
  /** equal for parts whose wiring hangs on the same things but for ohms, volts and ratings */
  readonly forms: Uint16Array | Uint32Array;
  /** code of the part's list of terminals; below `terminalLists` */
  readonly terminals: Uint16Array | Uint32Array;
  readonly terminalLists: number;
  /** NO_CODE where the part gives no mounting */
  readonly patterns: Uint32Array;
  readonly sealing: Uint16Array | Uint32Array;
  readonly profiles: readonly ProfileRows[];
  readonly #sections: Sections;
  readonly #columns = new Map<Column, ValueColumn>();
  readonly #own: StoredTexts;
  readonly #examples: { readonly part: Part; readonly facts: PartFacts }[] = [];
  readonly #keys: Pieces<Recipe>;
  /** in the order of SHARED_PIECES */
  readonly #shared: readonly Pieces<readonly unknown[]>[];

  constructor(sections: Sections, hash: string, bytes: number) {
    this.#sections = sections;
    this.hash = hash;
    this.bytes = bytes;
    this.ranks = this.#words('ranks');
    this.count = this.ranks.length;
    this.circuits = this.#words('circuits');
    this.forms = this.#codes('forms');
    this.patterns = this.#words('patterns');
    this.sealing = this.#codes('sealing');
    for (const column of COLUMNS) this.#columns.set(column, { codes: this.#codes(`column.${column}`), values: this.#section(`values.${column}`) as Float64Array });
    this.#own = this.#texts('own');
    const pieces = <T>(name: string, parse: (text: string) => T): Pieces<T> => new Pieces(this.#codes(name), this.#texts(name), parse);
    this.#keys = pieces('keys', (text) => writeRecipe(JSON.parse(text) as string[]));
    this.#shared = SHARED_PIECES.map((piece) => pieces(`piece.${piece}`, (text) => JSON.parse(text) as unknown[]));
    const terminals = this.#shared[TERMINALS]!;
    this.terminals = terminals.codes;
    this.terminalLists = terminals.count;
    this.profiles = findRuns(this.#codes('profiles'));
  }

  /** The part of a row, as it was in the catalogue. Parts share what they have alike: it must not be changed. */
  partAt(row: number): Part {
    return this.#putTogether(row, JSON.parse(this.#own.at(row)) as unknown[]);
  }

  /** A part without what is its own alone: nobody's id, title and numbers. A third of the cost of `partAt`. */
  outerAt(row: number): Part {
    return this.#putTogether(row, NOBODYS);
  }

  /** The profile of a row. */
  profileAt(row: number): number {
    return firstCodeWhere(this.profiles.length, (profile) => this.profiles[profile - 1]!.end > row) - 1;
  }

  /** A part that stands for a profile, with its facts; put together once. */
  exampleOf(profile: number): { readonly part: Part; readonly facts: PartFacts } {
    let example = this.#examples[profile];
    if (!example) {
      const part = this.partAt(this.profiles[profile]!.start);
      this.#examples[profile] = example = { part, facts: factsOf(part) };
    }
    return example;
  }

  /**
   * Parses all lists of terminals and all brackets, where they are few enough to be kept: a fit over many parts asks for most of them, and the
   * first to ask would wait. Some 6 microseconds a list.
   */
  parseOutsides(): void {
    this.#shared[TERMINALS]!.parseAll();
    this.#shared[MOUNTING]!.parseAll();
  }

  /** Its terminals alone. */
  terminalsAt(row: number): Part['terminals'] {
    return this.#shared[TERMINALS]!.at(row)[0] as Part['terminals'];
  }

  /** Its bracket alone; nothing where the part gives none. */
  mountingAt(row: number): Part['mounting'] | null {
    return this.#shared[MOUNTING]!.at(row)[0] as Part['mounting'] | null;
  }

  /** What a part is called and by what it was replaced, without the rest. */
  namesAt(row: number): PartNames {
    const [id, title, numbers, replaces, supersededBy] = JSON.parse(this.#own.at(row)) as [string, string, ...(readonly unknown[] | null)[]];
    const [partClass] = this.#shared[RATING]!.at(row);
    return { id, title, partClass, numbers: numbers ?? [], replaces: replaces ?? [], supersededBy: supersededBy ?? [] } as PartNames;
  }

  idAt(row: number): string {
    return readFirst(this.#own.at(row));
  }

  /** The row of a part; undefined where there is none of that id. */
  rowOf(id: string): number | undefined {
    const byId = this.#words('byId');
    let low = 0;
    let high = byId.length;
    while (low < high) {
      const middle = (low + high) >>> 1;
      if (this.idAt(byId[middle]!) < id) low = middle + 1;
      else high = middle;
    }
    return low < byId.length && this.idAt(byId[low]!) === id ? byId[low] : undefined;
  }

  /** Rows in order of id. */
  get rowsById(): Uint32Array {
    return this.#words('byId');
  }

  column(name: Column): ValueColumn {
    return this.#columns.get(name)!;
  }

  /** IEC 60529 code of each code of `sealing`; '' is a part that gives none. */
  get sealingCodes(): readonly string[] {
    const texts = this.#texts('sealing');
    return Array.from({ length: texts.count }, (_, code) => texts.at(code));
  }

  /** Rows of the parts that carry a number, or are claimed to replace it; written in whatever way. */
  rowsOfNumber(number: string): number[] {
    const wanted = normaliseNumber(number);
    return valuesOf(this.#words('numbers.hash'), this.#words('numbers.row'), hashText(wanted)).filter((row, at, rows) => {
      if (rows.indexOf(row) !== at) return false;
      const { numbers = [], replaces = [] } = this.partAt(row);
      return [...numbers, ...replaces].some((each) => normaliseNumber(each.number) === wanted);
    });
  }

  /** Rows of the parts that supersede one; direct links only. */
  successorsOf(row: number): number[] {
    return valuesOf(this.#words('successors.of'), this.#words('successors.are'), row).filter((each) => each !== NO_CODE);
  }

  /** All coils of a class that give their ohms, alike ones counted. */
  coilsOf(partClass: PartClass): { nominalV: number; ohm: number; count: number }[] {
    return coilsOfClass(this.#section('coils') as Float64Array, partClass);
  }

  /** Bytes of the index: what rows are sorted out by, without ids and text. */
  get indexBytes(): number {
    return [...this.#sections].filter(([name]) => /^(column\.|values\.|ranks$|circuits$|forms$|piece\.terminals$|patterns$|sealing$|profiles$)/.test(name))
      .reduce((sum, [, array]) => sum + array.byteLength, 0);
  }

  #putTogether(row: number, own: readonly unknown[]): Part {
    const part: Record<string, unknown> = {};
    for (const { key, piece, position } of this.#keys.at(row)) part[key] = (piece === OWN ? own : this.#shared[piece]!.at(row))[position];
    return part as unknown as Part;
  }

  #section(name: string): Sections extends ReadonlyMap<string, infer T> ? T : never {
    const section = this.#sections.get(name);
    if (!section) throw new Error(`the snapshot has no section ${name}`);
    return section;
  }

  #words(name: string): Uint32Array {
    return this.#section(name) as Uint32Array;
  }

  #codes(name: string): Uint16Array | Uint32Array {
    return this.#section(name) as Uint16Array | Uint32Array;
  }

  #texts(name: string): StoredTexts {
    return new StoredTexts(this.#section(`${name}.bytes`) as Uint8Array, this.#words(`${name}.ends`));
  }
}

/** What parts share, each piece parsed when a part first asks for it. */
class Pieces<T> {
  readonly codes: Uint16Array | Uint32Array;
  readonly count: number;
  readonly #texts: StoredTexts;
  readonly #parse: (text: string) => T;
  #parsed: (T | undefined)[];
  #kept = 0;

  constructor(codes: Uint16Array | Uint32Array, texts: StoredTexts, parse: (text: string) => T) {
    this.codes = codes;
    this.count = texts.count;
    this.#texts = texts;
    this.#parse = parse;
    this.#parsed = Array.from<T | undefined>({ length: texts.count });
  }

  at(row: number): T {
    const code = this.codes[row]!;
    let value = this.#parsed[code];
    if (value === undefined) {
      if (this.#kept >= MOST_KEPT) {
        this.#parsed = Array.from<T | undefined>({ length: this.count });
        this.#kept = 0;
      }
      this.#parsed[code] = value = this.#parse(this.#texts.at(code));
      this.#kept++;
    }
    return value;
  }

  /** Nothing where they are more than are kept. */
  parseAll(): void {
    if (this.count > MOST_KEPT) return;
    for (let code = 0; code < this.count; code++) this.#parsed[code] ??= this.#parse(this.#texts.at(code));
    this.#kept = this.count;
  }
}

/** The first of a JSON list of which the first is a text. */
function readFirst(list: string): string {
  const end = list.indexOf('"', 2);
  const text = list.slice(1, end + 1);
  // A text with an escape may hold a quotation mark: rare enough to read the whole list.
  return text.includes('\\') ? (JSON.parse(list) as [string])[0] : text.slice(1, -1);
}

/** Rows of equal profile stand together. */
function findRuns(profiles: Uint16Array | Uint32Array): ProfileRows[] {
  const runs: ProfileRows[] = [];
  let start = 0;
  while (start < profiles.length) {
    // The runs are few and long: look for each end by halving.
    let low = start + 1;
    let high = profiles.length;
    while (low < high) {
      const middle = (low + high) >>> 1;
      if (profiles[middle] === profiles[start]) low = middle + 1;
      else high = middle;
    }
    runs.push({ start, end: low });
    start = low;
  }
  return runs;
}

function valuesOf(keys: Uint32Array, values: Uint32Array, key: number): number[] {
  let low = 0;
  let high = keys.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (keys[middle]! < key) low = middle + 1;
    else high = middle;
  }
  const found: number[] = [];
  for (let at = low; at < keys.length && keys[at] === key; at++) found.push(values[at]!);
  return found;
}
