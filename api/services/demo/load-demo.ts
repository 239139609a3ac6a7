import { printFault } from '../../../catalog-schema/index.ts';
import { readPartsPath } from '../../../catalog-schema/folder/index.ts';
import type { Store } from '../../store/index.ts';
import type { CatalogueService } from '../catalogue/catalogue-service.ts';
import type { Clock } from '../clock.ts';

export interface DemoLoading {
  readonly store: Store;
  readonly catalogue: CatalogueService;
  readonly clock: Clock;
  readonly report: (line: string) => void;
}

/** Loads a demo folder into a database that is still empty, all in one transaction; does nothing in any other. */
export async function loadDemo(folder: string, { store, catalogue, report }: DemoLoading): Promise<void> {
  if (catalogue.current().parts.length > 0) return;
  const rows = readPartsPath(folder);
  if (!rows.ok) {
    rows.faults.forEach((fault) => report(printFault(fault)));
    return;
  }
  const { faults } = await store.transact((tx) => catalogue.importPartsIn(tx, rows.value));
  faults.forEach((fault) => report(printFault(fault)));
  await catalogue.reload();
}
