import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { defineConfig } from '@playwright/test';

const local = fileURLToPath(new URL('../../.local', import.meta.url));
const note = `${local}/browser`;
const browser = existsSync(note) ? readFileSync(note, 'utf8') : 'bundled';

export default defineConfig({
  testDir: '.',
  outputDir: `${local}/journeys`,
  workers: 1,
  timeout: 120_000,
  reporter: [['list'], ['json']],
  use: {
    browserName: 'chromium',
    viewport: { width: 820, height: 1180 },
    launchOptions: {
      ...(browser === 'bundled' ? {} : { executablePath: browser }),
      args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'],
    },
  },
});
