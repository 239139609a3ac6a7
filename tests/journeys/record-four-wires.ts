import { expect, type Page } from '@playwright/test';
import type { JobState, Wire } from '../../catalog-schema/index.ts';

// Four wires recorded from the terminal picture on a telephone, each with colour, size, end and where it leads, one with a stripe: by
// touches alone. The touches are counted in the page as the browser sees them.

export interface Hung { readonly terminal: string; readonly leadsTo: string; readonly colour: string; readonly stripe?: string; readonly size: string; readonly end: string }

export const FOUR_WIRES: readonly Hung[] = [
  { terminal: 'A', leadsTo: 'battery', colour: 'RD', size: '16 mm²', end: 'M6' },
  { terminal: 'B', leadsTo: 'starter', colour: 'BK', size: '16 mm²', end: 'M6' },
  { terminal: 'C', leadsTo: 'start switch', colour: 'YE', stripe: 'GN', size: '1.5 mm²', end: '6.3 mm' },
  { terminal: 'D', leadsTo: 'interlock return', colour: 'BN', size: '1.5 mm²', end: '6.3 mm' },
];

export const WANTED: readonly Wire[] = [
  { tag: 'W1', wasOn: 'A', leadsTo: 'battery', colour: 'RD', areaMm2: 16, end: { form: 'ring', holeMm: 6.4 } },
  { tag: 'W2', wasOn: 'B', leadsTo: 'starter', colour: 'BK', areaMm2: 16, end: { form: 'ring', holeMm: 6.4 } },
  { tag: 'W3', wasOn: 'C', leadsTo: 'start-switch', colour: 'YE/GN', areaMm2: 1.5, end: { form: 'receptacle', tabWidthMm: 6.3 } },
  { tag: 'W4', wasOn: 'D', leadsTo: 'interlocked-return', colour: 'BN', areaMm2: 1.5, end: { form: 'receptacle', tabWidthMm: 6.3 } },
];

/** A telephone held upright, with a finger and no mouse. */
export const TELEPHONE = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, deviceScaleFactor: 2 } as const;

/** Begins to count in every page of this window: touches that came down, and keys. */
export async function countTouches(page: Page): Promise<() => Promise<{ touches: number; keys: number }>> {
  const counted = { touches: 0, keys: 0 };
  await page.exposeFunction('countInput', (kind: 'touches' | 'keys') => { counted[kind] += 1; });
  await page.addInitScript(() => {
    const count = (window as unknown as { countInput: (kind: string) => void }).countInput;
    addEventListener('pointerdown', (event) => { if (event.isTrusted) count('touches'); }, { capture: true });
    addEventListener('keydown', (event) => { if (event.isTrusted) count('keys'); }, { capture: true });
  });
  return async () => {
    await page.evaluate(() => new Promise((resolve) => requestAnimationFrame(resolve)));
    return { ...counted };
  };
}

/** A new job of a contactor, as the person at the counter begins it, without a terminal or a wire. */
export async function beginJob(page: Page, base: string): Promise<string> {
  const id = crypto.randomUUID();
  const response = await page.request.post(`${base}/api/jobs`, { data: {
    id, title: 'Four wires', machine: 'Test bench', record: { partClass: 'contactor', system: { nominalV: 12 } }, at: new Date().toISOString(),
  } });
  expect(response.status()).toBe(201);
  return id;
}

/** Draws the terminals, two studs and two tabs, which is what a contactor most often has. */
export async function drawTerminals(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Draw these terminals' }).tap();
  await expect(page.locator('[data-terminal="A"]')).toBeVisible();
}

export async function recordWires(page: Page): Promise<void> {
  const choose = async (group: string, option: string): Promise<void> => {
    await page.getByRole('group', { name: group, exact: true }).locator('label').filter({ hasText: option }).first().tap();
  };
  for (const [k, wire] of FOUR_WIRES.entries()) {
    await page.locator(`[data-terminal="${wire.terminal}"]`).tap();
    await expect(page.getByRole('heading', { name: `Wire W${k + 1} on ${wire.terminal}` })).toBeVisible();
    await choose('Where does it lead?', wire.leadsTo);
    await choose('Colour', wire.colour);
    if (wire.stripe !== undefined) {
      await page.getByRole('button', { name: 'It has a stripe' }).tap();
      await choose('Stripe', wire.stripe);
    }
    await choose('Size', wire.size);
    await choose('End', wire.end);
  }
  await expect(page.getByText('all sent')).toBeVisible();
}

/** What the database gives back over HTTP. */
export async function readWires(page: Page, base: string, jobId: string): Promise<readonly Wire[]> {
  const job = await (await page.request.get(`${base}/api/jobs/${jobId}`)).json() as JobState;
  return job.record.wires ?? [];
}
