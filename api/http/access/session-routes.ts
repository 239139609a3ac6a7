import { Hono } from 'hono';
import { pinChange, sessionState, signIn, type SessionState } from '../../../catalog-schema/index.ts';
import { SESSION_DAYS, type Services } from '../../services/index.ts';
import type { ApiDocument } from '../open-api.ts';
import { valueOf } from '../problem.ts';
import { readBody } from '../read-request.ts';
import type { AccessRule } from './access-rule.ts';
import { askerOf, giveToken, takeToken, type Asker } from './asker.ts';

export function makeSessionRoutes({ people }: Pick<Services, 'people'>, rule: AccessRule, document: ApiDocument) {
  document.describe({
    method: 'get', path: '/api/session', summary: 'Who is signed in, and whether somebody has to be',
    answers: { 200: { schema: sessionState, what: 'How things stand' } },
  });
  document.describe({
    method: 'post', path: '/api/session', body: signIn,
    summary: 'Sign in; the session is a cookie that no script can read. Wrong PINs make the next try wait, by name and by address',
    answers: { 200: { schema: sessionState, what: 'Signed in' } }, problems: ['refused-input', 'wrong-pin', 'wait'],
  });
  document.describe({
    method: 'delete', path: '/api/session', summary: 'Sign out', answers: { 200: { schema: sessionState, what: 'Signed out' } },
  });
  document.describe({
    method: 'post', path: '/api/session/pin', body: pinChange, summary: 'Change one’s own PIN; one’s other devices are signed out',
    answers: { 204: { schema: null, what: 'Changed' } }, problems: ['refused-input', 'wrong-pin', 'wait'],
  });
  const describe = (asker: Pick<Asker, 'here' | 'who'>): SessionState => ({
    network: rule.network, here: asker.here, person: asker.who === undefined ? null : { name: asker.who.name },
    needsSignIn: asker.who === undefined && !asker.here,
  });
  return new Hono()
    .get('/', (c) => c.json(describe(askerOf(c)), 200))
    .post('/', readBody(signIn), async (c) => {
      const asker = askerOf(c);
      const { token, who } = valueOf(c, await people.signIn({ ...c.req.valid('json'), address: asker.address }));
      // Whoever was signed in here before is not any more.
      if (asker.token !== undefined) await people.signOut(asker.token);
      giveToken(c, token, SESSION_DAYS.unseen);
      return c.json(describe({ here: asker.here, who }), 200);
    })
    .delete('/', async (c) => {
      const { token, here } = askerOf(c);
      if (token !== undefined) await people.signOut(token);
      takeToken(c);
      return c.json(describe({ here, who: undefined }), 200);
    })
    .post('/pin', readBody(pinChange), async (c) => {
      const { token, address } = askerOf(c);
      return c.body(valueOf(c, await people.changePin(token ?? '', { ...c.req.valid('json'), address })), 204);
    });
}
