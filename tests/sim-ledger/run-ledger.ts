import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Part, Reservation, StockMove, StockRow } from '../../catalog-schema/index.ts';
import { startServer, type RunningServer } from '../server-kill/running-server.ts';
import { askDatabase, compareReservations, compareRows, replay } from './check-books.ts';
import { BINS, drawAsked, drawId, makeDice, PARTS, type Asked, type Held } from './draw-moves.ts';

const DEVICES = 6;
const JOBS = 5;
const at = '2026-11-25T10:00:00Z';

export interface LedgerFigures { readonly operations: number; readonly taken: number; readonly refused: number; readonly resent: number; readonly kills: number; readonly moves: number; readonly wrong: readonly string[] }

/**
 * Devices that move units about at random over HTTP while the server is killed (SIGKILL) amid their requests and started again. A device that was
 * not answered sends the same again. Afterwards the books are added up anew, by the moves and by SQL.
 */
export async function runLedger({ operations, kills, seed }: { operations: number; kills: number; seed: number }): Promise<LedgerFigures> {
  const shop = makeShop();
  try {
    // A killed server leaves no compiled code behind, one that was stopped does: worth it where many are started.
    if (kills > 4) await (await startServer(shop.env)).stop();
    let server = await startServer(shop.env);
    const dice = makeDice(seed);
    const jobs = Array.from({ length: JOBS }, () => drawId(dice));
    for (const id of jobs) await post(`${server.url}/api/jobs`, { id, title: 'Pump', record: { system: { nominalV: 12 } }, at });

    const wrong: string[] = [];
    const taken = new Set<string>();
    const refused = new Set<string>();
    const sum = { begun: 0, answered: 0, refusals: 0, resent: 0, kills: 0 };
    const killAt = Array.from({ length: kills }, (_, n) => Math.floor(((n + 0.2 + dice(60) / 100) * operations) / kills));
    let restarting: Promise<void> | undefined;
    const restart = (running: RunningServer): Promise<void> => {
      restarting ??= (async () => {
        await running.kill();
        sum.kills += 1;
        server = await startServer(shop.env);
        restarting = undefined;
      })();
      return restarting;
    };

    const work = async (own: ReturnType<typeof makeDice>): Promise<void> => {
      let held: Held[] = [];
      while (sum.begun < operations) {
        sum.begun += 1;
        const asked = drawAsked({ roll: own, jobs, held, at });
        for (;;) {
          await restarting;
          const response = await send(server.url, asked);
          if (response === undefined) {
            sum.resent += 1;
            continue;
          }
          sum.answered += 1;
          if (killAt[sum.kills] !== undefined && sum.answered >= killAt[sum.kills]! && restarting === undefined) void restart(server);
          held = note(asked, response, held, { taken, refused, wrong });
          if (response.status === 409) sum.refusals += 1;
          break;
        }
      }
    };
    await Promise.all(Array.from({ length: DEVICES }, (_, n) => work(makeDice(seed + 7_919 * (n + 1)))));
    await restarting;

    const moves: StockMove[] = [];
    for (;;) {
      const page = await read<StockMove[]>(`${server.url}/api/stock/moves?after=${moves.at(-1)?.seq ?? 0}`);
      if (page.length === 0) break;
      moves.push(...page);
    }
    compareRows(replay(moves, wrong), await read<StockRow[]>(`${server.url}/api/stock`), wrong);
    compareReservations(moves, await read<Reservation[]>(`${server.url}/api/shelf/reservations`), wrong);
    const kept = new Map<string, number>();
    for (const { id } of moves) kept.set(id, (kept.get(id) ?? 0) + 1);
    for (const id of taken) if (kept.get(id) !== 1) wrong.push(`move ${id} was answered as kept and is there ${kept.get(id) ?? 0} times`);
    for (const id of refused) if (kept.has(id) && !taken.has(id)) wrong.push(`move ${id} was refused and is there`);
    await server.stop();
    wrong.push(...await askDatabase(shop.env.LUGWRIGHT_DB));
    return { operations: sum.answered, taken: taken.size, refused: sum.refusals, resent: sum.resent, kills: sum.kills, moves: moves.length, wrong };
  } finally {
    shop.remove();
  }
}

/** What an answer tells a device of what it holds. */
function note(asked: Asked, { status, body }: { status: number; body: unknown }, held: Held[], { taken, refused, wrong }: { taken: Set<string>; refused: Set<string>; wrong: string[] }): Held[] {
  const ids = asked.kind === 'moves' ? asked.moves.map(({ id }) => id) : asked.kind === 'reserve' ? [asked.body.id] : [];
  // A reservation that another answer had given back already, or an `in` that would have to say its cost, is an honest no.
  if (status === 409 || (asked.kind === 'release' && status === 404)) {
    for (const id of ids) refused.add(id);
    return asked.kind === 'moves' && asked.moves[0]!.kind !== 'release' ? held : held.filter(({ id }) => !isAbout(asked, id));
  }
  if (status >= 300) {
    wrong.push(`${JSON.stringify(asked)} was answered with ${status}: ${JSON.stringify(body)}`);
    return held;
  }
  for (const id of ids) taken.add(id);
  if (asked.kind === 'moves') {
    const gone = held.filter(({ id }) => !isAbout(asked, id));
    return [...gone, ...asked.moves.flatMap((move) => (move.kind === 'reserve' && move.jobId !== undefined ? [{ id: move.id, partId: move.partId, bin: move.bin, qty: move.qty }] : []))];
  }
  if (asked.kind === 'release') return held.filter(({ id }) => id !== asked.id);
  const made = body as Reservation;
  return made.jobId === undefined || made.bin.includes(',') ? held : [...held, { id: made.id, partId: made.partId, bin: made.bin, qty: made.qty }];
}

function isAbout(asked: Asked, id: string): boolean {
  if (asked.kind === 'release') return asked.id === id;
  return asked.kind === 'moves' && asked.moves.some(({ kind, reservationId }) => kind === 'release' && reservationId === id);
}

/** @returns undefined where the line broke: nobody was told whether it was kept. */
async function send(base: string, asked: Asked): Promise<{ status: number; body: unknown } | undefined> {
  try {
    const response = asked.kind === 'moves' ? await post(`${base}/api/stock/moves`, { moves: asked.moves })
      : asked.kind === 'reserve' ? await post(`${base}/api/shelf/reservations`, asked.body)
        : await fetch(`${base}/api/shelf/reservations/${asked.id}`, { method: 'DELETE' });
    const text = await response.text();
    return { status: response.status, body: text === '' ? null : JSON.parse(text) };
  } catch (error) {
    if (!(error instanceof TypeError)) throw error;
    return undefined;
  }
}

function post(url: string, body: unknown): Promise<Response> {
  return fetch(url, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) });
}

async function read<T>(url: string): Promise<T> {
  return await (await fetch(url)).json() as T;
}

/** A shop with every part in every bin, in a folder of its own. */
export function makeShop(onHand = 6): { env: { LUGWRIGHT_DB: string; LUGWRIGHT_DEMO: string; LUGWRIGHT_UI: string; NODE_COMPILE_CACHE: string }; remove: () => void } {
  const folder = mkdtempSync(join(tmpdir(), 'lugwright-ledger-'));
  mkdirSync(join(folder, 'demo', 'parts'), { recursive: true });
  const parts = PARTS.map((id): Part => ({ id, partClass: 'start-relay', title: id, terminals: [], circuit: [] }));
  writeFileSync(join(folder, 'demo', 'parts', 'all.json'), JSON.stringify(parts));
  writeFileSync(join(folder, 'demo', 'shop.json'), JSON.stringify({
    currency: 'EUR', suppliers: [], offers: [], shelf: PARTS.flatMap((partId) => BINS.map((bin) => ({ partId, bin, onHand, unitCost: 10 }))),
  }));
  return {
    env: { LUGWRIGHT_DB: join(folder, 'shop.sqlite'), LUGWRIGHT_DEMO: join(folder, 'demo'), LUGWRIGHT_UI: folder, NODE_COMPILE_CACHE: join(folder, 'compiled') },
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
}
