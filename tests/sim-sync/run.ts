import { isDeepStrictEqual } from 'node:util';
import { groupActs, stateOfJob, stateOfLog, stepJobLog, EMPTY_LOG, type JobConflict, type JobState, type LoggedEdit } from '../../catalog-schema/index.ts';
import { actIdOf, type Act } from '../../ui/client/index.ts';
import { Draws } from '../sim-identify/random.ts';
import { SimDevice, type SimPage } from './device.ts';
import { drawAct } from './draw-act.ts';
import { findNeedless, findUnseenSigned, LossWatch, type Arrived, type MadeEdit } from './oracle.ts';
import { ShakyNetwork, type Serve, type Traffic } from './shaky-network.ts';

/** What one run came to; `wrong` is empty where all held. */
export interface RunFigures {
  readonly devices: number;
  readonly acts: number;
  readonly traffic: Traffic;
  readonly restarts: number;
  readonly held: number;
  readonly settled: number;
  readonly refused: number;
  readonly wrong: readonly string[];
}

const MOST_ROUNDS = 60;

/** One job worked on by two to four devices over a network that fails, until the network is whole again and everything has arrived. */
export async function runDevices(seed: number, serve: Serve): Promise<RunFigures> {
  const run = new Run(seed, serve);
  try {
    await run.begin();
    await run.work();
    await run.bringTogether();
    return await run.judge();
  } finally {
    await run.end();
  }
}

class Run {
  readonly #seed: number;
  readonly #draws: Draws;
  readonly #network: ShakyNetwork;
  readonly #serve: Serve;
  readonly #fetch = globalThis.fetch;
  readonly #devices: SimDevice[] = [];
  readonly #made = new Map<string, MadeEdit>();
  readonly #acts = new Map<string, string>();
  readonly #dropped = new Set<string>();
  /** states the server answered, by revision */
  readonly #answered = new Map<number, JobState>();
  readonly #wrong: string[] = [];
  #ids = 0;
  #words = 0;
  #restarts = 0;
  #job!: JobState;

  constructor(seed: number, serve: Serve) {
    this.#seed = seed;
    this.#draws = new Draws(seed);
    this.#serve = serve;
    this.#network = new ShakyNetwork((path, init) => this.#listen(path, init), this.#draws);
  }

  async begin(): Promise<void> {
    globalThis.fetch = async (input, init = {}) => {
      const url = new URL(String(input));
      return this.#network.send(url.hostname.replace(/\.test$/, ''), url.pathname + url.search, init);
    };
    const job = {
      id: this.#newId(), title: 'Pump', at: '2026-11-25T09:00:00Z',
      record: {
        system: { nominalV: 12 }, terminals: [{ id: 'B', form: 'stud' }, { id: 'M', form: 'stud' }, { id: 't1', form: 'tab' }, { id: 't2', form: 'tab' }],
        wires: [{ tag: 'W1', wasOn: 'B', colour: 'RD' }, { tag: 'W2', wasOn: 'M' }, { tag: 'W3', wasOn: 't1' }],
      },
    };
    const begun = await this.#serve('/api/jobs', { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(job) });
    if (begun.status !== 201) throw new Error(`the job was not begun: ${begun.status}`);
    this.#job = await begun.json() as JobState;
    const world = {
      newId: () => this.#newId(), now: () => new Date(Date.UTC(2026, 10, 25, 10, 0, this.#ids)),
      witness: (device: SimDevice, page: SimPage, act: Act) => this.#witness(device, page, act),
    };
    const count = 2 + Math.floor(this.#draws.unit() * 3);
    for (let n = 1; n <= count; n++) {
      const device = new SimDevice(`sync-${this.#seed}-d${n}`, world, this.#job);
      this.#devices.push(device);
      await device.openPage();
      // Two pages on one device are one device.
      if (this.#draws.chance(0.25)) await device.openPage();
    }
  }

  /** Steps of all devices in an order that is drawn, while the network fails. */
  async work(): Promise<void> {
    this.#network.shaky = this.#draws.between(0.1, 0.7);
    const keepsApart = this.#draws.chance(0.3);
    const steps = 30 + Math.floor(this.#draws.unit() * 50);
    for (let step = 0; step < steps; step++) {
      const device = this.#draws.pick(this.#devices);
      const page = this.#draws.pick(device.pages);
      switch (this.#draws.pick([...Array.from({ length: 12 }, () => 'act' as const), 'send', 'send', 'send', 'read', 'read', 'settle', 'undo', 'refused', 'late', 'restart', 'killed'] as const)) {
        case 'act': page.sheet.change(drawAct(this.#draws, page.sheet, () => this.#words += 1, keepsApart ? this.#devices.indexOf(device) : undefined)); break;
        case 'send': await page.outbox.drain(); break;
        case 'read': await this.#read(page); break;
        case 'settle': this.#settle(page); break;
        case 'undo': page.sheet.undo(); break;
        case 'refused': this.#dealWithRefused(page); break;
        case 'late': await this.#network.deliverLate(); break;
        case 'restart': await this.#restart(device); break;
        case 'killed':
          await device.settle();
          await Promise.race([this.#network.hang(page.name), page.outbox.drain()]);
          this.#network.forgetHang(page.name);
          await this.#restart(device);
          break;
      }
      await device.settle();
    }
  }

  /** The network is whole: all that waits is sent, and in half of the runs a person settles all that is held. */
  async bringTogether(): Promise<void> {
    this.#network.shaky = 0;
    await this.#network.deliverLate(true);
    const settles = this.#draws.chance(0.5);
    for (let round = 0; round < MOST_ROUNDS; round++) {
      for (const device of this.#devices) {
        await device.pages[0]!.outbox.drain();
        await device.settle();
      }
      for (const device of this.#devices) await this.#read(device.pages[0]!);
      for (const device of this.#devices) await device.settle();
      const page = this.#devices[0]!.pages[0]!;
      if (!settles || page.sheet.conflicts.length === 0) return;
      const [first] = page.sheet.conflicts;
      const taken = page.sheet.settle([{ editId: first!.editId, value: this.#draws.chance(0.5) ? first!.held.value : first!.standing.value }]);
      // What is held may not read; what stands always does.
      if (!taken.ok) page.sheet.settle([{ editId: first!.editId, value: first!.standing.value }]);
      await this.#devices[0]!.settle();
    }
    this.#wrong.push('the devices did not come to an end of settling');
  }

  async judge(): Promise<RunFigures> {
    const log = await this.#ask<LoggedEdit[]>('/edits');
    const state = await this.#ask<JobState>('');
    this.#judgeConvergence(state);
    const refused = await this.#judgeArrivals(log);
    for (const [revision, answer] of [...this.#answered, [state.revision, state] as const]) {
      if (!isDeepStrictEqual(answer, stateOfLog(answer.id, log.slice(0, revision)))) this.#wrong.push(`revision ${revision} as answered is not what the log adds up to`);
    }
    const held = this.#judgeSteps(log);
    return {
      devices: this.#devices.length, acts: this.#acts.size, traffic: this.#network.traffic, restarts: this.#restarts, held,
      settled: log.filter((edit) => edit.settles !== undefined).length, refused, wrong: this.#wrong,
    };
  }

  async end(): Promise<void> {
    for (const device of this.#devices) await device.remove();
    globalThis.fetch = this.#fetch;
  }

  #judgeConvergence(state: JobState): void {
    for (const device of this.#devices) {
      for (const { name, sheet } of device.pages) {
        if (sheet.sendState.waiting > 0) this.#wrong.push(`${name} still waits to send ${sheet.sendState.waiting} acts`);
        if (!isDeepStrictEqual([sheet.document, sheet.conflicts, sheet.revision], [state.document, state.conflicts, state.revision])) this.#wrong.push(`${name} does not show what the server has`);
      }
    }
  }

  /** Each act is at the server once and whole, or refused and still shown to its maker, or dropped by them. */
  async #judgeArrivals(log: readonly LoggedEdit[]): Promise<number> {
    const arrived = new Map<string, number>();
    for (const edit of log) arrived.set(edit.id, (arrived.get(edit.id) ?? 0) + 1);
    const refused = new Set<string>();
    for (const device of this.#devices) for (const { actId } of device.pages[0]!.sheet.refused) refused.add(actId);
    for (const { id } of this.#made.values()) {
      const times = arrived.get(id) ?? 0;
      const act = this.#acts.get(id)!;
      if (times > 1) this.#wrong.push(`edit ${id} arrived ${times} times`);
      if (times === 0 && !refused.has(act) && !this.#dropped.has(act)) this.#wrong.push(`edit ${id} of ${this.#made.get(id)!.device} is lost`);
    }
    return refused.size;
  }

  /** After each arrival: nothing is gone that nobody has let go of; nothing is held that met nothing; no sign-off over what its maker had not seen. */
  #judgeSteps(edits: readonly LoggedEdit[]): number {
    const watch = new LossWatch();
    const whole: Arrived[] = [];
    const whys = new Map<string, JobConflict['why']>();
    let log = EMPTY_LOG;
    for (const act of groupActs(edits)) {
      const step = stepJobLog(log, act);
      log = step.log;
      const { conflicts } = stateOfJob(this.#job, log);
      const arrived = act.map((edit): Arrived => ({ edit, made: this.#made.get(edit.id), held: step.heldIds.has(edit.id) }));
      whole.push(...arrived);
      for (const conflict of conflicts) if (!whys.has(conflict.editId)) whys.set(conflict.editId, conflict.why);
      const wrong = [...watch.findLost(arrived, log.tree, conflicts), ...findUnseenSigned(whole, log.tree)];
      const signed = arrived.some(({ edit, held }) => !held && edit.field[0] === 'signedOff' && edit.value !== null);
      if (signed && conflicts.length > 0) wrong.push(`signed off while ${conflicts.length} edits wait for a choice`);
      for (const line of wrong) this.#wrong.push(`at revision ${log.revision}: ${line}`);
      if (wrong.length > 0) return whole.filter((entry) => entry.held).length;
    }
    this.#wrong.push(...findNeedless(whole, whys));
    return whole.filter((entry) => entry.held).length;
  }

  #witness(device: SimDevice, page: SimPage, act: Act): void {
    const { sheet } = page;
    const over = sheet.waitingEdits.filter((edit) => !act.edits.includes(edit)).map(({ field, value, base }) => ({ field, value, seen: base }));
    for (const edit of act.edits) {
      // Who settles a conflict is shown what stands there, whatever lies over it.
      this.#made.set(edit.id, { id: edit.id, device: device.name, seen: sheet.revision, over: edit.settles === undefined ? over : [], order: this.#made.size });
      this.#acts.set(edit.id, actIdOf(act));
      if (edit.base > sheet.revision) this.#wrong.push(`edit ${edit.id} says base ${edit.base}, its page showed ${sheet.revision}`);
    }
  }

  #settle({ sheet }: SimPage): void {
    if (sheet.conflicts.length === 0) return;
    const { editId, field, held, standing } = this.#draws.pick(sheet.conflicts);
    const third = typeof held.value === 'string' && field[0] === 'notes' ? `a third ${this.#words += 1}` : held.value;
    sheet.settle([{ editId, value: this.#draws.pick([held.value, standing.value, third]) }]);
  }

  #dealWithRefused({ sheet }: SimPage): void {
    const [refused] = sheet.refused;
    if (refused === undefined) return;
    if (this.#draws.chance(0.5) && sheet.mendRefused(refused.actId).ok) this.#dropped.add(refused.actId);
    else {
      sheet.dropRefused(refused.actId);
      this.#dropped.add(refused.actId);
    }
  }

  async #restart(device: SimDevice): Promise<void> {
    await device.settle();
    this.#restarts += 1;
    await device.restart();
  }

  /** What one page of a device fetches is kept on it, and all of them show it. */
  async #read({ service, sheet }: SimPage): Promise<void> {
    try {
      sheet.takeState(await service.readJob(this.#job.id));
    } catch {
      // Not reached: what is shown stays.
    }
  }

  async #listen(path: string, init: RequestInit): Promise<Response> {
    const response = await this.#serve(path, init);
    if (response.ok) {
      const state = await response.clone().json() as JobState;
      this.#answered.set(state.revision, state);
    }
    return response;
  }

  async #ask<T>(path: string): Promise<T> {
    return await (await this.#serve(`/api/jobs/${this.#job.id}${path}`, {})).json() as T;
  }

  #newId(): string {
    this.#ids += 1;
    return `${String(this.#seed % 100_000_000).padStart(8, '0')}-0000-4000-8000-${String(this.#ids).padStart(12, '0')}`;
  }
}
