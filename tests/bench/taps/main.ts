// npm run count:taps: how many touches it takes to sell a part by its number at the counter, on a telephone to prove what failed on the commonest dead machines, and to record four wires, from the terminal
// picture and from an empty record.
import { existsSync, readFileSync } from 'node:fs';
import { chromium } from '@playwright/test';
import { DEAD_MACHINES, proveOn } from '../../journeys/prove-machine.ts';
import { beginJob, countTouches, drawTerminals, readWires, recordWires, TELEPHONE, WANTED } from '../../journeys/record-four-wires.ts';
import { sellByNumber } from '../../journeys/sell-by-number.ts';
import { ServedProduct } from '../../journeys/served-product.ts';

const MOST = 32;
const MOST_AT_COUNTER = 12;
const MOST_TAPS = 3;
const MOST_READINGS = 2;
const note = new URL('../../../.local/browser', import.meta.url);
const found = existsSync(note) ? readFileSync(note, 'utf8') : 'bundled';
const product = new ServedProduct();
await product.start();
const browser = await chromium.launch({
  ...(found === 'bundled' ? {} : { executablePath: found }), args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'],
});
try {
  const counter = await browser.newPage(TELEPHONE);
  const sale = await sellByNumber(counter, product.base, { number: 'OV 3150-24', partId: 'ov-3150-24', count: await countTouches(counter) });
  const isSold = sale.free[0] - sale.free[1] === 1 && sale.printed === 1 && sale.slip.includes(sale.move?.bin ?? 'no bin');
  console.log(`a sale at the counter: ${sale.inputs} touches and keys after the number (at most ${MOST_AT_COUNTER}); ${isSold ? `booked out of bin ${sale.move!.bin}, the slip printed` : `NOT as it should be: ${JSON.stringify(sale)}`}`);
  if (!isSold || sale.inputs > MOST_AT_COUNTER) process.exitCode = 1;
  await counter.close();
  for (const machine of DEAD_MACHINES) {
    let quick = false;
    for (const byHunch of machine.hunch === undefined ? [false] : [false, true]) {
      const page = await browser.newPage(TELEPHONE);
      await page.goto(`${product.base}/jobs/${await beginJob(page, product.base)}/prove`);
      const { taps, readings, did } = await proveOn(page, machine, byHunch);
      const verdict = (await page.locator('.crank-verdict').textContent())!.trim();
      const right = verdict.includes(machine.proves);
      const held = right && taps <= MOST_TAPS && readings <= MOST_READINGS;
      quick ||= held;
      console.log(`${machine.name}, ${byHunch ? 'with an idea' : 'as the page proposes'}: ${taps} taps and ${readings} ${readings === 1 ? 'reading' : 'readings'} (${held ? 'within' : 'MORE than'} ${MOST_TAPS} and ${MOST_READINGS}); ${right ? 'proven' : `NOT proven: ${verdict}`}; ${did.join('; ')}`);
      if (!right) process.exitCode = 1;
      await page.close();
    }
    // Each of the commonest has a quick way.
    if (!quick) process.exitCode = 1;
  }
  const page = await browser.newPage(TELEPHONE);
  const count = await countTouches(page);
  const jobId = await beginJob(page, product.base);
  await page.goto(`${product.base}/jobs/${jobId}/as-found`);
  await drawTerminals(page);
  const drawn = await count();
  await recordWires(page);
  const all = await count();
  const read = await readWires(page, product.base, jobId);
  const same = JSON.stringify(read.map(sortKeys)) === JSON.stringify(WANTED.map(sortKeys));
  console.log(`terminals drawn from nothing: ${drawn.touches} ${drawn.touches === 1 ? 'touch' : 'touches'}`);
  console.log(`four wires read back from the database over HTTP: ${same ? 'as recorded' : `NOT as recorded: ${JSON.stringify(read)}`}`);
  console.log(`keys typed: ${all.keys}`);
  const touches = all.touches - drawn.touches;
  console.log(`four wires from the terminal picture: ${touches} touches (at most ${MOST}; ${all.touches} with the terminals); no seed, nothing drawn by chance`);
  if (!same || all.keys > 0 || touches > MOST) process.exitCode = 1;
} finally {
  await browser.close();
  await product.close();
}

/** Keys come back in the order in which they were set. */
function sortKeys(value: unknown): unknown {
  return typeof value === 'object' && value !== null && !Array.isArray(value) ? Object.fromEntries(Object.entries(value).toSorted(([a], [b]) => (a < b ? -1 : 1)).map(([key, entry]) => [key, sortKeys(entry)])) : value;
}
