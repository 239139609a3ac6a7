import { z } from 'zod';
import {
  acceptedPlan, planAcceptance, reorderAnswer, shopPlan,
  asLeftAnswer, benchRecordSchema, carriedWithJob, check, circuitElement, customerRecord, findAnswer, fit, fitAnswer, fitHistoryRow, fitWishes,
  identifyAnswer, jobConflict, jobDocument, jobEdit, jobFile, jobImport, jobState, newPerson, personState, pinChange, pinReset, sessionState, signIn,
  faultSharesAnswer, faultSharesEdit, LIMITS, loggedEdit, machineSystem, needSchema, newJob, orderLine, orderLineRequest, outcomeReport, partOutcome, partSchema, placement, plan,
  pricesSchema, proveAnswer, proveCaseSchema, replacementRow, refusal, reservation, reservationRequest, rewireAnswer, shelfRow, sourceAnswer,
  stockAnswer, stockMove, stockMoveBatch, stockMoveRequest, stockRow, storedPhotograph, terminal, traceAnswer, wire, newOrder, orderActs,
  orderSummary, purchaseOrder, supplierEdit, supplierState, offerEdit, offerState, shopCard, shopCardEdit,
} from '../../catalog-schema/index.ts';
import { editBatch } from '../services/index.ts';

// Bodies and answers that only this door has; everything else is the contract's.

export const fitRequest = z.strictObject({ record: benchRecordSchema, prices: pricesSchema.optional(), ...fitWishes });
/** One part, whole or by its id in the stored catalogue. One shape rather than two, so that a fault is named where it is. */
export const rewireRequest = z.strictObject({
  record: benchRecordSchema, part: partSchema.optional(), partId: z.string().min(1).max(LIMITS.stringCharacters).optional(),
}).check((context) => {
  const { part, partId } = context.value;
  if ((part === undefined) === (partId === undefined)) {
    context.issues.push({ code: 'custom', input: partId, path: ['partId'], message: `want:${part ? 'it left out beside part' : 'the id of a part, or part'}` });
  }
});
/** `tags` asks for some wires alone; without it every wire that is not traced, or has readings, is answered. */
export const traceRequest = z.strictObject({ record: benchRecordSchema, tags: z.array(z.string().min(1).max(LIMITS.stringCharacters)).max(LIMITS.wires).optional() });
/** A query that may name a job. */
export const ofJob = z.strictObject({ jobId: z.uuid().optional() });
export const health = z.strictObject({ status: z.literal('ok'), parts: z.int() });
export const problem = z.strictObject({
  type: z.string(), title: z.string(), status: z.int(), detail: z.string(),
  faults: z.array(z.strictObject({ path: z.string(), found: z.string(), want: z.string(), line: z.string() })),
});

/** The names under which schemas stand in the OpenAPI document. */
export const NAMED_SCHEMAS: Readonly<Record<string, z.ZodType>> = {
  Part: partSchema, Terminal: terminal, CircuitElement: circuitElement,
  BenchRecord: benchRecordSchema, MachineSystem: machineSystem, Wire: wire, Prices: pricesSchema,
  IdentifyAnswer: identifyAnswer, FitRequest: fitRequest, FitAnswer: fitAnswer, Fit: fit, Check: check, Placement: placement,
  RewireRequest: rewireRequest, RewireAnswer: rewireAnswer, Plan: plan, RefusedPlan: refusal, FindAnswer: findAnswer,
  TraceRequest: traceRequest, TraceAnswer: traceAnswer,
  ProveCase: proveCaseSchema, replacementRow, ProveAnswer: proveAnswer, Need: needSchema, SourceAnswer: sourceAnswer,
  FaultSharesEdit: faultSharesEdit, FaultSharesAnswer: faultSharesAnswer,
  AsLeftAnswer: asLeftAnswer,
  CustomerRecord: customerRecord,
  ShopPlan: shopPlan, PlanAcceptance: planAcceptance, AcceptedPlan: acceptedPlan, ReorderAnswer: reorderAnswer,
  NewJob: newJob, EditBatch: editBatch, JobState: jobState, JobDocument: jobDocument, JobEdit: jobEdit, LoggedEdit: loggedEdit, JobConflict: jobConflict, JsonValue: jobEdit.shape.value,
  StockRow: stockRow, StockMove: stockMove, StockMoveRequest: stockMoveRequest, StockMoveBatch: stockMoveBatch, StockAnswer: stockAnswer,
  ShelfRow: shelfRow, ReservationRequest: reservationRequest, Reservation: reservation,
  OrderLineRequest: orderLineRequest, OrderLine: orderLine, NewOrder: newOrder, OrderActs: orderActs, OrderSummary: orderSummary, PurchaseOrder: purchaseOrder,
  SupplierEdit: supplierEdit, SupplierState: supplierState, OfferEdit: offerEdit, OfferState: offerState, ShopCard: shopCard, ShopCardEdit: shopCardEdit,
  OutcomeReport: outcomeReport, PartOutcome: partOutcome, FitHistoryRow: fitHistoryRow, ReplacementRow: replacementRow,
  StoredPhotograph: storedPhotograph,
  CarriedWithJob: carriedWithJob, JobFile: jobFile, JobImport: jobImport,
  SignIn: signIn, SessionState: sessionState, PinChange: pinChange, PinReset: pinReset, NewPerson: newPerson, PersonState: personState,
  Health: health, Problem: problem,
};
