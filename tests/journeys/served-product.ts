import { spawn, type ChildProcess } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../..', import.meta.url));

/** The product served as `npm start` serves it, on a database of its own that outlives a restart; never the demo's own. */
export class ServedProduct {
  readonly #folder = mkdtempSync(join(tmpdir(), 'journey-'));
  #screens: string | undefined;
  #server: ChildProcess | undefined;
  base = '';

  /** `screens`: another folder of built screens than this checkout's. */
  constructor({ screens }: { screens?: string } = {}) {
    this.#screens = screens;
  }

  async start(): Promise<void> {
    const server = spawn(process.execPath, ['api/http/main.ts'], {
      cwd: root, stdio: ['ignore', 'pipe', 'inherit'],
      // The same port after a restart, so that an open page finds its server again.
      env: { ...process.env, LUGWRIGHT_DB: join(this.#folder, 'shop.sqlite'), ...(this.#screens === undefined ? {} : { LUGWRIGHT_UI: this.#screens }), PORT: this.base === '' ? '0' : new URL(this.base).port },
    });
    this.#server = server;
    this.base = await new Promise((resolve, reject) => {
      let said = '';
      server.stdout.setEncoding('utf8').on('data', (words: string) => {
        said += words;
        const address = /http:\/\/[\d.]+:\d+/.exec(said);
        if (address) resolve(address[0]);
      });
      server.on('exit', (code) => reject(new Error(`the server ended with ${code}: ${said}`)));
    });
  }

  async stop(): Promise<void> {
    const server = this.#server;
    if (!server || server.exitCode !== null) return;
    const ended = new Promise<void>((resolve) => server.on('exit', () => resolve()));
    server.kill('SIGTERM');
    await ended;
  }

  async close(): Promise<void> {
    await this.stop();
    rmSync(this.#folder, { recursive: true, force: true });
  }
}
