import type { OrderAct, PurchaseOrder } from '../../../catalog-schema/index.ts';
import { ServiceFault, type Desk, type WaitingItem } from '../../client/index.ts';
import { sayFault } from '../../say-fault.ts';
import { words } from '../../words.ts';
import { orderWords } from '../../words/orders.ts';

/** An act without what the device adds to it. */
export type Deed = OrderAct extends infer Each ? (Each extends OrderAct ? Omit<Each, 'id' | 'at' | 'by'> : never) : never;

/** One order as this device has it, and what is done to it. Tells of news by an event named 'change'. */
export class OrderWatch extends EventTarget {
  order: PurchaseOrder | undefined;
  failed = '';
  said = '';
  busy = false;
  readonly id: string;
  #desk: Desk;

  constructor(desk: Desk, id: string) {
    super();
    this.#desk = desk;
    this.id = id;
  }

  /** What was done here and waits to be sent, or was answered with a no. */
  get waiting(): WaitingItem[] {
    return this.#desk.device.waiting.filter(({ errand }) => errand?.kind === 'order-acts' && errand.body.orderId === this.id);
  }

  async read(): Promise<void> {
    try {
      this.order = await this.#desk.service.readOrder(this.id);
      this.failed = '';
    } catch (error) {
      this.failed = sayFault(error);
    }
    this.#tell();
  }

  /** Does something to the order: kept on this device first, then sent. Answers whether it was taken or kept. */
  async act(said: string, ...deeds: readonly Deed[]): Promise<boolean> {
    const { device, settings, newId, now } = this.#desk;
    if (this.busy || this.order === undefined) return false;
    this.busy = true;
    [this.failed, this.said] = ['', ''];
    this.#tell();
    const { author } = settings.values;
    const at = now().toISOString();
    const acts = deeds.map((deed) => ({ ...deed, id: newId(), at, ...(author === '' ? {} : { by: author }) })) as OrderAct[];
    let taken = false;
    try {
      const how = await device.submit({ kind: 'order-acts', body: { id: acts[0]!.id, orderId: this.id, number: this.order.number, acts } });
      taken = true;
      this.said = how === 'sent' ? said : words.offline.kept['order-acts'];
    } catch (error) {
      this.failed = error instanceof ServiceFault && error.kind === 'taken' ? `${orderWords.taken} ${error.detail}` : sayFault(error);
    }
    const { failed } = this;
    await this.read();
    this.failed = failed === '' ? this.failed : failed;
    this.busy = false;
    this.#tell();
    return taken;
  }

  /** Says something of what was entered. */
  say(what: string): void {
    this.failed = what;
    this.#tell();
  }

  #tell(): void { this.dispatchEvent(new Event('change')); }
}
