export { draftOrdersIn } from './draft-orders.ts';
export { listOpenServes, type OpenServe } from './order-books.ts';
export { createOrderService, wasOrdered, type OrderService } from './order-service.ts';
