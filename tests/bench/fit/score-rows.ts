import { factsOf } from '../../../api/engine/part-facts.ts';
import { UNSAID, type Unsaid } from '../../../api/engine/retrieve/index.ts';
import { COLUMNS, type Column } from '../../../api/engine/snapshot/index.ts';
import { measureColumns, profileOf, rememberMajors } from '../../../api/engine/snapshot/index-columns.ts';
import type { Part } from '../../../catalog-schema/index.ts';

/** What the gates and the score look at, one row a part, in the order of the catalogue; NaN where the part does not say. */
export interface ScoreRows {
  readonly count: number;
  readonly profile: Uint16Array;
  readonly sealing: Uint16Array;
  /** a bit of `UNSAID` for each thing the part does not say */
  readonly unsaid: Uint16Array;
  /** place in order of id */
  readonly rank: Uint32Array;
  /** part and wait for one unit needed today, cents; NaN where nobody sells it */
  readonly landed: Float64Array;
  readonly columns: Readonly<Record<Column, Float64Array>>;
  /** code of each profile and of each sealing; '' is a part that gives none */
  readonly profileCodes: ReadonlyMap<string, number>;
  readonly sealingCodes: ReadonlyMap<string, number>;
  readonly ids: readonly string[];
}

/** Takes the parts in one by one, so that no million of them has to stand in memory. */
export class ScoreRowWriter {
  readonly #profile: Uint16Array;
  readonly #sealing: Uint16Array;
  readonly #unsaid: Uint16Array;
  readonly #columns: Record<Column, Float64Array>;
  readonly #profileCodes = new Map<string, number>();
  readonly #sealingCodes = new Map<string, number>([['', 0]]);
  readonly #ids: string[] = [];
  readonly #majorOf = rememberMajors();

  constructor(count: number) {
    [this.#profile, this.#sealing, this.#unsaid] = [new Uint16Array(count), new Uint16Array(count), new Uint16Array(count)];
    this.#columns = Object.fromEntries(COLUMNS.map((column) => [column, new Float64Array(count)])) as Record<Column, Float64Array>;
  }

  add(part: Part): void {
    const row = this.#ids.length;
    const facts = factsOf(part);
    const numbers = measureColumns(part, facts, this.#majorOf);
    COLUMNS.forEach((column, at) => { this.#columns[column][row] = numbers[at]!; });
    this.#profile[row] = codeOf(this.#profileCodes, profileOf(part, facts));
    this.#sealing[row] = codeOf(this.#sealingCodes, part.sealing ?? '');
    this.#unsaid[row] = this.#listUnsaid(part, row).reduce((mask, what) => mask | (1 << UNSAID.indexOf(what)), 0);
    this.#ids.push(part.id);
  }

  /** @param landedOf cents of a part; undefined where nobody sells it */
  finish(landedOf: (id: string) => number | undefined): ScoreRows {
    const count = this.#ids.length;
    const order = Uint32Array.from({ length: count }, (_, row) => row).sort((a, b) => (this.#ids[a]! < this.#ids[b]! ? -1 : 1));
    const rank = new Uint32Array(count);
    order.forEach((row, place) => { rank[row] = place; });
    return {
      count, profile: this.#profile, sealing: this.#sealing, unsaid: this.#unsaid, rank, landed: Float64Array.from(this.#ids, (id) => landedOf(id) ?? Number.NaN),
      columns: this.#columns, profileCodes: this.#profileCodes, sealingCodes: this.#sealingCodes, ids: this.#ids,
    };
  }

  #listUnsaid(part: Part, row: number): Unsaid[] {
    const lacks = (column: Column): boolean => Number.isNaN(this.#columns[column][row]!);
    const found: Unsaid[] = (['dutyS', 'holdOhm', 'pullInV', 'inrushA', 'continuousA', 'pinionModuleMm', 'powerKw', 'noseMm'] as const).filter(lacks);
    if (this.#columns.dutyS[row] === -1) found.push('dutyTime');
    if (!part.ambientC) found.push('ambientC');
    if (!part.body) found.push('body');
    if (part.sealing === undefined) found.push('sealing');
    else if (part.sealing.slice(2, 4).includes('X')) found.push('sealingDigit');
    if (!part.mounting) found.push('mounting');
    if (lacks('studThickMm')) found.push('stud');
    return found;
  }
}

function codeOf(codes: Map<string, number>, key: string): number {
  let code = codes.get(key);
  if (code === undefined) codes.set(key, code = codes.size);
  return code;
}
