import type { OrderAct, OrderStateName } from '../../catalog-schema/index.ts';

/** What of the words of orders and suppliers every page needs. */
export const orderNames = {
  title: 'Orders',
  suppliersTitle: 'Suppliers',
  states: {
    draft: 'draft', approved: 'approved, not sent', sent: 'sent', 'part-received': 'came in part', received: 'came whole', closed: 'closed', cancelled: 'cancelled',
  } satisfies Record<OrderStateName, string>,
  standing: (number: number, state: string): string => `order ${number}: ${state}`,
  deeds: {
    changed: 'change it', approved: 'approve it', sent: 'mark it as sent', promised: 'the day that was named', received: 'what came', closed: 'close it', cancelled: 'cancel it',
    returned: 'what goes back', credited: 'a credit',
  } satisfies Record<OrderAct['kind'], string>,
} as const;
