import type { StockAnswer, StockMove, StockMoveRequest, StockRow } from '../../../catalog-schema/index.ts';
import {
  appendStockMove, findJob, findKnownParts, findStockMove, listReservationSums, listStockBins, putStockBin, sumOnHandSince, sumReserved,
  type NewStockMove, type StockBinRow, type StockMoveRow, type Tx,
} from '../../store/index.ts';
import { done, refuse, refuseFault, type Outcome } from '../outcome.ts';
import { readCurrency } from '../prices/price-service.ts';
import { applyEffect, type StockEffect } from './stock-math.ts';

const COST_STEPS = 10_000;

/**
 * Records moves of the shelf within a transaction: all of them or, with the reason, none (whatever else the transaction did is the caller's). A
 * move whose id is there already changes nothing. Units that are not free can be neither taken nor put aside; only a count brings a bin below
 * none, and its row then says so.
 * @param by who did it, where the door knows; it takes the place of what the moves say
 */
export async function recordMoves(tx: Tx, moves: readonly StockMoveRequest[], by?: string): Promise<Outcome<StockAnswer>> {
  const unknown = await findUnknown(tx, moves);
  if (unknown) return unknown;
  const books = new OpenBooks(tx, await readCurrency(tx));
  const taken: { present?: StockMoveRow; fresh?: NewStockMove }[] = [];
  for (const [index, move] of moves.entries()) {
    const present = await findStockMove(tx, move.id);
    if (present) {
      taken.push({ present });
      continue;
    }
    const fresh = await books.take(`moves[${index}]`, by === undefined ? move : { ...move, by });
    if (!fresh.ok) return fresh;
    taken.push({ fresh: fresh.value });
  }
  const kept: StockMove[] = [];
  for (const { present, fresh } of taken) {
    if (present) kept.push(readMove(present));
    if (fresh) kept.push(readMove(await books.write(fresh)));
  }
  for (const { partId, bin, toBin = null } of kept) {
    await books.open(partId, bin);
    if (toBin !== null) await books.open(partId, toBin);
  }
  return done({ moves: kept, rows: await books.close() });
}

async function findUnknown(tx: Tx, moves: readonly StockMoveRequest[]): Promise<ReturnType<typeof refuseFault> | undefined> {
  const ids = new Set<string>();
  const parts = await findKnownParts(tx, [...new Set(moves.map(({ partId }) => partId))]);
  const jobs = new Set<string>();
  for (const [index, { id, partId, jobId }] of moves.entries()) {
    const at = `moves[${index}]`;
    if (ids.has(id)) return refuseFault(`${at}.id`, JSON.stringify(id), 'an id that is not used twice');
    ids.add(id);
    if (!parts.has(partId)) return refuseFault(`${at}.partId`, JSON.stringify(partId), 'the id of a part of the catalogue');
    if (jobId === undefined || jobs.has(jobId)) continue;
    if (!await findJob(tx, jobId)) return refuseFault(`${at}.jobId`, JSON.stringify(jobId), 'the id of a job');
    jobs.add(jobId);
  }
  return undefined;
}

/** The bins that a batch touches, as they stand after the moves so far. */
class OpenBooks {
  readonly #tx: Tx;
  readonly #currency: string;
  readonly #bins = new Map<string, StockBinRow>();
  readonly #written = new Set<string>();
  /** what is left of a reservation in a bin; of a sale, what can come back */
  readonly #left = new Map<string, number>();
  readonly #jobs = new Map<string, string | null>();

  constructor(tx: Tx, currency: string) {
    this.#tx = tx;
    this.#currency = currency;
  }

  /** The move as it will be kept, the bins changed by it; nothing is written. */
  async take(path: string, move: StockMoveRequest): Promise<Outcome<NewStockMove>> {
    const { partId, qty } = move;
    const bin = await this.open(partId, move.bin);
    const free = bin.onHand - bin.reserved;
    const reservationId = move.reservationId ?? (move.kind === 'reserve' && move.jobId !== undefined ? move.id : null);
    const jobId = await this.#jobOf(reservationId, move.jobId ?? null);
    if (move.jobId !== undefined && jobId !== move.jobId) return refuseFault(`${path}.jobId`, JSON.stringify(move.jobId), 'the job of that reservation');
    const plain = { ...makeRow(move), jobId, reservationId };

    switch (move.kind) {
      case 'in':
      case 'return': {
        const cost = move.unitCost === undefined ? await this.#knownCost(bin) : Math.round(move.unitCost * COST_STEPS);
        if (move.kind === 'in' && cost === undefined) return refuseFault(`${path}.unitCost`, 'nothing', 'what one unit cost: the shelf has had none of this part yet');
        if (move.kind === 'return' && reservationId !== null) {
          const sold = await this.#leftOf(reservationId, partId, move.bin);
          if (qty > sold) return refuse({ kind: 'conflict', why: `${qty} of ${partId} to come back to bin ${move.bin}, ${sold} went` });
          this.#setLeft(reservationId, partId, move.bin, sold - qty);
        }
        return done(this.#change({ ...plain, ...this.#at(cost ?? 0) }, bin, { onHandBy: qty, reservedBy: 0 }));
      }
      case 'out':
      case 'scrap':
        if (qty > free) return this.#short(move, bin);
        if (move.kind === 'out' && reservationId !== null && jobId === null) {
          this.#setLeft(reservationId, partId, move.bin, await this.#leftOf(reservationId, partId, move.bin) + qty);
        }
        return done(this.#change({ ...plain, ...this.#at(bin.unitCost) }, bin, { onHandBy: -qty, reservedBy: 0 }));
      case 'transfer': {
        if (qty > free) return this.#short(move, bin);
        const to = await this.open(partId, move.toBin!);
        const row = this.#change({ ...plain, ...this.#at(bin.unitCost) }, bin, { onHandBy: -qty, reservedBy: 0 });
        this.#bins.set(writePlace(partId, to.bin), applyEffect(to, { onHandBy: qty, reservedBy: 0 }, bin.unitCost));
        return done(row);
      }
      case 'reserve':
        if (qty > free) return this.#short(move, bin);
        if (reservationId !== null) this.#setLeft(reservationId, partId, move.bin, await this.#leftOf(reservationId, partId, move.bin) + qty);
        return done(this.#change(plain, bin, { onHandBy: 0, reservedBy: qty }));
      case 'release': {
        const left = await this.#leftOf(reservationId, partId, move.bin);
        if (qty > left) return refuse({ kind: 'conflict', why: `${qty} of ${partId} in bin ${move.bin} to be free again, ${left} put aside` });
        this.#setLeft(reservationId, partId, move.bin, left - qty);
        return done(this.#change(plain, bin, { onHandBy: 0, reservedBy: -qty }));
      }
      case 'count': {
        // What came or went after the count, and was not known to who counted, is not missing; a count made later has the last word.
        const since = move.knownSeq === undefined ? { by: 0, counted: false } : await sumOnHandSince(this.#tx, partId, move.bin, move.knownSeq, move.at);
        const booked = since.counted ? qty : bin.onHand - since.by;
        const cost = move.unitCost === undefined ? undefined : Math.round(move.unitCost * COST_STEPS);
        const known = bin.seq > 0 ? bin : { ...bin, unitCost: cost ?? await this.#knownCost(bin) ?? 0 };
        return done(this.#change({ ...plain, booked, ...this.#at(known.unitCost) }, known, { onHandBy: qty - booked, reservedBy: 0 }));
      }
      default: throw new Error(`no such move: ${JSON.stringify(move.kind satisfies never)}`);
    }
  }

  /** Writes a move that was taken. */
  async write(move: NewStockMove): Promise<StockMoveRow> {
    const seq = await appendStockMove(this.#tx, move);
    for (const bin of [move.bin, ...(move.toBin === null ? [] : [move.toBin])]) {
      const place = writePlace(move.partId, bin);
      this.#bins.set(place, { ...this.#bins.get(place)!, seq });
      this.#written.add(place);
    }
    return { ...move, seq };
  }

  /** Keeps the totals of the bins that were written to. @returns every bin that was opened, as it stands. */
  async close(): Promise<StockRow[]> {
    for (const place of this.#written) await putStockBin(this.#tx, this.#bins.get(place)!);
    return [...this.#bins.values()].filter(({ seq }) => seq > 0).map((bin) => readBin(bin, this.#currency));
  }

  async open(partId: string, bin: string): Promise<StockBinRow> {
    const place = writePlace(partId, bin);
    const known = this.#bins.get(place) ?? (await listStockBins(this.#tx, { partId, bin }))[0] ?? { partId, bin, onHand: 0, reserved: 0, unitCost: 0, seq: 0 };
    this.#bins.set(place, known);
    return known;
  }

  #change(row: NewStockMove, bin: StockBinRow, effect: StockEffect): NewStockMove {
    this.#bins.set(writePlace(bin.partId, bin.bin), applyEffect(bin, effect, row.kind === 'in' || row.kind === 'return' ? row.unitCost ?? undefined : undefined));
    return { ...row, ...effect };
  }

  #at(unitCost: number): { unitCost: number; currency: string } { return { unitCost, currency: this.#currency }; }

  #short({ kind, partId, qty }: StockMoveRequest, { bin, onHand, reserved }: StockBinRow): ReturnType<typeof refuse> {
    return refuse({ kind: 'conflict', why: `${kind}: ${qty} of ${partId} in bin ${bin} asked for, ${Math.max(0, onHand - reserved)} free (${onHand} there, ${reserved} put aside)` });
  }

  /** What a unit of the part cost: in this bin, else in the one that was last touched. */
  async #knownCost(bin: StockBinRow): Promise<number | undefined> {
    if (bin.seq > 0 || bin.onHand > 0) return bin.unitCost;
    const here = [...this.#bins.values()].find((other) => other.partId === bin.partId && other.onHand > 0);
    if (here) return here.unitCost;
    return (await listStockBins(this.#tx, { partId: bin.partId })).toSorted((a, b) => b.seq - a.seq)[0]?.unitCost;
  }

  async #jobOf(reservationId: string | null, given: string | null): Promise<string | null> {
    if (reservationId === null) return given;
    if (!this.#jobs.has(reservationId)) {
      const made = (await listReservationSums(this.#tx, { id: reservationId }))[0];
      this.#jobs.set(reservationId, made === undefined ? given : made.jobId);
    }
    return this.#jobs.get(reservationId)!;
  }

  async #leftOf(reservationId: string | null, partId: string, bin: string): Promise<number> {
    const key = JSON.stringify([reservationId, partId, bin]);
    if (!this.#left.has(key)) {
      this.#left.set(key, reservationId === null ? await sumReserved(this.#tx, null, partId, bin)
        : (await listReservationSums(this.#tx, { id: reservationId })).find((sum) => sum.partId === partId && sum.bin === bin)?.left ?? 0);
    }
    return this.#left.get(key)!;
  }

  #setLeft(reservationId: string | null, partId: string, bin: string, left: number): void {
    this.#left.set(JSON.stringify([reservationId, partId, bin]), left);
  }
}

function makeRow({ id, kind, partId, bin, toBin, qty, orderLineId, reason, by, at }: StockMoveRequest): NewStockMove {
  return {
    id, kind, partId, bin, toBin: toBin ?? null, qty, booked: null, onHandBy: 0, reservedBy: 0, jobId: null, reservationId: null,
    orderLineId: storable(orderLineId), reason: storable(reason), unitCost: null, currency: null, by: storable(by), at,
  };
}

export function readBin({ partId, bin, onHand, reserved, unitCost, seq }: StockBinRow, currency: string): StockRow {
  const free = onHand - reserved;
  return { partId, bin, onHand, reserved, free, unitCost: unitCost / COST_STEPS, currency, seq, ...(onHand < 0 || free < 0 ? { below: true as const } : {}) };
}

export function readMove({ onHandBy: _onHandBy, reservedBy: _reservedBy, unitCost, seq, id, kind, partId, bin, qty, at, ...rest }: StockMoveRow): StockMove {
  const said = Object.fromEntries(Object.entries(rest).filter(([, value]) => value !== null)) as Partial<StockMove>;
  return { seq, id, kind, partId, bin, qty, ...said, ...(unitCost === null ? {} : { unitCost: unitCost / COST_STEPS }), at };
}

function writePlace(partId: string, bin: string): string { return JSON.stringify([partId, bin]); }

/** Half a surrogate pair cannot be stored as text. */
function storable(text: string | undefined): string | null {
  return text?.replace(/\p{Surrogate}/gu, '\uFFFD') ?? null;
}
