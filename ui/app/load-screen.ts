import type { Place } from './router.ts';

/** Fetches the screen of a place; each is a script of its own, so that the first page waits for one only. */
export async function loadScreen(place: Place): Promise<void> {
  switch (place.kind) {
    case 'jobs': await import('../screens/jobs/element.ts'); return;
    case 'start-job': await import('../screens/start-job/element.ts'); return;
    case 'find': await import('../screens/find/element.ts'); return;
    case 'counter': await import('../screens/counter/element.ts'); return;
    case 'shelf': await import('../screens/shelf/element.ts'); return;
    case 'orders': await import('../screens/orders/element.ts'); return;
    case 'order': await import('../screens/order/element.ts'); return;
    case 'suppliers': await import('../screens/suppliers/element.ts'); return;
    case 'plan': await import('../screens/plan/element.ts'); return;
    case 'reorder': await import('../screens/reorder/element.ts'); return;
    case 'settings': await import('../screens/settings/element.ts'); return;
    case 'sign-in': await import('../screens/sign-in/element.ts'); return;
    case 'gauge': await import('../screens/gauge/element.ts'); return;
    case 'waiting': await import('../screens/waiting/element.ts'); return;
    case 'job': await import('../screens/job/element.ts'); return;
    // Without an open sheet it is the counter's first page.
    case 'counter-step': await Promise.all([import('../screens/job/element.ts'), import('../screens/counter/element.ts')]); return;
    case 'nowhere': return;
  }
}
