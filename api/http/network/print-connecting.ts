import { writeFingerprintLines } from './connect-page.ts';
import type { OpenNetwork } from './open-network.ts';
import { printQrCode } from './qr-code.ts';

/** What the start says of an open server: how other devices come in, and this machine's own browser. */
export function printConnecting({ connecting, machineLink }: Pick<OpenNetwork, 'connecting' | 'machineLink'>, people: number): string {
  const { addresses, pageAddress, authority } = connecting.facts();
  return [
    '',
    `open to the network: ${addresses[0] ?? 'this machine has no address on a network of its own'}`,
    `on another device, first open ${pageAddress}`,
    '',
    printQrCode(pageAddress),
    `the certificate to trust there is ${JSON.stringify(authority.name)}; its SHA-256 fingerprint has to be`,
    ...writeFingerprintLines(authority.fingerprint).map((line) => `  ${line}`),
    '',
    'on this machine, without signing in (this link is for you alone):',
    `  ${machineLink()}`,
    ...(people > 0 ? [] : ['', 'nobody can sign in yet: add a name with its PIN in the settings on this machine, or by', '  npx --no lugwright person add NAME']),
    '',
  ].join('\n');
}
