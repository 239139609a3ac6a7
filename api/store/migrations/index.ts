import type { Migration } from 'kysely/migration';
import { catalogueAndJobs } from './20261125-1000-catalogue-and-jobs.ts';
import { shop } from './20261125-1030-shop.ts';
import { outcomes } from './20261125-1500-outcomes.ts';
import { photographs } from './20261125-1530-photographs.ts';
import { heldEdits } from './20261125-1700-held-edits.ts';
import { people } from './20261125-1710-people.ts';
import { carried } from './20261125-1711-carried.ts';
import { uploads } from './20261125-1720-uploads.ts';
import { stockMoves } from './20261125-2015-stock-moves.ts';
import { orders } from './20261125-2030-orders.ts';
import { faultShares } from './20261125-2115-fault-shares.ts';

/** Every version of the tables, oldest first by name. A migration that has left this house is never changed: add another. */
export const MIGRATIONS: Readonly<Record<string, Migration>> = {
  '20261125-1000-catalogue-and-jobs': catalogueAndJobs,
  '20261125-1030-shop': shop,
  '20261125-1500-outcomes': outcomes,
  '20261125-1530-photographs': photographs,
  '20261125-1700-held-edits': heldEdits,
  '20261125-1710-people': people,
  '20261125-1711-carried': carried,
  '20261125-1720-uploads': uploads,
  '20261125-2015-stock-moves': stockMoves,
  '20261125-2030-orders': orders,
  '20261125-2115-fault-shares': faultShares,
};
