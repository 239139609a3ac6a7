import type { InputFault, Read } from '../../../catalog-schema/index.ts';
import { hashWords } from './content-hash.ts';
import { decodeText, encodeText } from './text-coding.ts';

// One buffer of named typed arrays. Header of 48 bytes: magic (8), version, byte-order mark, content hash (16, over all that follows it),
// number of sections, 0, bytes of the file (f64). Then 48 bytes a section: name (24, padded with 0), type, 0,
// offset and length in elements (f64 each). Then the sections, each at a multiple of 16 bytes, so that opening makes views and copies nothing.

export type SectionArray = Uint8Array | Uint16Array | Uint32Array | Float64Array;
export type Sections = ReadonlyMap<string, SectionArray>;

/** A file of sections that was opened: `hash` names its content, 32 hexadecimal digits. */
export interface OpenedSections { readonly sections: Sections; readonly hash: string }

const MAGIC = 'LUGWSNAP';
/** Grows whenever the meaning of a section changes: an older file is then refused and built anew. */
const VERSION = 3;
const HASH_AT = 16;
const HASHED_FROM = 32;
const HEADER_BYTES = 48;
const ENTRY_BYTES = 48;
const NAME_BYTES = 24;
const BYTE_ORDER = 0x01020304;
const TYPES = [Uint8Array, Uint16Array, Uint32Array, Float64Array] as const;

export function writeSections(sections: Sections): ArrayBuffer {
  let bytes = HEADER_BYTES + ENTRY_BYTES * sections.size;
  const placed = [...sections].map(([name, array]) => {
    const offset = bytes;
    bytes += Math.ceil(array.byteLength / 16) * 16;
    return { name, array, offset };
  });
  const buffer = new ArrayBuffer(bytes);
  const all = new Uint8Array(buffer);
  const view = new DataView(buffer);
  all.set(encodeText(MAGIC), 0);
  view.setUint32(8, VERSION, true);
  new Uint32Array(buffer, 12, 1)[0] = BYTE_ORDER;
  view.setUint32(32, sections.size, true);
  view.setFloat64(40, bytes, true);
  placed.forEach(({ name, array, offset }, index) => {
    const at = HEADER_BYTES + index * ENTRY_BYTES;
    const nameBytes = encodeText(name);
    if (nameBytes.length > NAME_BYTES) throw new Error(`section name ${name} is longer than ${NAME_BYTES} bytes`);
    all.set(nameBytes, at);
    view.setUint32(at + 24, TYPES.findIndex((type) => array instanceof type), true);
    view.setFloat64(at + 32, offset, true);
    view.setFloat64(at + 40, array.length, true);
    all.set(new Uint8Array(array.buffer, array.byteOffset, array.byteLength), offset);
  });
  hashWords(new Uint32Array(buffer, HASHED_FROM)).forEach((word, lane) => view.setUint32(HASH_AT + 4 * lane, word, true));
  return buffer;
}

/** Refuses what is no such file, one cut short or damaged, and one of another version. Reads every byte once, for the content hash. */
export function openSections(buffer: ArrayBuffer): Read<OpenedSections> {
  const found = buffer.byteLength;
  if (found < HEADER_BYTES || decodeText(new Uint8Array(buffer, 0, 8)) !== MAGIC) return refuse('a file that is no snapshot', 'a snapshot written by this program');
  const view = new DataView(buffer);
  const version = view.getUint32(8, true);
  if (version !== VERSION) return refuse(`a snapshot of version ${version}`, `version ${VERSION}: write it anew from the catalogue`);
  if (new Uint32Array(buffer, 12, 1)[0] !== BYTE_ORDER) return refuse('a snapshot of another byte order', 'one written on a machine like this: write it anew from the catalogue');
  const bytes = view.getFloat64(40, true);
  if (bytes !== found) return refuse(`${found} bytes of a snapshot of ${bytes}`, 'the whole file: it was cut short or added to');
  const count = view.getUint32(32, true);
  const told = [0, 1, 2, 3].map((lane) => view.getUint32(HASH_AT + 4 * lane, true));
  if (found % 4 !== 0 || HEADER_BYTES + count * ENTRY_BYTES > found || hashWords(new Uint32Array(buffer, HASHED_FROM)).some((word, lane) => word !== told[lane])) {
    return refuse('a snapshot whose content does not have the hash it names', 'an undamaged file: write it anew from the catalogue');
  }
  const sections = new Map<string, SectionArray>();
  for (let index = 0; index < count; index++) {
    const at = HEADER_BYTES + index * ENTRY_BYTES;
    const name = decodeText(new Uint8Array(buffer, at, NAME_BYTES)).replace(/\0+$/, '');
    const type = TYPES[view.getUint32(at + 24, true)];
    const [offset, length] = [view.getFloat64(at + 32, true), view.getFloat64(at + 40, true)];
    if (!type || !(offset % 16 === 0) || !(offset + length * type.BYTES_PER_ELEMENT <= found)) {
      return refuse(`a snapshot whose section ${JSON.stringify(name)} lies outside it`, 'an undamaged file: write it anew from the catalogue');
    }
    sections.set(name, new type(buffer, offset, length));
  }
  return { ok: true, value: { sections, hash: told.map((word) => word.toString(16).padStart(8, '0')).join('') } };
}

function refuse(found: string, want: string): { ok: false; faults: InputFault[] } {
  return { ok: false, faults: [{ path: '', found, want }] };
}
