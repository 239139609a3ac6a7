import { createHash, randomUUID, type Hash } from 'node:crypto';
import { closeSync, mkdtempSync, openSync, readFileSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { findJsonFaultLine, findJsonLines, LIMITS, readJobFile, type InputFault, type JobFile, type Read } from '../../../catalog-schema/index.ts';

/** Bytes of a text in a file above which it can only be a photograph: the contract's longest text is 2,000 characters, of 6 bytes each as escapes. */
const LONGEST_TEXT_BYTES = 6 * LIMITS.stringCharacters;

const QUOTE = 0x22;
const BACKSLASH = 0x5c;

/** A long text of the file, decoded from base64 and laid aside. */
interface Aside {
  readonly stand: string;
  readonly file: string;
  readonly hash: Hash;
  descriptor: number | undefined;
  bytes: number;
  characters: number;
  rest: string;
  ended: boolean;
  /** why it is no photograph */
  fault: string | undefined;
}

/** A photograph of the file as it was laid aside. */
export interface FiledPicture {
  readonly hash: string;
  readonly at: string;
  /** its bytes; read anew each time */
  read(): Uint8Array;
}

export interface TakenJobFile {
  readonly file: JobFile;
  readonly pictures: readonly FiledPicture[];
  /** Faults with the line of the file at which each stands, where it stands at one. */
  addLines(faults: readonly InputFault[]): InputFault[];
}

/**
 * Reads a job file as its bytes come, whatever its size: photographs are decoded into a folder of their own, only the rest is held.
 * Call `push` with each piece, then `end`, and `close` in any case.
 */
export class JobFileReader {
  readonly #folder = mkdtempSync(join(tmpdir(), 'lugwright-job-file-'));
  /** nobody can write it into a file beforehand */
  readonly #mark = randomUUID();
  readonly #kept: Buffer[] = [];
  readonly #asides: Aside[] = [];
  #bytes = 0;
  #keptBytes = 0;
  #text: Buffer[] = [];
  #textBytes = 0;
  #inText = false;
  #escaped = false;
  #aside: Aside | undefined;
  #fault: InputFault | undefined;

  /** Takes one more piece; answers whether it is worth going on. */
  push(piece: Uint8Array): boolean {
    if (this.#fault !== undefined) return false;
    this.#bytes += piece.length;
    if (this.#bytes > LIMITS.jobFileBytes) return this.#refuse(`more than ${LIMITS.jobFileBytes} bytes`, `at most ${LIMITS.jobFileBytes} bytes`);
    const bytes = Buffer.from(piece.buffer, piece.byteOffset, piece.byteLength);
    let at = 0;
    while (at < bytes.length) {
      at = this.#inText ? this.#takeText(bytes, at) : this.#takeRest(bytes, at);
      if (this.#keptBytes > LIMITS.jobFileTextBytes) {
        return this.#refuse(`more than ${LIMITS.jobFileTextBytes} bytes beside the photographs`, `at most ${LIMITS.jobFileTextBytes} bytes`);
      }
    }
    return true;
  }

  /** What the file holds, or every fault with its line. */
  end(): Read<TakenJobFile> {
    if (this.#fault !== undefined) return { ok: false, faults: [this.#fault] };
    if (this.#inText) this.#endText();
    let text: string;
    try {
      text = new TextDecoder('utf-8', { fatal: true }).decode(Buffer.concat(this.#kept));
    } catch {
      return { ok: false, faults: [{ path: '', found: 'bytes that are not UTF-8', want: 'a job file' }] };
    }
    let value: unknown;
    try {
      value = JSON.parse(text);
    } catch {
      const found = text.trim() === '' ? 'nothing' : 'text that stops being JSON';
      const fileLine = text.trim() === '' ? undefined : findJsonFaultLine(text);
      return { ok: false, faults: [{ path: '', found, want: 'a job file', ...(fileLine === undefined ? {} : { fileLine }) }] };
    }
    const read = readJobFile(value);
    const faults = read.ok ? this.#findMisplaced(read.value) : read.faults;
    const taken = read.ok && faults.length === 0 ? this.#pictures(read.value, faults) : [];
    const addLines = (found: readonly InputFault[]): InputFault[] => {
      const lines = findJsonLines(text, found.map((fault) => fault.path).filter((path) => path !== ''));
      return found.map((fault) => {
        const fileLine = lines.get(fault.path);
        // What stands for a text laid aside is ours, not the file's.
        return { ...fault, found: this.#sayFound(fault.found), ...(fileLine === undefined ? {} : { fileLine }) };
      });
    };
    if (!read.ok || faults.length > 0) return { ok: false, faults: addLines(faults) };
    return { ok: true, value: { file: read.value, pictures: taken, addLines } };
  }

  /** Takes away what was laid aside. */
  close(): void {
    for (const aside of this.#asides) if (aside.descriptor !== undefined) closeSync(aside.descriptor);
    rmSync(this.#folder, { recursive: true, force: true });
  }

  #refuse(found: string, want: string): false {
    this.#fault = { path: '', found, want };
    return false;
  }

  #keep(bytes: Buffer): void {
    this.#kept.push(Buffer.from(bytes));
    this.#keptBytes += bytes.length;
  }

  /** Up to and with the quote that begins the next text. */
  #takeRest(bytes: Buffer, from: number): number {
    const quote = bytes.indexOf(QUOTE, from);
    const end = quote < 0 ? bytes.length : quote + 1;
    this.#keep(bytes.subarray(from, end));
    this.#inText = quote >= 0;
    return end;
  }

  /** Up to the quote that ends the text, or to the end of the piece. */
  #takeText(bytes: Buffer, from: number): number {
    let at = from;
    if (this.#escaped) {
      this.#escaped = false;
      at += 1;
    }
    let quote = bytes.indexOf(QUOTE, at);
    if (quote < 0) quote = bytes.length;
    let slash = bytes.indexOf(BACKSLASH, at);
    while (slash >= 0 && slash < quote) {
      at = slash + 2;
      if (at > bytes.length) {
        this.#escaped = true;
        break;
      }
      if (at > quote) {
        quote = bytes.indexOf(QUOTE, at);
        if (quote < 0) quote = bytes.length;
      }
      slash = bytes.indexOf(BACKSLASH, at);
    }
    this.#addText(bytes.subarray(from, quote));
    if (quote === bytes.length) return quote;
    this.#endText();
    this.#keep(bytes.subarray(quote, quote + 1));
    this.#inText = false;
    return quote + 1;
  }

  #addText(bytes: Buffer): void {
    if (this.#aside !== undefined) return this.#decode(this.#aside, bytes.toString('latin1'));
    this.#text.push(Buffer.from(bytes));
    this.#textBytes += bytes.length;
    if (this.#textBytes <= LONGEST_TEXT_BYTES) return;
    const number = this.#asides.length;
    const aside: Aside = {
      stand: `${this.#mark} ${number}`, file: join(this.#folder, String(number)), hash: createHash('sha256'), descriptor: undefined, bytes: 0, characters: 0,
      rest: '', ended: false, fault: number < LIMITS.jobFileEntries ? undefined : 'one photograph too many',
    };
    this.#asides.push(aside);
    this.#aside = aside;
    this.#decode(aside, Buffer.concat(this.#text).toString('latin1'));
    this.#text = [];
  }

  #endText(): void {
    const aside = this.#aside;
    if (aside === undefined) {
      for (const bytes of this.#text) this.#keep(bytes);
    } else {
      if (!aside.ended && aside.rest.length > 0) aside.fault ??= 'base64 that is cut off';
      if (aside.descriptor !== undefined) closeSync(aside.descriptor);
      aside.descriptor = undefined;
      this.#keep(Buffer.from(aside.stand));
    }
    this.#aside = undefined;
    this.#text = [];
    this.#textBytes = 0;
  }

  #decode(aside: Aside, given: string): void {
    aside.characters += given.length;
    if (aside.fault !== undefined) return;
    // A slash may be written as an escape; no other escape stands for a character of base64 that a writer would escape.
    const characters = aside.rest + given.replaceAll('\\/', '/');
    const whole = characters.slice(0, characters.length - (characters.length % 4));
    aside.rest = characters.slice(whole.length);
    if ((aside.ended && characters !== '') || !/^[A-Za-z\d+/]*={0,2}$/.test(whole)) {
      aside.fault = `a text of more than ${LONGEST_TEXT_BYTES} bytes that is not base64`;
      return;
    }
    aside.ended ||= whole.endsWith('=');
    const bytes = Buffer.from(whole, 'base64');
    aside.bytes += bytes.length;
    if (aside.bytes > LIMITS.photographBytes) {
      aside.fault = `more than ${LIMITS.photographBytes} bytes`;
      return;
    }
    aside.descriptor ??= openSync(aside.file, 'wx', 0o600);
    for (let at = 0; at < bytes.length;) at += writeSync(aside.descriptor, bytes, at);
    aside.hash.update(bytes);
  }

  /** Texts that are too long anywhere but where a photograph stands. */
  #findMisplaced(file: JobFile): InputFault[] {
    const { photographs, ...rest } = file;
    const faults: InputFault[] = [];
    const walk = (value: unknown, path: string): void => {
      if (typeof value === 'string') {
        if (value.startsWith(this.#mark)) faults.push({ path, found: value, want: `at most ${LIMITS.stringCharacters} characters` });
      } else if (Array.isArray(value)) value.forEach((entry, index) => walk(entry, `${path}[${index}]`));
      else if (typeof value === 'object' && value !== null) {
        for (const [key, entry] of Object.entries(value)) {
          const name = /^[A-Za-z_$][\w$-]*$/.test(key) ? key : JSON.stringify(key);
          // A key that long is one of a record.
          walk(key, path === '' ? 'a key' : `${path}.a key`);
          walk(entry, path === '' ? name : `${path}.${name}`);
        }
      }
    };
    walk(rest, '');
    photographs.forEach(({ hash, at }, index) => walk({ hash, at }, `photographs[${index}]`));
    return faults;
  }

  #pictures(file: JobFile, faults: InputFault[]): FiledPicture[] {
    return file.photographs.map(({ hash, at, data }, index): FiledPicture => {
      const path = `photographs[${index}].data`;
      const aside = this.#asides.find(({ stand }) => stand === data);
      if (aside === undefined) {
        const bytes = Buffer.from(data, 'base64');
        const isBase64 = data.length % 4 === 0 && /^[A-Za-z\d+/]*={0,2}$/.test(data);
        if (!isBase64) faults.push({ path, found: 'text that is not base64', want: 'the bytes of a photograph in base64' });
        else this.#checkHash(path, createHash('sha256').update(bytes).digest('hex'), hash, faults);
        return { hash, at, read: () => bytes };
      }
      if (aside.fault === undefined) this.#checkHash(path, aside.hash.digest('hex'), hash, faults);
      else faults.push({ path, found: aside.fault, want: `the bytes of a photograph in base64, at most ${LIMITS.photographBytes}` });
      return { hash, at, read: () => readFileSync(aside.file) };
    });
  }

  #checkHash(path: string, is: string, says: string, faults: InputFault[]): void {
    if (is !== says) faults.push({ path, found: `bytes whose SHA-256 is ${is}`, want: `those of ${says}` });
  }

  #sayFound(found: string): string {
    const aside = this.#asides.find(({ stand }) => found.includes(stand));
    return aside === undefined ? found : `a text of ${aside.characters} characters`;
  }
}
