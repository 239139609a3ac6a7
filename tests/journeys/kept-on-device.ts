import { expect as expectSoon, type Page } from '@playwright/test';

// A page that is made ready for no network is busy: on a slow machine an answer may take longer than elsewhere.
const expect = expectSoon.configure({ timeout: 20_000 });

// What the page's own store holds, read beside the page as anybody with the browser's tools could.

export interface KeptOnDevice {
  readonly edits: readonly { readonly id: string; readonly field: readonly string[] }[];
  readonly requests: readonly { readonly kind: string; readonly answer?: { readonly kind: string } }[];
  readonly photographs: readonly { readonly hash: string; readonly waits: boolean; readonly bytes: number }[];
  readonly names: readonly string[];
}

export function readDevice(page: Page): Promise<KeptOnDevice> {
  return page.evaluate(async () => {
    const ask = <T>(request: IDBRequest<T>): Promise<T> => new Promise((resolve, reject) => {
      request.addEventListener('success', () => resolve(request.result));
      request.addEventListener('error', () => reject(request.error ?? new Error('no reason')));
    });
    const database = await ask(indexedDB.open('lugwright'));
    try {
      const reading = database.transaction(['edits', 'requests', 'photographs', 'kept']);
      const acts = await ask(reading.objectStore('edits').getAll() as IDBRequest<{ edits: { id: string; field: string[] }[] }[]>);
      const photographs = await ask(reading.objectStore('photographs').getAll() as IDBRequest<{ hash: string; picture: Blob; waitingSince?: string }[]>);
      return {
        edits: acts.flatMap((act) => act.edits),
        requests: await ask(reading.objectStore('requests').getAll() as IDBRequest<{ kind: string }[]>),
        photographs: photographs.map(({ hash, picture, waitingSince }) => ({ hash, waits: waitingSince !== undefined, bytes: picture.size })),
        names: await ask(reading.objectStore('kept').getAllKeys() as IDBRequest<string[]>),
      };
    } finally {
      database.close();
    }
  });
}

/** Opens the page once with a network, until it is ready for none. */
export async function visitOnce(page: Page, base: string): Promise<void> {
  await page.goto(base);
  await expect(page.locator('jobs-screen a.row').first()).toBeVisible();
  await page.evaluate(async () => { await navigator.serviceWorker.ready; });
  await expect.poll(() => page.evaluate(() => navigator.serviceWorker.controller !== null), { timeout: 30_000 }).toBe(true);
  await expect.poll(async () => (await readDevice(page)).names, { timeout: 30_000 }).toEqual(
    expect.arrayContaining(['snapshot', 'prices', 'shelf', 'history', 'reservations', 'order-lines', 'outcomes']));
}
