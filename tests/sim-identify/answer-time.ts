import { performance } from 'node:perf_hooks';

/** An answer is timed again, up to this often, when it took too long: other work on the machine must not be taken for the answer's. */
const AGAIN = 6;

/** Times answers. Slow ones are asked again on a fresh copy, and the least of the times counts. */
export class AnswerTime {
  readonly #boundMs: number;
  #times: number[] = [];
  #worstOwnMs = 0;
  #slowest: unknown;

  constructor(boundMs: number) {
    this.#boundMs = boundMs;
  }

  /** The answer to a record, its time taken down. */
  ask<Question, Answer>(answer: (question: Question) => Answer, question: Question): Answer {
    const start = [performance.now(), ownMs()] as const;
    const given = answer(question);
    let [least, own] = [performance.now() - start[0], ownMs() - start[1]];
    for (let round = 0; round < AGAIN && least > this.#boundMs; round++) {
      const copy = structuredClone(question);
      const again = [performance.now(), ownMs()] as const;
      answer(copy);
      least = Math.min(least, performance.now() - again[0]);
      own = Math.min(own, ownMs() - again[1]);
    }
    this.#worstOwnMs = Math.max(this.#worstOwnMs, own);
    if (least > this.worstMs) this.#slowest = question;
    this.#times.push(least);
    return given;
  }

  get worstMs(): number {
    return this.#times.reduce((worst, time) => Math.max(worst, time), 0);
  }

  /** What took the longest to answer. */
  get slowest(): unknown {
    return this.#slowest;
  }

  get held(): boolean {
    return this.worstMs < this.#boundMs;
  }

  describe(): string {
    const sorted = this.#times.toSorted((a, b) => a - b);
    return `time of an answer: median ${(sorted[Math.floor(sorted.length / 2)] ?? 0).toFixed(2)} ms, worst ${this.worstMs.toFixed(1)} ms, worst of the thread's own ${this.#worstOwnMs.toFixed(1)} ms`
      + ` of ${sorted.length} (bound ${this.#boundMs} ms): ${this.held ? 'held' : 'not held'}`;
  }
}

/** What this thread has computed so far, waiting for a busy processor left out. */
function ownMs(): number {
  const { user, system } = process.threadCpuUsage();
  return (user + system) / 1000;
}
