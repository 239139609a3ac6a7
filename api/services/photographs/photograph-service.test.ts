import { afterEach, beforeEach, expect, test } from 'vitest';
import { createHash } from 'node:crypto';
import { LIMITS } from '../../../catalog-schema/index.ts';
import { SAMPLE_JPEG, SAMPLE_PNG, turnJpeg } from '../../../catalog-schema/photograph/sample-pictures.ts';
import { openTestServices } from '../open-test-services.ts';
import type { Services } from '../open-services.ts';
import { makeId, makeJob } from '../sample-data.ts';

let services: Services;
let file: string;
let remove: () => Promise<void>;
beforeEach(async () => {
  ({ services, file, remove } = await openTestServices());
  await services.jobs.create(makeJob(1));
  await services.jobs.create(makeJob(2));
});
afterEach(() => remove());

const hashOf = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');
/** A picture of so many bytes, each its own: telephones append to a JPEG what they like. */
const padded = (bytes: number, n: number): Uint8Array => {
  const whole = new Uint8Array(bytes);
  whole.set(SAMPLE_JPEG);
  whole[bytes - 1] = n;
  return whole;
};

test('a photograph is kept by the hash of its bytes and given back byte for byte, also after a restart', async () => {
  const kept = await services.photographs.keep(makeId(1), SAMPLE_JPEG);
  expect(kept).toEqual({ ok: true, value: { created: true, photograph: { hash: hashOf(SAMPLE_JPEG), type: 'image/jpeg', bytes: SAMPLE_JPEG.length, widthPx: 12, heightPx: 8 } } });
  await services.close();
  const again = await openTestServices({ file });
  const read = await again.services.photographs.read(makeId(1), hashOf(SAMPLE_JPEG));
  if (!read.ok) throw new Error('not there');
  expect(read.value.type).toBe('image/jpeg');
  expect([...read.value.bytes]).toEqual([...SAMPLE_JPEG]);
  await again.services.close();
  ({ services, remove } = await openTestServices({ file }));
});

test('the same bytes sent again, or by two devices at once, are kept once', async () => {
  const outcomes = await Promise.all(Array.from({ length: 4 }, () => services.photographs.keep(makeId(1), SAMPLE_PNG)));
  expect(outcomes.map((outcome) => outcome.ok && outcome.value.created).filter(Boolean)).toHaveLength(1);
  expect(new Set(outcomes.map((outcome) => outcome.ok && outcome.value.photograph.hash)).size).toBe(1);
});

test('each job has its own: another job does not answer for it', async () => {
  await services.photographs.keep(makeId(1), SAMPLE_PNG);
  expect(await services.photographs.read(makeId(2), hashOf(SAMPLE_PNG))).toMatchObject({ ok: false, refusal: { kind: 'not-found' } });
  expect(await services.photographs.keep(makeId(2), SAMPLE_PNG)).toMatchObject({ ok: true, value: { created: true } });
});

test('a photograph that lies on its side by Exif has its size as it is shown', async () => {
  expect(await services.photographs.keep(makeId(1), turnJpeg(SAMPLE_JPEG, 6))).toMatchObject({ ok: true, value: { photograph: { widthPx: 8, heightPx: 12 } } });
});

test('what is no picture is refused and not kept, and neither is one of a job that is not there', async () => {
  const bad = SAMPLE_JPEG.subarray(0, 100);
  expect(await services.photographs.keep(makeId(1), bad)).toMatchObject({ ok: false, refusal: { kind: 'faults', faults: [{ path: '', found: 'a JPEG picture that is cut off' }] } });
  expect(await services.photographs.read(makeId(1), hashOf(bad))).toMatchObject({ ok: false });
  expect(await services.photographs.keep(makeId(9), SAMPLE_JPEG)).toMatchObject({ ok: false, refusal: { kind: 'not-found' } });
});

test('a job holds photographs up to its limit, and no byte more', async () => {
  const each = LIMITS.photographBytes;
  const most = LIMITS.photographBytesOfJob / each;
  for (let n = 1; n <= most; n++) expect(await services.photographs.keep(makeId(1), padded(each, n)), String(n)).toMatchObject({ ok: true });
  expect(await services.photographs.keep(makeId(1), SAMPLE_JPEG)).toMatchObject({ ok: false, refusal: { kind: 'faults', faults: [{ want: `at most ${LIMITS.photographBytesOfJob} bytes` }] } });
  expect(await services.photographs.keep(makeId(1), padded(each, 1))).toMatchObject({ ok: true, value: { created: false } });
  expect(await services.photographs.keep(makeId(2), SAMPLE_JPEG)).toMatchObject({ ok: true });
}, 60_000);
