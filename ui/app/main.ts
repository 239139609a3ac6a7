import '../tokens.css';
import './app.css';
import { createAccessService, createFetchService, createJobFiles, makeUuid, Session, Settings, Shop, type Desk, type SettingValues } from '../client/index.ts';
import { createCodeClient, createEngineClient, createPictureClient } from '../worker/index.ts';
import { AppShell } from './app-shell.ts';
import { AppUpdate } from './app-update.ts';
import { followSession } from './follow-session.ts';
import { HalfTyped } from './half-typed.ts';
import { findPath } from '../elements/part-search/find-path.ts';
import { listenForScans } from './listen-for-scans.ts';
import { openDevice } from './open-device.ts';
import { OpenSheets } from './open-sheets.ts';
import { startRouter } from './router.ts';

/** How often the jobs that are open are read again, ms. */
const LOOK_AGAIN_MS = 15_000;

const storage = findStorage();
const settings = new Settings(storage);
showTheme(settings.values);
settings.addEventListener('change', () => showTheme(settings.values));

const { service, sender, device, edits, photographs, catalogue, getReady } = openDevice(createFetchService(), storage);
const engine = createEngineClient();
const now = (): Date => new Date();
const newId = makeUuid;

const access = createAccessService();
const session = new Session(access, storage);

const sheets = new OpenSheets(service, edits, {
  now, newId,
  author: () => (settings.values.author === '' ? undefined : settings.values.author),
});
addEventListener('online', () => {
  void sheets.refresh();
  void sender.wake();
});
// What other devices do to the jobs that are open here is seen without asking for it.
setInterval(() => { if (document.visibilityState === 'visible' && navigator.onLine) void sheets.refresh(); }, LOOK_AGAIN_MS);
document.addEventListener('visibilitychange', () => {
  if (document.visibilityState !== 'visible') return;
  void session.read();
  void sheets.refresh();
  void sender.wake();
});
addEventListener('beforeunload', (event) => { if (sheets.unkept + photographs.unkept > 0) event.preventDefault(); });

const halfTyped = new HalfTyped(document);
const update = new AppUpdate({
  workers: 'serviceWorker' in navigator ? navigator.serviceWorker : undefined,
  findUnfinished: () => (halfTyped.now ? 'half-typed' : sheets.counter !== undefined ? 'counter' : sheets.unkept + photographs.unkept > 0 ? 'unkept' : undefined),
  reload: () => location.reload(), onQuiet: (work) => halfTyped.onQuiet(work),
});

const shell = new AppShell();
const desk: Desk = {
  service, engine, shop: new Shop(service, engine, catalogue), device, photographs, pictures: createPictureClient(), codes: createCodeClient(), settings, session, access, jobFiles: createJobFiles(), now, newId,
  go: (path) => go(path),
};
shell.desk = desk;
shell.sheets = sheets;
shell.appUpdate = update;
document.body.append(shell);
const go = startRouter((place) => { void shell.show(place); });
followSession({
  session, settings, device,
  goOn: () => {
    void sheets.refresh();
    void sender.wake();
  },
  askToSignIn: () => go('/sign-in'),
});
void session.read();
// After the first screen: what it needs comes first.
addEventListener('load', () => {
  later(() => {
    void update.start().catch(() => device.noteKeepsPage(false));
    void getReady();
  });
});

listenForScans(document, (code) => {
  // A screen that shows the job opens the wire itself, and a count takes what is scanned; elsewhere the address leads there.
  if ('kind' in code) {
    if (dispatchEvent(new CustomEvent('shelf-scan', { detail: code, cancelable: true }))) desk.go(`/shelf/${code.kind}/${encodeURIComponent(code.kind === 'bin' ? code.bin : code.partId)}`);
    return;
  }
  if (dispatchEvent(new CustomEvent('wire-scan', { detail: code, cancelable: true }))) desk.go(`/jobs/${code.jobId}/as-found/${encodeURIComponent(code.tag)}`);
}, (text) => desk.go(findPath(text)));

// From anywhere to where a number is typed.
addEventListener('keydown', (event) => {
  if (event.key.toLowerCase() !== 'k' || !(event.ctrlKey || event.metaKey) || event.altKey || event.shiftKey) return;
  event.preventDefault();
  const field = [...document.querySelectorAll<HTMLInputElement>('[role="search"] input')].find((each) => each.checkVisibility());
  if (field === undefined) desk.go('/find');
  else field.focus();
});

/** When the page has nothing else to do. */
function later(work: () => void): void {
  if ('requestIdleCallback' in window) requestIdleCallback(work, { timeout: 3_000 });
  else setTimeout(work, 1_000);
}

/** The device's storage; undefined where the browser bars it, and choices then last as long as the page. */
function findStorage(): Storage | undefined {
  try { return window.localStorage; } catch { return undefined; }
}

function showTheme({ theme }: SettingValues): void {
  if (theme === 'auto') document.documentElement.removeAttribute('data-theme');
  else document.documentElement.dataset['theme'] = theme;
}
