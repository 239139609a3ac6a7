import { randomUUID } from 'node:crypto';
import { expect, type APIRequestContext, type Page } from '@playwright/test';
import { keyOfObservation, type CrankNode, type JobState, type Observation } from '../../catalog-schema/index.ts';

// Machines that do not crank, as a meter finds them, and a technician on a telephone who taps what is heard and seen and then does the test that the
// page puts first until it says that something is proven.

type Volts = Readonly<Record<CrankNode, number>>;
export interface DeadMachine {
  readonly name: string;
  readonly heard: string;
  readonly cranked: string;
  /** volts of each point against the minus post, START held and off */
  readonly held: Volts;
  readonly off: Volts;
  readonly amps: number;
  readonly loadV: number;
  /** what somebody does who has an idea: a listed test by its name, or two points */
  readonly hunch?: { readonly test: string } | { readonly points: readonly [CrankNode, CrankNode] };
  /** words of the verdict */
  readonly proves: string;
}

const along = (plus: readonly number[], feed: number, back: number, starter: readonly number[], minus: readonly number[]): Volts => ({
  'battery+': plus[0]!, 'battery+clamp': plus[1]!, 'relay-battery-stud': plus[2]!, 'coil-feed': feed, 'coil-return': back, 'relay-starter-stud': starter[0]!, 'starter-stud': starter[1]!,
  'starter-case': minus[0]!, chassis: minus[1]!, 'battery-clamp': minus[2]!, 'battery-': 0,
});
const atRest = (volts: number): Volts => along([volts, volts, volts], 0, 0, [0, 0], [0, 0, 0]);

/** What benches find most often, by the shares of the engine's table (common practice, no source). Volts from Ohm's law over round resistances: battery 15,
 * a bad joint 60, a starter that stands 30, a cable 2, a sound joint or contact 0.8 milliohm. */
export const DEAD_MACHINES: readonly DeadMachine[] = [
  {
    name: 'a weak battery', heard: 'rapid clicks', cranked: 'does not turn', held: along([6.2, 6.15, 6.1], 5.9, 0.1, [5.9, 5.8], [0.1, 0.05, 0.02]), off: atRest(11.9), amps: 60, loadV: 6.4,
    proves: 'the battery is weak or flat',
  },
  {
    name: 'a dirty plus post', hunch: { points: ['battery+', 'battery+clamp'] }, heard: 'one click', cranked: 'does not turn', held: along([10.97, 4.36, 4.14], 3.9, 0.3, [4.05, 3.83], [0.53, 0.31, 0.09]), off: atRest(12.6), amps: 110, loadV: 10.4,
    proves: 'a post and its clamp at the battery do not join well',
  },
  {
    name: 'burnt contacts', hunch: { test: 'Volts across the two heavy studs of the relay, START held' }, heard: 'one click', cranked: 'does not turn', held: along([12.5, 12.49, 12.48], 12.2, 0.15, [0, 0], [0, 0, 0]), off: atRest(12.6), amps: 3, loadV: 10.4,
    proves: 'the main contacts of the relay do not carry',
  },
  {
    name: 'an open feed', heard: 'silence', cranked: 'does not turn', held: along([12.6, 12.6, 12.6], 0, 0, [0, 0], [0, 0, 0]), off: atRest(12.6), amps: 0, loadV: 10.4,
    proves: 'the coil is not fed',
  },
];

const MOST_TESTS = 8;
/** An answer takes a fraction of a second; a machine that does other work besides takes longer, ms. */
export const PATIENCE = 30_000;

/** @returns taps on the page and readings typed until the verdict stood */
export async function proveOn(page: Page, machine: DeadMachine, byHunch = false): Promise<{ taps: number; readings: number; did: string[] }> {
  const verdict = page.locator('.crank-verdict');
  const settled = async (): Promise<void> => { await expect(verdict).not.toContainText('Weighing it', { timeout: PATIENCE }); };
  let taps = 0;
  let readings = 0;
  const did: string[] = [];
  const tap = async (name: string): Promise<void> => {
    await page.getByRole('button', { name, exact: true }).tap();
    taps += 1;
    await settled();
  };
  await expect(verdict).toBeVisible({ timeout: PATIENCE });
  await page.getByRole('group', { name: 'At the relay you hear' }).getByRole('button', { name: machine.heard, exact: true }).tap();
  await settled();
  taps += 1;
  const hunch = byHunch ? machine.hunch : undefined;
  if (hunch !== undefined && 'points' in hunch) {
    const [plus, minus] = hunch.points;
    await page.locator(`[data-node="${plus}"]`).tap();
    await page.locator(`[data-node="${minus}"]`).tap();
    taps += 2;
    const own = page.locator('.crank-own-reading input');
    await expect(own).toBeFocused();
    await own.fill(String(Math.round((machine.held[plus] - machine.held[minus]) * 100) / 100));
    await own.press('Enter');
    readings += 1;
    await expect(page.locator('.crank-seen li')).toHaveCount(2);
    await settled();
    did.push(`${plus} to ${minus}`);
  } else {
    await page.getByRole('group', { name: 'The engine', exact: true }).getByRole('button', { name: machine.cranked, exact: true }).tap();
    taps += 1;
    await settled();
  }
  if (hunch !== undefined && 'test' in hunch) {
    await tap(hunch.test);
    await expect(page.locator('#crank-test-title')).toHaveText(hunch.test);
  }
  for (let test = 0; test < MOST_TESTS && await verdict.getAttribute('data-proven') !== 'true'; test++) {
    const title = (await page.locator('#crank-test-title').textContent())!.trim();
    did.push(title);
    const meter = page.locator('.crank-test .crank-reading input');
    if (await meter.isVisible()) {
      if (!await meter.evaluate((input) => input === document.activeElement)) {
        await meter.tap();
        taps += 1;
      }
      await meter.fill(String(await readMeter(page, title, machine)));
      readings += 1;
      const before = await page.locator('.crank-seen li').count();
      await meter.press('Enter');
      await expect(page.locator('.crank-seen li')).toHaveCount(before + 1);
      await settled();
    } else if (/by hand/.test(title)) await tap('free');
    else throw new Error(`nobody told the technician how to do: ${title}`);
  }
  return { taps, readings, did };
}

/** What the meter shows between the two points that the drawing marks, or the clamp meter, or the load tester. */
async function readMeter(page: Page, title: string, { held, off, amps, loadV }: DeadMachine): Promise<number> {
  if (title.startsWith('Amps')) return amps;
  if (title.startsWith('Load')) return loadV;
  const { plus, minus, startSwitch } = await page.locator('crank-picture').evaluate((picture) => {
    const { plus: red, minus: black, startSwitch: on } = picture as unknown as { plus: CrankNode; minus: CrankNode; startSwitch: boolean };
    return { plus: red, minus: black, startSwitch: on };
  });
  const volts = startSwitch ? held : off;
  return Math.round((volts[plus] - volts[minus]) * 100) / 100;
}

/** What proves burnt contacts, told in this order. */
export const BURNT: readonly Observation[] = [
  { kind: 'sound', startSwitch: true, heard: 'one-click' }, { kind: 'crank', startSwitch: true, seen: 'nothing' },
  { kind: 'volts', startSwitch: true, plus: 'battery+', minus: 'battery-', volts: 12.5 }, { kind: 'volts', startSwitch: true, plus: 'coil-feed', minus: 'coil-return', volts: 12.1 },
  { kind: 'volts', startSwitch: true, plus: 'relay-battery-stud', minus: 'relay-starter-stud', volts: 12.4 },
];

/** Tells a job what was seen, over HTTP. */
export async function tellSeen(request: APIRequestContext, base: string, jobId: string, seen: readonly Observation[]): Promise<void> {
  const { revision } = await (await request.get(`${base}/api/jobs/${jobId}`)).json() as JobState;
  const edits = seen.map((value) => ({ id: randomUUID(), field: ['prove', 'seen', keyOfObservation(value)], value, base: revision, at: new Date().toISOString() }));
  const response = await request.post(`${base}/api/jobs/${jobId}/edits`, { data: { edits } });
  if (!response.ok()) throw new Error(await response.text());
}
