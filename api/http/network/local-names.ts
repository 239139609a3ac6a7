import { hostname, networkInterfaces } from 'node:os';
import { isAddress, isPrivateAddress, type ServerNames } from './certificates.ts';

/** What the machine is called and where it is reached, as the operating system says. */
export interface Machine {
  readonly hostName: string;
  readonly interfaces: Readonly<Record<string, readonly { readonly address: string; readonly internal: boolean }[] | undefined>>;
}

export interface LocalNames extends ServerNames {
  /** where other devices reach the machine, the likeliest first */
  readonly reached: readonly string[];
  /** addresses that are open to the Internet: nothing is served there */
  readonly leftOut: readonly string[];
}

/** Interfaces that lead to machines inside this one. */
const INNER_NETWORKS = /^(?:docker|br-|veth|virbr|vmnet|vboxnet|lxc|lxd|podman|cni|flannel|tun|tap|utun|wg|zt)/i;

export function readMachine(): Machine {
  return { hostName: hostname(), interfaces: networkInterfaces() };
}

/** Every name and private address under which this machine answers. Link-local IPv6 is left out: an address in a browser cannot say which link. */
export function findLocalNames({ hostName, interfaces }: Machine): LocalNames {
  const found = Object.entries(interfaces).flatMap(([name, entries = []]) => entries
    .filter(({ address, internal }) => !internal && isAddress(address) && !/^fe80:/i.test(address))
    .map(({ address }) => ({ address, place: (INNER_NETWORKS.test(name) ? 2 : 0) + (address.includes(':') ? 1 : 0) })));
  const sorted = found.toSorted((a, b) => a.place - b.place || (a.address < b.address ? -1 : 1)).map(({ address }) => address);
  const reached = sorted.filter(isPrivateAddress);
  const host = asName(hostName);
  const names = host === undefined ? [] : host.includes('.') ? [host] : [host, `${host}.local`];
  return {
    names: [...new Set([...names, 'localhost'])], addresses: [...new Set([...reached, '127.0.0.1', '::1'])], reached,
    leftOut: sorted.filter((address) => !isPrivateAddress(address)),
  };
}

/** The host's name as a certificate may carry it: letters, digits, hyphens and dots of ASCII. */
export function asName(hostName: string): string | undefined {
  const name = hostName.toLowerCase().replace(/\.$/, '');
  return /^(?=.{1,253}$)[a-z\d](?:[a-z\d-]{0,61}[a-z\d])?(?:\.[a-z\d](?:[a-z\d-]{0,61}[a-z\d])?)*$/.test(name) && !isAddress(name) ? name : undefined;
}
