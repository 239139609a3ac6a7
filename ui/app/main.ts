import '../tokens.css';
import './app.css';
import { createFetchService, makeUuid, PhotographKeeper, Settings, Shop, type Desk, type SettingValues } from '../client/index.ts';
import { createEngineClient, createPictureClient } from '../worker/index.ts';
import { AppShell } from './app-shell.ts';
import { OpenSheets } from './open-sheets.ts';
import { startRouter } from './router.ts';

const settings = new Settings(findStorage());
showTheme(settings.values);
settings.addEventListener('change', () => showTheme(settings.values));

const service = createFetchService();
const engine = createEngineClient();
const now = (): Date => new Date();
const newId = makeUuid;

const later = (work: () => void, ms: number): (() => void) => {
  const timer = setTimeout(work, ms);
  return () => clearTimeout(timer);
};

const sheets = new OpenSheets(service, {
  now, newId, later,
  author: () => (settings.values.author === '' ? undefined : settings.values.author),
});
const photographs = new PhotographKeeper(service, later);
addEventListener('online', () => {
  sheets.sendAll();
  photographs.sendNow();
});
document.addEventListener('visibilitychange', () => { if (document.visibilityState === 'visible') void sheets.refresh(); });
addEventListener('beforeunload', (event) => { if (sheets.waiting + photographs.waiting > 0) event.preventDefault(); });

const shell = new AppShell();
const desk: Desk = {
  service, engine, shop: new Shop(service, engine), photographs, pictures: createPictureClient(), settings, now, newId,
  go: (path) => go(path),
};
shell.desk = desk;
shell.sheets = sheets;
document.body.append(shell);
const go = startRouter((place) => { void shell.show(place); });

/** The device's storage; undefined where the browser bars it, and choices then last as long as the page. */
function findStorage(): Storage | undefined {
  try { return window.localStorage; } catch { return undefined; }
}

function showTheme({ theme }: SettingValues): void {
  if (theme === 'auto') document.documentElement.removeAttribute('data-theme');
  else document.documentElement.dataset['theme'] = theme;
}
