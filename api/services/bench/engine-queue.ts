import { Worker } from 'node:worker_threads';
import type { Catalogue } from '../../../catalog-schema/index.ts';
import { done, refuse, type Outcome } from '../outcome.ts';
import { CatalogueFiles } from './catalogue-files.ts';
import type { AnswerTo, CatalogueFile, EngineAnswers, EngineTask, FromThread, ToThread } from './engine-task.ts';

export interface EngineLimits {
  /** tasks that may wait behind the one being computed; more are turned away */
  readonly waiting: number;
  /** one task may take this long, ms; then its thread is ended and a new one started */
  readonly taskMs: number;
}
export const ENGINE_LIMITS: EngineLimits = { waiting: 16, taskMs: 20_000 };

interface Waiting {
  readonly task: EngineTask;
  /** what the task needs of the catalogue: its parts, or, where they are many, its file; nothing where the task asks for none */
  readonly needs: { readonly parts?: Catalogue; readonly file?: CatalogueFile };
  readonly settle: (outcome: Outcome<EngineAnswers[keyof EngineAnswers]>) => void;
  readonly fail: (error: Error) => void;
}

/** Hands tasks to the engine's thread one at a time, first come first served. */
export class EngineQueue {
  readonly #limits: EngineLimits;
  readonly #threadFile: URL;
  readonly #files: CatalogueFiles;
  readonly #waiting: Waiting[] = [];
  #running: Waiting | undefined;
  #thread: Worker | undefined;
  #sentParts: Catalogue | undefined;
  #sentFile: CatalogueFile | undefined;
  #tasks = 0;
  #closed = false;

  constructor(limits: EngineLimits = ENGINE_LIMITS, threadFile: URL = new URL('./engine-thread.ts', import.meta.url), files: CatalogueFiles = new CatalogueFiles()) {
    this.#limits = limits;
    this.#files = files;
    this.#threadFile = threadFile;
  }

  /**
   * The engine's answer, computed against `catalogue` where the task needs one.
   * Refused as busy when too many wait, when the task took too long, or while a large catalogue is being made ready.
   * @throws where the engine itself failed.
   */
  async run<T extends EngineTask>(task: T, catalogue: Catalogue): Promise<Outcome<AnswerTo<T>>> {
    if (this.#closed) throw new Error('the engine was closed');
    switch (task.kind) {
      case 'identify': case 'rewire': case 'trace': case 'prove': case 'source': return this.#enqueue(task, {});
      case 'fit': case 'as-left': case 'find': case 'snapshot': {
        const file = this.#files.fileOf(catalogue);
        if (!file) return this.#enqueue(task, { parts: catalogue });
        const ready = await settleWithin(file, this.#limits.taskMs);
        return ready ? this.#enqueue(task, { file: ready }) : refuse({ kind: 'busy', why: `the catalogue of ${catalogue.length} parts is being made ready: ask again in a minute` });
      }
      default: throw new Error(`no such task: ${JSON.stringify(task satisfies never)}`);
    }
  }

  #enqueue<T extends EngineTask>(task: T, needs: Waiting['needs']): Promise<Outcome<AnswerTo<T>>> {
    if (this.#closed) return Promise.reject(new Error('the engine was closed'));
    if (this.#waiting.length >= this.#limits.waiting) {
      return Promise.resolve(refuse({ kind: 'busy', why: `${this.#waiting.length} computations are waiting already: ask again in a moment` }));
    }
    return new Promise((resolve, reject) => {
      this.#waiting.push({ task, needs, settle: resolve as Waiting['settle'], fail: reject });
      this.#startNext();
    });
  }

  /** Ends the thread; what was being computed or waited fails. */
  async close(): Promise<void> {
    this.#closed = true;
    for (const waiting of this.#waiting.splice(0)) waiting.fail(new Error('the engine was closed'));
    await Promise.all([this.#thread?.terminate(), this.#files.close()]);
  }

  #startNext(): void {
    if (this.#running) return;
    const next = this.#waiting.shift();
    if (!next) return;
    this.#running = next;
    const id = ++this.#tasks;
    const thread = this.#openThread();
    const timer = setTimeout(() => {
      this.#dropThread(thread);
      finish(() => next.settle(refuse({ kind: 'busy', why: `the computation took longer than ${this.#limits.taskMs / 1000} s and was ended` })));
    }, this.#limits.taskMs);

    const finish = (report: () => void): void => {
      clearTimeout(timer);
      thread.off('message', onMessage).off('error', onError).off('exit', onExit);
      this.#running = undefined;
      report();
      this.#startNext();
    };
    const onMessage = (message: FromThread): void => {
      if (message.id !== id) return;
      finish(() => 'error' in message ? next.fail(new Error(`the engine failed: ${message.error}`)) : next.settle(done(message.answer)));
    };
    const onError = (error: Error): void => {
      this.#dropThread(thread);
      finish(() => next.fail(error));
    };
    const onExit = (): void => {
      this.#dropThread(thread);
      finish(() => next.fail(new Error("the engine's thread ended")));
    };
    thread.on('message', onMessage).on('error', onError).on('exit', onExit);

    const { parts, file } = next.needs;
    if (parts && this.#sentParts !== parts) {
      this.#post(thread, { kind: 'catalogue', parts });
      this.#sentParts = parts;
    }
    if (this.#sentFile !== file && (file || parts)) {
      this.#post(thread, { kind: 'file', bytes: file?.bytes });
      this.#sentFile = file;
    }
    this.#post(thread, { kind: 'task', id, task: next.task });
  }

  #openThread(): Worker {
    if (this.#thread) return this.#thread;
    const thread = new Worker(this.#threadFile);
    // An idle engine does not keep a process alive that has nothing else to do.
    thread.unref();
    this.#thread = thread;
    this.#sentParts = undefined;
    this.#sentFile = undefined;
    return thread;
  }

  #dropThread(thread: Worker): void {
    if (this.#thread === thread) this.#thread = undefined;
    void thread.terminate();
  }

  #post(thread: Worker, message: ToThread): void {
    thread.postMessage(message);
  }
}

/** What comes in time; undefined where it takes longer. */
async function settleWithin<T>(promise: Promise<T>, mostMs: number): Promise<T | undefined> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<undefined>((resolve) => {
    timer = setTimeout(resolve, mostMs, undefined);
  });
  try {
    return await Promise.race([promise, late]);
  } finally {
    clearTimeout(timer);
  }
}
