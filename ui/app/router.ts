import type { ShelfView } from '../screens/shelf/element.ts';
import type { StepName } from '../screens/step-states.ts';
import { STEP_NAMES } from '../screens/step-states.ts';

/** Where the page is. `detail` is what is open within a step: a part, a wire. */
export type Place =
  | { readonly kind: 'jobs' }
  | { readonly kind: 'start-job' }
  | { readonly kind: 'counter' }
  | { readonly kind: 'find'; readonly text: string }
  | { readonly kind: 'counter-step'; readonly step: StepName; readonly detail: string | undefined }
  | { readonly kind: 'job'; readonly id: string; readonly step: StepName | undefined; readonly detail: string | undefined }
  | { readonly kind: 'shelf'; readonly view: ShelfView; readonly detail: string | undefined }
  | { readonly kind: 'orders' }
  | { readonly kind: 'order'; readonly id: string }
  | { readonly kind: 'suppliers'; readonly id: string | undefined }
  | { readonly kind: 'plan' }
  | { readonly kind: 'reorder' }
  | { readonly kind: 'settings' }
  | { readonly kind: 'sign-in' }
  | { readonly kind: 'gauge' }
  | { readonly kind: 'waiting' }
  | { readonly kind: 'nowhere' };

type Groups = Readonly<Record<string, string | undefined>>;

const ROUTES: readonly (readonly [URLPattern, (groups: Groups) => Place])[] = [
  [new URLPattern({ pathname: '/' }), () => ({ kind: 'jobs' })],
  [new URLPattern({ pathname: '/start' }), () => ({ kind: 'start-job' })],
  [new URLPattern({ pathname: '/settings' }), () => ({ kind: 'settings' })],
  [new URLPattern({ pathname: '/sign-in' }), () => ({ kind: 'sign-in' })],
  [new URLPattern({ pathname: '/gauge' }), () => ({ kind: 'gauge' })],
  [new URLPattern({ pathname: '/waiting' }), () => ({ kind: 'waiting' })],
  [new URLPattern({ pathname: '/shelf' }), () => ({ kind: 'shelf', view: 'list', detail: undefined })],
  [new URLPattern({ pathname: '/shelf/:view(part|bin)/:detail' }), (groups) => ({ kind: 'shelf', view: groups['view'] as ShelfView, detail: decode(groups['detail']) })],
  [new URLPattern({ pathname: '/shelf/:view(count|labels){/:detail}?' }), (groups) => ({ kind: 'shelf', view: groups['view'] as ShelfView, detail: decode(groups['detail']) })],
  [new URLPattern({ pathname: '/plan' }), () => ({ kind: 'plan' })],
  [new URLPattern({ pathname: '/plan/reorder' }), () => ({ kind: 'reorder' })],
  [new URLPattern({ pathname: '/orders' }), () => ({ kind: 'orders' })],
  [new URLPattern({ pathname: '/orders/:id' }), (groups) => ({ kind: 'order', id: decode(groups['id']) ?? '' })],
  [new URLPattern({ pathname: '/suppliers{/:id}?' }), (groups) => ({ kind: 'suppliers', id: decode(groups['id']) })],
  [new URLPattern({ pathname: '/find{/:text}?' }), (groups) => ({ kind: 'find', text: decode(groups['text']) ?? '' })],
  [new URLPattern({ pathname: '/counter' }), () => ({ kind: 'counter' })],
  [new URLPattern({ pathname: '/counter/:step{/:detail}?' }), (groups) => {
    const step = readStep(groups['step']);
    return step === undefined ? { kind: 'nowhere' } : { kind: 'counter-step', step, detail: decode(groups['detail']) };
  }],
  [new URLPattern({ pathname: '/jobs/:id{/:step}?{/:detail}?' }), (groups) => {
    const step = readStep(groups['step']);
    if (groups['step'] !== undefined && step === undefined) return { kind: 'nowhere' };
    return { kind: 'job', id: decode(groups['id']) ?? '', step, detail: decode(groups['detail']) };
  }],
];

/** The place an address stands for; 'nowhere' for one that nothing answers to. */
export function readPlace(pathname: string): Place {
  const path = pathname.length > 1 ? pathname.replace(/\/+$/, '') : pathname;
  for (const [pattern, make] of ROUTES) {
    const match = pattern.exec({ pathname: path });
    if (match) return make(match.pathname.groups);
  }
  return { kind: 'nowhere' };
}

function readStep(word: string | undefined): StepName | undefined {
  return STEP_NAMES.find((step) => step === word);
}

function decode(part: string | undefined): string | undefined {
  if (part === undefined) return undefined;
  try { return decodeURIComponent(part); } catch { return part; }
}

/**
 * Follows links of this page without loading it again. `show` is called with each new place, `first` with the one the
 * page opened at. Returns what goes to an address from code.
 */
export function startRouter(show: (place: Place) => void): (path: string) => void {
  const follow = (): void => show(readPlace(location.pathname));
  const go = (path: string): void => {
    if (path !== location.pathname) history.pushState(null, '', path);
    follow();
  };
  addEventListener('popstate', follow);
  addEventListener('click', (event) => {
    if (event.defaultPrevented || event.button !== 0 || event.metaKey || event.ctrlKey || event.shiftKey || event.altKey) return;
    const link = event.composedPath().find((target): target is HTMLAnchorElement => target instanceof HTMLAnchorElement);
    if (link === undefined || link.target !== '' || link.origin !== location.origin || link.pathname.startsWith('/api/') || link.pathname.startsWith('/connect')) return;
    if (link.hash !== '') return;
    event.preventDefault();
    go(link.pathname);
  });
  follow();
  return go;
}
