import { isIPv4, isIPv6 } from 'node:net';

/** The 4 or 16 bytes of an address. @throws where it is none. */
export function readAddressBytes(address: string): number[] {
  if (isIPv4(address)) return address.split('.').map(Number);
  if (!isIPv6(address)) throw new Error(`${address} is no address`);
  const [head = '', tail] = address.replace(/%.*$/, '').replace(/(\d+)\.(\d+)\.(\d+)\.(\d+)$/, (_, ...bytes: string[]) => {
    const [a, b, c, d] = bytes.slice(0, 4).map(Number) as [number, number, number, number];
    return `${(a * 256 + b).toString(16)}:${(c * 256 + d).toString(16)}`;
  }).split('::');
  const groupsOf = (text: string): number[] => (text === '' ? [] : text.split(':').map((group) => Number.parseInt(group, 16)));
  const [before, after] = [groupsOf(head), groupsOf(tail ?? '')];
  const groups = tail === undefined ? before : [...before, ...Array<number>(8 - before.length - after.length).fill(0), ...after];
  return groups.flatMap((group) => [group >> 8, group & 0xff]);
}
