import type { KitItem } from '../../../catalog-schema/index.ts';
import type { Finding } from './finding.ts';

/** What has to be at hand, alike items counted together, in the order of the checks. */
export function gatherKit(findings: readonly Finding[]): KitItem[] {
  const gathered = new Map<string, KitItem>();
  for (const item of findings.flatMap(({ kit = [] }) => kit)) {
    const key = JSON.stringify([item.item, item.detail]);
    const there = gathered.get(key);
    gathered.set(key, there ? { ...there, qty: there.qty + item.qty } : { ...item });
  }
  return [...gathered.values()];
}
