import { expect, test } from '@playwright/test';
import { layOutGaugeSheet } from '../../catalog-schema/gauge-sheet/index.ts';
import { ServedProduct } from './served-product.ts';

// The gauge sheet from the settings to the printer: a millimetre of the drawing is a millimetre of paper, on both papers.

const product = new ServedProduct();
test.beforeAll(() => product.start());
test.afterAll(() => product.close());

/** Sizes of paper: ISO 216 and ANSI/ASME Y14.1 (from memory), mm. */
const PAPERS = [{ paper: 'a4', label: 'A4', mm: [210, 297] }, { paper: 'letter', label: 'Letter', mm: [215.9, 279.4] }] as const;
/** CSS: 96 px an inch; PDF: 72 points an inch. */
const [PX_PER_MM, POINT_PER_MM] = [96 / 25.4, 72 / 25.4];

for (const { paper, label, mm } of PAPERS) {
  test(`the gauge sheet prints at true size on ${label}`, async ({ page }) => {
    await page.goto(`${product.base}/settings`);
    await page.locator('a[href="/gauge"]').click();
    await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
    await page.locator(`input[name=paper][value=${paper}]`).check();
    const sheets = page.locator(`svg.gauge-page[data-paper=${paper}]`);
    const { pages } = layOutGaugeSheet(paper);
    await expect(sheets).toHaveCount(pages.length);

    await page.emulateMedia({ media: 'print' });
    for (const sheet of await sheets.all()) {
      const scale = await sheet.evaluate((svg) => {
        const matrix = (svg as SVGSVGElement).getScreenCTM()!;
        return [matrix.a, matrix.b, matrix.c, matrix.d];
      });
      // 0.02 mm in 100: thinner than the line of the bar
      for (const [i, want] of [PX_PER_MM, 0, 0, PX_PER_MM].entries()) expect(Math.abs(scale[i]! - want)).toBeLessThan(PX_PER_MM * 2e-4);
    }
    await expect(page.getByRole('button')).toHaveCount(0);

    const pdf = (await page.pdf({ preferCSSPageSize: true, printBackground: false })).toString('latin1');
    const boxes = [...pdf.matchAll(/\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)\s*\]/g)];
    expect(boxes).toHaveLength(pages.length);
    for (const [, width, height] of boxes) {
      expect(Math.abs(Number(width) - mm[0] * POINT_PER_MM)).toBeLessThan(1);
      expect(Math.abs(Number(height) - mm[1] * POINT_PER_MM)).toBeLessThan(1);
    }
  });
}
