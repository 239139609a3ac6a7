export type { AppType } from './app-type.ts';
export { createApp, type AppOptions } from './create-app.ts';
