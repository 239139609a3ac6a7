export { createApp, type AppOptions, type AppType } from './create-app.ts';
