import { spawn, type ChildProcess } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { networkInterfaces, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../..', import.meta.url));

/** The product started with `--network`, as a process of its own, with database and keys of its own. */
export class OpenServer {
  readonly folder = mkdtempSync(join(tmpdir(), 'lugwright-network-'));
  readonly keys = join(this.folder, 'keys');
  readonly database = join(this.folder, 'shop.sqlite');
  /** all that the start said */
  said = '';
  port = 0;
  securePort = 0;
  machineLink = '';
  #process: ChildProcess | undefined;

  async start(more: Record<string, string> = {}): Promise<void> {
    this.said = '';
    const started = spawn(process.execPath, ['api/http/main.ts', '--network'], {
      cwd: root, stdio: ['ignore', 'pipe', 'pipe'],
      env: { ...process.env, LUGWRIGHT_DB: this.database, LUGWRIGHT_KEYS: this.keys, PORT: String(this.port), LUGWRIGHT_SECURE_PORT: String(this.securePort), ...more },
    });
    this.#process = started;
    await new Promise<void>((resolve, reject) => {
      const hear = (words: Buffer): void => {
        this.said += words.toString();
        if (/\/here\?key=\S+\s/.test(this.said)) resolve();
      };
      started.stdout!.on('data', hear);
      started.stderr!.on('data', (words: Buffer) => { this.said += words.toString(); });
      started.on('exit', (code) => reject(new Error(`the server ended with ${code}: ${this.said}`)));
    });
    this.port = Number(/listens on http:\/\/127\.0\.0\.1:(\d+)/.exec(this.said)![1]);
    this.securePort = Number(/and https:\/\/localhost:(\d+)/.exec(this.said)![1]);
    this.machineLink = /http:\/\/127\.0\.0\.1:\d+\/here\?key=\S+/.exec(this.said)![0];
  }

  async stop(): Promise<number | null> {
    const ending = this.#process;
    if (ending === undefined || ending.exitCode !== null) return ending?.exitCode ?? null;
    const ended = new Promise<number | null>((resolve) => ending.on('exit', resolve));
    ending.kill('SIGTERM');
    return ended;
  }

  async close(): Promise<void> {
    await this.stop();
    rmSync(this.folder, { recursive: true, force: true });
  }
}

/** An address of this machine on some network that another device could use; undefined where it is on none. */
export function findOuterAddress(): string | undefined {
  const all = Object.values(networkInterfaces()).flatMap((entries = []) => entries);
  return all.find(({ internal, address }) => !internal && !/^fe80:/i.test(address))?.address;
}
