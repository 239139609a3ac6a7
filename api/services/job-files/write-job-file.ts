import { JOB_FILE_FORMAT, JOB_FILE_VERSION, type CarriedWithJob, type LoggedEdit } from '../../../catalog-schema/index.ts';

/** What a job file is written from; the bytes of each photograph are asked for when their turn comes. */
export interface JobFileParts extends CarriedWithJob {
  readonly id: string;
  readonly exportedAt: string;
  readonly edits: readonly LoggedEdit[];
  readonly photographs: readonly { readonly hash: string; readonly at: string }[];
  readonly readPicture: (hash: string) => Promise<Uint8Array>;
}

/** Multiples of 3 bytes become whole base64 without padding between. */
const PIECE_BYTES = 3 * 64 * 1024;

/** A job file piece by piece: one edit a line, photographs last, so that no more than one photograph is held at a time. */
export async function* writeJobFile({ id, exportedAt, edits, part, outcomes, reservations, orderLines, photographs, readPicture }: JobFileParts): AsyncGenerator<string> {
  yield `{"format":${JSON.stringify(JOB_FILE_FORMAT)},"version":${JOB_FILE_VERSION},\n"exportedAt":${JSON.stringify(exportedAt)},\n"id":${JSON.stringify(id)},\n"revision":${edits.length},\n"edits":`;
  yield* writeList(edits);
  if (part !== undefined) yield `,\n"part":${JSON.stringify(part)}`;
  for (const [name, list] of Object.entries({ outcomes, reservations, orderLines })) {
    yield `,\n"${name}":`;
    yield* writeList(list);
  }
  yield ',\n"photographs":[';
  for (const [index, { hash, at }] of photographs.entries()) {
    yield `${index === 0 ? '' : ','}\n{"hash":${JSON.stringify(hash)},"at":${JSON.stringify(at)},"data":"`;
    const bytes = await readPicture(hash);
    for (let start = 0; start < bytes.length; start += PIECE_BYTES) {
      yield Buffer.from(bytes.buffer, bytes.byteOffset + start, Math.min(PIECE_BYTES, bytes.length - start)).toString('base64');
    }
    yield '"}';
  }
  yield '\n]}\n';
}

function* writeList(entries: readonly unknown[]): Generator<string> {
  yield '[';
  for (const [index, entry] of entries.entries()) yield `${index === 0 ? '' : ','}\n${JSON.stringify(entry)}`;
  yield entries.length === 0 ? ']' : '\n]';
}
