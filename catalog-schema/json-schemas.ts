import { z } from 'zod';
import * as answer from './answer.ts';
import { benchRecordSchema } from './bench-record.ts';
import { catalogueSchema } from './catalogue.ts';
import { fitHistory } from './fit-options.ts';
import { replacements } from './shop/replacements.ts';
import { asLeftAnswer } from './job/as-left-answer.ts';
import { customerRecord } from './job/customer-record.ts';
import { jobDocument, jobState } from './job/job-document.ts';
import { jobConflict } from './job/job-conflict.ts';
import { jobEdit, loggedEdit } from './job/job-edit.ts';
import { carriedWithJob, jobFile, jobImport } from './job/job-file.ts';
import { storedPhotograph } from './job/job-photograph.ts';
import { needSchema, pricesSchema } from './need.ts';
import { partSchema } from './part.ts';
import { reorderAnswer, reorderSchema } from './reorder.ts';
import { proveCaseSchema } from './prove-case.ts';
import { orderSummary, purchaseOrder } from './shop/order.ts';
import { newOrder, orderActs } from './shop/order-act.ts';
import { outcomeReport, partOutcome } from './shop/outcome.ts';
import { orderLine, orderLineRequest, reservation, reservationRequest, shelfRow } from './shop/shop.ts';
import { offerEdit, offerState, shopCardEdit, supplierEdit, supplierState } from './shop/supplier.ts';
import { stockAnswer, stockMove, stockMoveBatch, stockRow } from './shop/stock.ts';

const DOCUMENTS: Readonly<Record<string, { schema: z.ZodType; title: string }>> = {
  part: { schema: partSchema, title: 'Catalogue part' },
  catalogue: { schema: catalogueSchema, title: 'Catalogue' },
  'bench-record': { schema: benchRecordSchema, title: 'Bench record' },
  'prove-case': { schema: proveCaseSchema, title: 'What was seen on a machine that does not crank' },
  need: { schema: needSchema, title: 'What is needed, on the shelf and on offer' },
  prices: { schema: pricesSchema, title: 'Prices a fit is ranked by' },
  reorder: { schema: reorderSchema, title: 'What the shelf keeps, what was wanted of it, and how it is to be kept' },
  'reorder-answer': { schema: reorderAnswer, title: 'Answer of reorder' },
  'identify-answer': { schema: answer.identifyAnswer, title: 'Answer of identify' },
  'fit-answer': { schema: answer.fitAnswer, title: 'Answer of fit' },
  'rewire-answer': { schema: answer.rewireAnswer, title: 'Answer of rewire' },
  'trace-answer': { schema: answer.traceAnswer, title: 'Answer of trace' },
  'prove-answer': { schema: answer.proveAnswer, title: 'Answer of prove' },
  'source-answer': { schema: answer.sourceAnswer, title: 'Answer of source' },
  'find-answer': { schema: answer.findAnswer, title: 'Answer of find' },
  'customer-record': { schema: customerRecord, title: 'The customer\'s page of a job' },
  'as-left-answer': { schema: asLeftAnswer, title: 'A job\'s reinstall checklist' },
  'job-document': { schema: jobDocument, title: 'What a job holds' },
  'job-edit': { schema: jobEdit, title: 'One edit of a job' },
  'logged-edit': { schema: loggedEdit, title: 'One edit as a job\'s log keeps it' },
  'job-conflict': { schema: jobConflict, title: 'An edit that waits for a choice' },
  'job-state': { schema: jobState, title: 'A job as every door shows it' },
  'job-file': { schema: jobFile, title: 'A job in one file' },
  'carried-with-job': { schema: carriedWithJob, title: 'What came with a job from another shop' },
  'job-import': { schema: jobImport, title: 'What taking a job file in came to' },
  'stored-photograph': { schema: storedPhotograph, title: 'A photograph that the server keeps' },
  'shelf-row': { schema: shelfRow, title: 'One bin of the shelf' },
  'reservation-request': { schema: reservationRequest, title: 'Units to be put aside' },
  reservation: { schema: reservation, title: 'Units put aside' },
  'order-line-request': { schema: orderLineRequest, title: 'A line to be ordered' },
  'outcome-report': { schema: outcomeReport, title: 'What became of a fitted part' },
  'part-outcome': { schema: partOutcome, title: 'What became of a fitted part, as it is kept' },
  replacements: { schema: replacements, title: 'What a shop has found of parts in place of numbers' },
  'fit-history': { schema: fitHistory, title: 'What a shop has learned of fitted parts' },
  'stock-row': { schema: stockRow, title: 'A part in a bin, as the moves add up' },
  'stock-move': { schema: stockMove, title: 'A move of the shelf, as it is kept' },
  'stock-move-batch': { schema: stockMoveBatch, title: 'Moves of the shelf to be recorded together' },
  'stock-answer': { schema: stockAnswer, title: 'What recording moves came to' },
  'order-line': { schema: orderLine, title: 'A line ordered' },
  'new-order': { schema: newOrder, title: 'An order to be drafted' },
  'order-acts': { schema: orderActs, title: 'What is done to an order' },
  'purchase-order': { schema: purchaseOrder, title: 'An order to a supplier' },
  'supplier-edit': { schema: supplierEdit, title: 'A supplier\'s card, written anew' },
  'supplier-state': { schema: supplierState, title: 'A supplier' },
  'offer-edit': { schema: offerEdit, title: 'A supplier\'s offer, written anew' },
  'offer-state': { schema: offerState, title: 'An offer and who wrote it' },
  'shop-card-edit': { schema: shopCardEdit, title: 'The shop\'s card, written anew' },
  'order-summary': { schema: orderSummary, title: 'An order in a list' },
};

/**
 * JSON Schema (2020-12) of every input and answer, as file name and text.
 * A schema knows shapes and bounds; what lies between fields (references, unique ids, thresholds in order) only the readers check.
 */
export function renderJsonSchemas(): ReadonlyMap<string, string> {
  return new Map(Object.entries(DOCUMENTS).map(([name, { schema, title }]) => {
    const rendered = z.toJSONSchema(schema, { target: 'draft-2020-12', io: 'input', unrepresentable: 'any' });
    return [`${name}.schema.json`, `${JSON.stringify({ title, ...rendered }, null, 2)}\n`];
  }));
}
