import type { JobState } from '../../catalog-schema/index.ts';
import { actIdOf, ServiceFault, StoreFault, type Act, type ActKeeper, type KeptAnswer, type Reach, type Service } from '../client/index.ts';
import type { DeviceStore, Writing } from './device-store.ts';
import type { NewsChannel } from './news.ts';
import type { Drained, Queue } from './sender.ts';

export interface EditOutboxWorld {
  readonly service: Pick<Service, 'postEdits'>;
  readonly store: Pick<DeviceStore, 'id' | 'read' | 'write'>;
  readonly news: NewsChannel;
  /** has what waits sent */
  readonly wake: () => void;
  readonly now: () => Date;
  readonly newId: () => string;
}

interface Waiting { readonly key: number | undefined; readonly act: Act }

/**
 * Acts on jobs on their way to the server: one after another, each as often as it takes, since an edit's id makes a repeat harmless.
 * An act leaves the store only in the transaction that keeps the server's answer. What the server says no to stays, with its words,
 * until a person has dropped or mended it. What the store cannot keep waits in memory and is sent all the same.
 */
export class EditOutbox implements ActKeeper, Queue {
  reach: Reach = 'reached';
  #world: EditOutboxWorld;
  #spareId: string | undefined;
  /** acts the store could not keep: made after all that is in the store */
  #unkept: Act[] = [];
  /** acts are kept one after another, in the order they were made */
  #turn: Promise<unknown> = Promise.resolve();
  /** acts the server has, that the store could not let go of */
  #sent = new Set<string>();
  /** the newest states, for where there is no store */
  #states = new Map<string, JobState>();

  constructor(world: EditOutboxWorld) {
    this.#world = world;
    world.news.follow((news) => { if (news.kind === 'reach') this.reach = news.reach; });
  }

  get device(): string {
    if (this.#world.store.id !== '') return this.#world.store.id;
    this.#spareId ??= this.#world.newId();
    return this.#spareId;
  }

  async read(jobId: string): Promise<{ state: JobState | undefined; acts: readonly Act[] }> {
    const stored = await this.#world.store.read(async (database) => {
      const reading = database.transaction(['jobs', 'edits'], 'readonly');
      const [state, acts] = await Promise.all([reading.objectStore('jobs').get(jobId), reading.objectStore('edits').index('job').getAll(jobId)]);
      return { state, acts };
    });
    const acts: Act[] = (stored?.acts ?? []).filter((act) => !this.#sent.has(actIdOf(act)));
    return { state: newerOf(stored?.state, this.#states.get(jobId)), acts: [...acts, ...this.#unkept.filter((act) => act.jobId === jobId)] };
  }

  async keep(act: Act): Promise<'kept' | 'in-memory'> {
    const how = await this.#store(act);
    this.#tell(act.jobId);
    this.#world.wake();
    return how;
  }

  async replace(jobId: string, actId: string, instead?: Act): Promise<void> {
    const unkept = this.#unkept.findIndex((act) => act.jobId === jobId && actIdOf(act) === actId);
    if (unkept >= 0) this.#unkept.splice(unkept, 1, ...(instead === undefined ? [] : [instead]));
    else {
      await this.#world.store.write(['edits'], async (writing) => {
        await removeAct(writing, jobId, actId);
        if (instead !== undefined) await writing.objectStore('edits').add(instead);
      });
    }
    this.#tell(jobId);
    if (instead !== undefined) this.#world.wake();
  }

  sendNow(): void { this.#world.wake(); }

  /** Puts all that the server refused of a job in the queue again. */
  async tryAgain(jobId: string): Promise<void> {
    this.#unkept = this.#unkept.map((act) => (act.jobId === jobId ? withoutAnswer(act) : act));
    await this.#changeRefused(jobId, (act) => withoutAnswer(act));
    this.#world.wake();
  }

  /** Lets go of all that the server refused of a job. */
  async drop(jobId: string): Promise<void> {
    this.#unkept = this.#unkept.filter((act) => act.jobId !== jobId || act.answer === undefined);
    await this.#changeRefused(jobId, () => undefined);
  }

  follow(jobId: string, hear: () => void): () => void {
    return this.#world.news.follow((news) => {
      if (news.kind === 'reach' || (news.kind === 'job' && news.id === jobId)) hear();
    });
  }

  async drain(): Promise<Drained> {
    /** jobs at which the server failed: their order has to stay, the others go on */
    const stuck = new Set<string>();
    for (;;) {
      const next = await this.#findNext(stuck);
      if (next === undefined) return stuck.size === 0 ? 'empty' : 'unreachable';
      const { jobId, edits } = next.act;
      try {
        await this.#take(next, await this.#world.service.postEdits(jobId, edits));
      } catch (error) {
        if (!(error instanceof ServiceFault)) throw error;
        const { kind, detail } = error;
        switch (kind) {
          case 'unreachable': case 'signed-out': return kind;
          case 'failed': stuck.add(jobId); break;
          case 'refused': case 'not-found': case 'taken':
            if (!await this.#note(next, { kind, words: detail, at: this.#world.now().toISOString() })) stuck.add(jobId);
            break;
        }
      }
    }
  }

  /** Keeps an act behind all others; where the store cannot, in memory, and so everything after it until the store can again. */
  #store(act: Act): Promise<'kept' | 'in-memory'> {
    const turn = this.#turn.then(async () => {
      const waiting = [...this.#unkept, act];
      try {
        await this.#world.store.write(['edits'], async (writing) => {
          for (const each of waiting) await writing.objectStore('edits').add(each);
        });
        this.#unkept = this.#unkept.filter((each) => !waiting.includes(each));
        return 'kept';
      } catch (error) {
        if (!(error instanceof StoreFault)) throw error;
        this.#unkept.push(act);
        return 'in-memory';
      }
    });
    this.#turn = turn.catch(() => {});
    return turn;
  }

  async #findNext(stuck: ReadonlySet<string>): Promise<Waiting | undefined> {
    const isNext = (act: Act): boolean => act.answer === undefined && !stuck.has(act.jobId) && !this.#sent.has(actIdOf(act));
    const stored = await this.#world.store.read(async (database): Promise<Waiting | undefined> => {
      for (let cursor = await database.transaction('edits').store.openCursor(); cursor; cursor = await cursor.continue()) {
        if (isNext(cursor.value)) return { key: cursor.primaryKey, act: cursor.value };
      }
      return undefined;
    });
    if (stored !== undefined) return stored;
    const act = this.#unkept.find(isNext);
    return act === undefined ? undefined : { key: undefined, act };
  }

  /** The server has the act: it goes, and what was answered is kept, in one transaction. */
  async #take({ key, act }: Waiting, state: JobState): Promise<void> {
    this.#states.set(act.jobId, newerOf(state, this.#states.get(act.jobId))!);
    this.#unkept = this.#unkept.filter((each) => actIdOf(each) !== actIdOf(act));
    try {
      await this.#world.store.write(['edits', 'jobs'], async (writing) => {
        if (key !== undefined) await writing.objectStore('edits').delete(key);
        const known = await writing.objectStore('jobs').get(state.id);
        if (newerOf(state, known) === state) await writing.objectStore('jobs').put(state);
      });
    } catch (error) {
      if (!(error instanceof StoreFault)) throw error;
      this.#sent.add(actIdOf(act));
    }
    this.#tell(act.jobId);
  }

  /** Notes the server's no beside the act; false where that could not be kept. */
  async #note({ key, act }: Waiting, answer: KeptAnswer): Promise<boolean> {
    if (key === undefined) this.#unkept = this.#unkept.map((each) => (each === act ? { ...each, answer } : each));
    else {
      try {
        await this.#world.store.write(['edits'], async (writing) => {
          // A page may have dropped it meanwhile.
          if (await writing.objectStore('edits').get(key) !== undefined) await writing.objectStore('edits').put({ ...act, answer }, key);
        });
      } catch (error) {
        if (!(error instanceof StoreFault)) throw error;
        return false;
      }
    }
    this.#tell(act.jobId);
    return true;
  }

  async #changeRefused(jobId: string, change: (act: Act) => Act | undefined): Promise<void> {
    await this.#world.store.write(['edits'], async (writing) => {
      for (let cursor = await writing.objectStore('edits').index('job').openCursor(jobId); cursor; cursor = await cursor.continue()) {
        if (cursor.value.answer === undefined) continue;
        const changed = change(cursor.value);
        await (changed === undefined ? cursor.delete() : cursor.update(changed));
      }
    });
    this.#tell(jobId);
  }

  #tell(jobId: string): void {
    this.#world.news.tell({ kind: 'waiting' });
    this.#world.news.tell({ kind: 'job', id: jobId });
  }
}

async function removeAct(writing: Writing, jobId: string, actId: string): Promise<void> {
  for (let cursor = await writing.objectStore('edits').index('job').openCursor(jobId); cursor; cursor = await cursor.continue()) {
    if (actIdOf(cursor.value) === actId) return cursor.delete();
  }
}

function withoutAnswer({ jobId, edits, inverse, at }: Act): Act { return { jobId, edits, inverse, at }; }

/** Of two states of one job the newer; the first where they are equally new. */
function newerOf(one: JobState | undefined, other: JobState | undefined): JobState | undefined {
  if (one === undefined || other === undefined) return one ?? other;
  return one.revision >= other.revision ? one : other;
}
