import { availableParallelism } from 'node:os';
import { VitePWA } from 'vite-plugin-pwa';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  root: 'ui',
  base: '/',
  // The manifest says which scripts a screen needs: npm run weigh:screens.
  build: { outDir: '../.local/ui', emptyOutDir: true, target: 'es2023', chunkSizeWarningLimit: 700, manifest: 'scripts.json' },
  worker: { format: 'es' },
  server: { proxy: { '/api': 'http://127.0.0.1:8100' } },
  plugins: [VitePWA({
    filename: 'service-worker.js',
    // The page registers it itself, after its first screen, and offers a newer version instead of taking it (ui/app/app-update.ts).
    registerType: 'prompt', injectRegister: false,
    manifestFilename: 'lugwright.webmanifest',
    manifest: {
      id: '/', name: 'lugwright', short_name: 'lugwright', description: 'Parts matching and ordering for the bench where engines that will not crank are mended',
      start_url: '/', scope: '/', display: 'standalone', lang: 'en', categories: ['utilities', 'productivity'],
      background_color: '#f8f3e7', theme_color: '#f8f3e7',
      icons: [
        { src: '/icon.svg', type: 'image/svg+xml', sizes: 'any', purpose: 'any' },
        { src: '/icon-192.png', type: 'image/png', sizes: '192x192', purpose: 'any' },
        { src: '/icon-512.png', type: 'image/png', sizes: '512x512', purpose: 'any' },
        { src: '/icon-512.png', type: 'image/png', sizes: '512x512', purpose: 'maskable' },
      ],
    },
    workbox: {
      // Fonts as WOFF2 only: no browser that runs this page asks for the others.
      globPatterns: ['**/*.{js,css,html,svg,png,woff2,wasm,webmanifest}'],
      maximumFileSizeToCacheInBytes: 4_000_000,
      navigateFallback: '/index.html',
      // What the server itself answers as pages; the query is part of what is compared.
      navigateFallbackDenylist: [/^\/(?:api|connect|here)(?:[/?]|$)/],
      // The first visit is kept too, without loading the page twice.
      clientsClaim: true, skipWaiting: false, cleanupOutdatedCaches: true,
      dontCacheBustURLsMatching: /^assets\//,
      sourcemap: false, inlineWorkboxRuntime: true,
    },
  })],
  test: {
    root: import.meta.dirname,
    include: ['{catalog-schema,api,ui,tests}/**/*.test.ts'],
    exclude: ['**/node_modules/**', 'tests/journeys/**'],
    testTimeout: 20_000,
    // The runner's own default leaves one processor free: of two, one would do all the work.
    maxWorkers: Math.max(2, availableParallelism() - 1),
  },
});
