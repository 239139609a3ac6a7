import type { OrderAct } from '../../catalog-schema/index.ts';

/** What of the words of orders and suppliers every page needs. */
export const orderNames = {
  title: 'Orders',
  suppliersTitle: 'Suppliers',
  deeds: {
    changed: 'change it', approved: 'approve it', sent: 'mark it as sent', promised: 'the day that was named', received: 'what came', closed: 'close it', cancelled: 'cancel it',
    returned: 'what goes back', credited: 'a credit',
  } satisfies Record<OrderAct['kind'], string>,
} as const;
