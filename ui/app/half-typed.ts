/** Follows what a person types into a page: an entry is half-typed from its first letter until the field tells of its change. */
export class HalfTyped {
  #fields = new Set<Element>();
  #onQuiet: (() => void)[] = [];

  constructor(page: Pick<Document, 'addEventListener'>) {
    page.addEventListener('input', (event) => { if (event.target instanceof Element) this.#fields.add(event.target); });
    // 'submit' and 'change' come after the screen has taken the entry.
    for (const end of ['change', 'submit', 'focusout', 'reset']) {
      page.addEventListener(end, (event) => {
        if (event.type === 'submit' || event.type === 'reset') this.#fields.clear();
        else if (event.target instanceof Element) this.#fields.delete(event.target);
        queueMicrotask(() => this.#tell());
      });
    }
  }

  /** Whether something is typed that no field has told of yet, or stands in a form that was not sent. */
  get now(): boolean {
    for (const field of this.#fields) if (!field.isConnected) this.#fields.delete(field);
    return this.#fields.size > 0 || [...document.querySelectorAll('[data-draft] :is(input:not([type=radio], [type=checkbox]), textarea)')]
      .some((field) => (field as HTMLInputElement).value.trim() !== '');
  }

  /** Calls `work` each time an entry has ended. */
  onQuiet(work: () => void): void { this.#onQuiet.push(work); }

  #tell(): void { for (const work of this.#onQuiet) work(); }
}
