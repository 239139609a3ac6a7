import { Writable } from 'node:stream';
import { InputRefused } from './tell.ts';

/** What the system says of a path that nobody can write to: the caller's to mend, not ours. */
const UNWRITABLE = ['ENOENT', 'ENOTDIR', 'EISDIR', 'EACCES', 'EROFS', 'EPERM'];

/** Standard output that stays open after us, and whose failed write (a reader that left early) comes back as this command's error. */
export function passToStandardOutput(): Writable {
  return new Writable({
    write(chunk: Buffer, _encoding, done) {
      process.stdout.once('error', done);
      process.stdout.write(chunk, (error) => {
        process.stdout.off('error', done);
        if (error) process.stdout.once('error', () => undefined);
        done(error);
      });
    },
  });
}

/** The error of writing to a file, as a refused input where the path is what is wrong. */
export function sayUnwritable(option: string, file: string, error: unknown): unknown {
  const { code } = error as NodeJS.ErrnoException;
  return code !== undefined && UNWRITABLE.includes(code) ? new InputRefused([{ path: option, found: file, want: `a file that can be written (${code})` }]) : error;
}
