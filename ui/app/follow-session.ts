import type { Device, Session, Settings } from '../client/index.ts';

export interface SessionFollowers {
  readonly session: Session;
  readonly settings: Settings;
  readonly device: Device;
  /** sends what waits, and reads anew what is shown */
  readonly goOn: () => void;
  /** shows the way to sign in */
  readonly askToSignIn: () => void;
}

/** Keeps the page in step with who is signed in. */
export function followSession({ session, settings, device, goOn, askToSignIn }: SessionFollowers): void {
  settings.setPerson(session.person);
  let needed = false;
  let signedIn: string | undefined;
  session.addEventListener('change', () => {
    settings.setPerson(session.person);
    const needs = session.needsSignIn;
    const name = session.state?.person?.name;
    // Whoever comes next may be the one whose work waits.
    if ((needed && !needs) || (name !== undefined && signedIn !== undefined && name !== signedIn)) goOn();
    signedIn = name ?? signedIn;
    // A device that nobody has signed in on has nothing to show; on any other the page stays, and says it at the top.
    if (!needed && needs && session.person === '') askToSignIn();
    needed = needs;
  });
  let reach = device.reach;
  device.addEventListener('change', () => {
    if (device.reach === 'signed-out' && reach !== 'signed-out') void session.read();
    reach = device.reach;
  });
}
