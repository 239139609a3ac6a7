import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../..', import.meta.url));

/** The product's own server as a process of its own, on a port the system chose. */
export interface RunningServer {
  readonly url: string;
  /** Ends the process without a chance to tidy up. */
  kill(): Promise<void>;
  /** Asks it to stop, and gives its exit code. */
  stop(): Promise<number | null>;
}

export async function startServer(env: { LUGWRIGHT_DB: string; LUGWRIGHT_DEMO: string; LUGWRIGHT_UI: string; NODE_COMPILE_CACHE?: string }): Promise<RunningServer> {
  const child = spawn(process.execPath, ['api/http/main.ts'], { cwd: root, env: { ...process.env, ...env, PORT: '0' }, stdio: ['ignore', 'pipe', 'pipe'] });
  const exited = once(child, 'exit');
  const url = await readAddress(child);
  const end = async (signal: NodeJS.Signals): Promise<number | null> => {
    child.kill(signal);
    const [code] = await exited as [number | null];
    return code;
  };
  return { url, kill: async () => void await end('SIGKILL'), stop: () => end('SIGTERM') };
}

async function readAddress(child: ChildProcess): Promise<string> {
  let said = '';
  return new Promise((resolve, reject) => {
    child.stderr!.on('data', (words: Buffer) => { said += words.toString(); });
    child.stdout!.on('data', (words: Buffer) => {
      said += words.toString();
      const address = /listens on (http:\/\/\S+?)\/?\s/.exec(said)?.[1];
      if (address !== undefined) resolve(address);
    });
    child.on('exit', (code) => reject(new Error(`the server ended with ${code}: ${said}`)));
  });
}
