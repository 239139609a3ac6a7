import { createHash, X509Certificate } from 'node:crypto';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import AxeBuilder from '@axe-core/playwright';
import { chromium, expect, test, type BrowserContext, type Page } from '@playwright/test';
import type { JobFile, JobState, LoggedEdit } from '../../catalog-schema/index.ts';
import { OpenServer } from '../network/open-server.ts';
import config from './playwright.config.ts';

// A telephone on the shop's network, from the page of steps to work under its owner's name; and a job file out and in.

const PIN = '493817';
const server = new OpenServer();
let profile: string;
let phone: BrowserContext;
let machine: BrowserContext;

test.beforeAll(async () => {
  await server.start();
  const { launchOptions } = config.use!;
  // A browser trusts the shop's certificate here as a person's list of authorities would make it: by its key.
  const leaf = new X509Certificate(readFileSync(join(server.keys, 'server.pem')));
  const key = createHash('sha256').update(leaf.publicKey.export({ type: 'spki', format: 'der' })).digest('base64');
  profile = mkdtempSync(join(tmpdir(), 'lugwright-phone-'));
  phone = await chromium.launchPersistentContext(profile, {
    ...launchOptions, viewport: { width: 390, height: 844 }, args: [...launchOptions!.args!, `--ignore-certificate-errors-spki-list=${key}`],
  });
  const browser = await chromium.launch(launchOptions);
  machine = await browser.newContext({ viewport: { width: 1440, height: 900 }, acceptDownloads: true });
});
test.afterAll(async () => {
  await phone.close();
  await machine.browser()!.close();
  await server.close();
  rmSync(profile, { recursive: true, force: true });
});

async function expectSound(page: Page, where: string): Promise<void> {
  const found = await new AxeBuilder({ page }).withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']).analyze();
  expect.soft(found.violations.map(({ id, nodes }) => `${where} ${id}: ${nodes.map((node) => node.target.join(' ')).join(', ')}`)).toEqual([]);
  expect.soft(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth), `${where} is wider than the screen`).toBeLessThanOrEqual(0);
}
const secure = (path: string): string => `https://localhost:${server.securePort}${path}`;

test('the machine lets a name in, a telephone signs in under it, and what it does carries that name', async () => {
  const desk = await machine.newPage();
  await desk.goto(server.machineLink);
  await desk.goto(`http://127.0.0.1:${server.port}/settings`);
  await desk.getByLabel('Name', { exact: true }).fill('Ans de Wit');
  await desk.getByLabel('PIN', { exact: true }).fill('111111');
  await desk.keyboard.press('Enter');
  await expect(desk.getByText('digits in a row')).toBeVisible();
  await desk.getByLabel('PIN', { exact: true }).fill(PIN);
  await desk.keyboard.press('Enter');
  await expect(desk.getByText('Ans de Wit can sign in now.')).toBeVisible();
  await expectSound(desk, 'settings of the machine');

  const page = await phone.newPage();
  await page.goto(secure('/'));
  expect(await page.evaluate(() => [isSecureContext, 'serviceWorker' in navigator, 'mediaDevices' in navigator, 'storage' in navigator])).toEqual([true, true, true, true]);
  await expect(page.getByRole('heading', { name: 'Sign in' })).toBeVisible();
  await expectSound(page, 'sign-in');
  await page.getByLabel('Your name').fill('ans de wit');
  await page.getByLabel('PIN').fill('000001');
  await page.keyboard.press('Enter');
  await expect(page.getByText('There is nobody here with this name and this PIN.')).toBeVisible();
  await page.getByLabel('PIN').fill(PIN);
  await page.keyboard.press('Enter');
  await expect(page.getByRole('heading', { name: 'Jobs' })).toBeVisible();
  await expect(page.locator('.row').first()).toBeVisible();
  expect(await page.evaluate(() => document.cookie)).toBe('');

  const jobs = await (await phone.request.get(secure('/api/jobs'), { ignoreHTTPSErrors: true })).json() as JobState[];
  await page.goto(secure(`/jobs/${jobs[0]!.id}/record`));
  await page.locator('summary', { hasText: 'Change' }).first().click();
  const customer = page.getByLabel('Customer');
  await customer.fill('Pilot boat berth 2');
  await customer.press('Enter');
  await expect.poll(async () => {
    const edits = await (await phone.request.get(secure(`/api/jobs/${jobs[0]!.id}/edits`), { ignoreHTTPSErrors: true })).json() as LoggedEdit[];
    return edits.at(-1)!;
  }).toMatchObject({ field: ['customer'], value: 'Pilot boat berth 2', author: 'Ans de Wit' });

  await page.goto(secure('/settings'));
  await expect(page.getByText('Signed in as Ans de Wit.')).toBeVisible();
  await expect(page.getByText('Who may sign in from the network')).toHaveCount(0);
  await expectSound(page, 'settings of the telephone');
  await page.close();
  await desk.close();
});

test('a session that ends takes nothing that waits: it is sent after the next sign-in', async () => {
  const desk = await machine.newPage();
  await desk.goto(server.machineLink);
  const page = await phone.newPage();
  await page.goto(secure('/'));
  const [job] = await (await phone.request.get(secure('/api/jobs'), { ignoreHTTPSErrors: true })).json() as JobState[];
  await page.goto(secure(`/jobs/${job!.id}/record`));
  await expect(page.getByRole('heading', { name: 'What was done' })).toBeVisible();
  // Another PIN, set on the machine, ends every session.
  const people = await (await machine.request.get(`http://127.0.0.1:${server.port}/api/people`)).json() as { id: string }[];
  expect((await machine.request.post(`http://127.0.0.1:${server.port}/api/people/${people[0]!.id}/pin`, { data: { pin: '582614' } })).status()).toBe(204);
  await page.locator('summary', { hasText: 'Change' }).first().click();
  const machineField = page.getByLabel('Machine', { exact: true });
  await machineField.fill('Winch, told while signed out');
  await machineField.press('Enter');
  const signedOut = page.getByRole('link', { name: /Signed out: what you enter is kept on this device/ });
  await expect(signedOut).toBeVisible();
  await expectSound(page, 'a job while signed out');
  await page.reload();
  await expect(signedOut).toBeVisible();
  // Somebody else who signs in here does not send it as their own.
  expect((await machine.request.post(`http://127.0.0.1:${server.port}/api/people`, { data: { name: 'Bob', pin: '937105' } })).status()).toBe(201);
  await signedOut.click();
  await page.getByLabel('Your name').fill('Bob');
  await page.getByLabel('PIN').fill('937105');
  await page.keyboard.press('Enter');
  const ofAnother = page.getByRole('link', { name: 'What waits here was entered by somebody else' });
  await expect(ofAnother).toBeVisible();
  await expectSound(page, 'jobs while another\'s work waits');
  const edits = async (): Promise<LoggedEdit[]> => (await machine.request.get(`http://127.0.0.1:${server.port}/api/jobs/${job!.id}/edits`)).json() as Promise<LoggedEdit[]>;
  expect((await edits()).map((edit) => edit.value)).not.toContain('Winch, told while signed out');
  await ofAnother.click();
  await expect(page.getByText('Signed in as Bob.')).toBeVisible();
  await page.getByLabel('Your name').fill('Ans de Wit');
  await page.getByLabel('PIN').fill('582614');
  await page.keyboard.press('Enter');
  await expect.poll(async () => (await edits()).at(-1)).toMatchObject({ value: 'Winch, told while signed out', author: 'Ans de Wit' });
  await page.close();
  await desk.close();
});

test('a job goes out as one file and comes in again, chosen or dropped, and a bad one says what is wrong', async () => {
  const desk = await machine.newPage();
  await desk.goto(server.machineLink);
  await expect(desk.locator('.row').first()).toBeVisible();
  const [job] = await (await machine.request.get(`http://127.0.0.1:${server.port}/api/jobs`)).json() as JobState[];
  await desk.goto(`http://127.0.0.1:${server.port}/jobs/${job!.id}/record`);
  const coming = desk.waitForEvent('download');
  await desk.getByRole('link', { name: 'Save the job as one file' }).click();
  const download = await coming;
  expect(download.suggestedFilename()).toMatch(/^[a-z\d-]+-[\da-f]{8}\.job\.json$/);
  const file = JSON.parse(readFileSync(await download.path(), 'utf8')) as JobFile;
  expect([file.format, file.id]).toEqual(['lugwright-job', job!.id]);

  await desk.goto(`http://127.0.0.1:${server.port}/`);
  await desk.getByLabel('Choose a job file').setInputFiles({ name: 'same.job.json', mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(file)) });
  await expect(desk.getByText('was here, and nothing in the file is new.')).toBeVisible();

  // A job of another shop, dropped on the page.
  const stranger = JSON.stringify({ ...file, id: '5d0a3b52-3d1e-4c57-9a41-6f2f0f8f1b77', outcomes: [], orderLines: [],
    reservations: [{ id: '5d0a3b52-3d1e-4c57-9a41-6f2f0f8f3b00', partId: 'slb-u5-12', qty: 2, jobId: '5d0a3b52-3d1e-4c57-9a41-6f2f0f8f1b77', at: '2026-11-25T10:00:00Z', bin: 'C4' }],
    edits: file.edits.map((edit, index) => ({ ...edit, id: `5d0a3b52-3d1e-4c57-9a41-6f2f0f8f2b${String(index).padStart(2, '0')}`, act: undefined })) });
  await drop(desk, 'stranger.job.json', stranger);
  await expect(desk.getByText('is here now')).toBeVisible();
  await expectSound(desk, 'jobs after taking one in');
  await drop(desk, 'bad.job.json', stranger.replace('"version":1', '"version":7'));
  const refused = desk.getByRole('alert');
  await expect(refused).toContainText('bad.job.json was not taken in, and nothing of it was kept:');
  await expect(refused).toContainText('version (line 1): found 7, want 1');
  await expectSound(desk, 'jobs after a bad file');
  await desk.goto(`http://127.0.0.1:${server.port}/jobs/5d0a3b52-3d1e-4c57-9a41-6f2f0f8f1b77/record`);
  await expect(desk.getByText('put aside there, C4')).toBeVisible();
  await expectSound(desk, 'the record of a job from another shop');
  expect(await (await machine.request.get(`http://127.0.0.1:${server.port}/api/shelf/reservations`)).json()).toEqual([]);
  await desk.close();
});

for (const colorScheme of ['light', 'dark'] as const) {
  test(`the page of steps holds on a phone, ${colorScheme}`, async () => {
    const page = await phone.newPage();
    await page.emulateMedia({ colorScheme });
    await page.goto(`http://127.0.0.1:${server.port}/connect`);
    await expect(page.getByRole('heading', { name: 'Work on another device' })).toBeVisible();
    await expectSound(page, '/connect');
    await page.close();
  });
}

/** Lets a file go over the page, as a hand with a mouse would. */
async function drop(page: Page, name: string, text: string): Promise<void> {
  const data = await page.evaluateHandle(([fileName, content]) => {
    const transfer = new DataTransfer();
    transfer.items.add(new File([content!], fileName!, { type: 'application/json' }));
    return transfer;
  }, [name, text]);
  await page.dispatchEvent('body', 'dragover', { dataTransfer: data });
  await page.dispatchEvent('body', 'drop', { dataTransfer: data });
}
