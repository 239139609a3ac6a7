import { defineConfig } from 'vitest/config';

export default defineConfig({
  root: 'ui',
  base: '/',
  build: { outDir: '../.local/ui', emptyOutDir: true, target: 'es2023', chunkSizeWarningLimit: 700 },
  worker: { format: 'es' },
  server: { proxy: { '/api': 'http://127.0.0.1:8100' } },
  test: {
    root: import.meta.dirname,
    include: ['{catalog-schema,api,ui,tests}/**/*.test.ts'],
    exclude: ['**/node_modules/**', 'tests/journeys/**'],
    testTimeout: 20_000,
  },
});
