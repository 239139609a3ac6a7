import { expect, type Page } from '@playwright/test';

/** What a meter shows on a sound machine, by the words of the step that asks for it. */
const READINGS: readonly (readonly [RegExp, string])[] = [
  [/measure the coil/, ''], [/amps from the battery/, '10 mA'], [/volts across the coil/, '11.4 V'], [/across the contact/, '0.12 V'],
  [/plus post to the starter/, '0.3 V'], [/starter’s case/, '0.1 V'],
];

/**
 * Goes through the As left screen as a technician does, one step after another, up to where the machine may be signed off. Steps that may be
 * left out are passed over. Answers the steps it ticked, in order. The name is asked for at the first tick where the device knows none.
 */
export async function completeChecklist(page: Page, by: string): Promise<string[]> {
  const title = page.locator('#step-title');
  const ticked: string[] = [];
  await expect(title).toBeVisible({ timeout: 30_000 });
  for (let at = 0; at < 80; at++) {
    // Behind the last open step the sign-off has the focus.
    if (await page.locator('#signed-by').isVisible()) return ticked;
    const said = (await title.textContent())!.trim();
    const step = page.locator('as-left-step');
    const who = step.getByLabel('Who does these steps');
    if (await who.isVisible()) {
      await who.fill(by);
      await who.press('Enter');
      await expect(who).toBeHidden();
    }
    const meter = step.getByLabel('The meter shows', { exact: true });
    if (await meter.isVisible()) {
      const reading = READINGS.find(([words]) => words.test(said))?.[1];
      if (reading === undefined) throw new Error(`no reading for ${said}`);
      if (reading === '') {
        await page.getByRole('button', { name: 'Step after' }).click();
        await expect(title).not.toHaveText(said);
        continue;
      }
      await meter.fill(reading);
      await meter.press('Enter');
      await expect(step.getByText('Within the limit.')).toBeVisible();
      await step.getByRole('button', { name: 'Next step' }).click();
    } else {
      await step.getByRole('button', { name: /^(Done, next step|Reads open|It runs and stops|It stays out|It does that)$/ }).click();
    }
    ticked.push(said);
    await expect(async () => {
      const onward = await page.locator('#signed-by').isVisible() || (await title.textContent())!.trim() !== said;
      expect(onward).toBe(true);
    }).toPass();
  }
  throw new Error('the checklist does not end');
}
