import { readShelfCode, readWireCode, type ShelfCode, type WireCode } from '../../catalog-schema/index.ts';

/** Signs further apart than this are not of one scan, ms: a scanner leaves 1 to 50 between them, a busy page hears them later (common practice, no source). */
const PAUSE_MS = 500;
/** Where a code begins, after whatever was typed by hand just before. */
const BEGINNING = /L[WBP]1[^0-9a-z]/i;

/**
 * Listens for a hand scanner that types like a keyboard, wherever no field has the focus: the code of a wire, a bin or a part,
 * typed without a pause and ended with Enter. What a person types goes on to where it was meant. Returns what ends it.
 */
export function listenForScans(target: EventTarget, read: (code: WireCode | ShelfCode) => void): () => void {
  let typed = '';
  let last = 0;
  const hear = (event: Event): void => {
    const { key, timeStamp, ctrlKey, altKey, metaKey } = event as KeyboardEvent;
    if (ctrlKey || altKey || metaKey || isField(event.composedPath()[0])) {
      typed = '';
      return;
    }
    if (timeStamp - last > PAUSE_MS) typed = '';
    last = timeStamp;
    if (key.length === 1) {
      typed += key;
      return;
    }
    if (key !== 'Enter') return;
    const text = typed.slice(Math.max(0, typed.search(BEGINNING)));
    const code = readWireCode(text) ?? readShelfCode(text);
    typed = '';
    if (code === undefined) return;
    // The Enter would press whatever button has the focus.
    event.preventDefault();
    event.stopPropagation();
    read(code);
  };
  target.addEventListener('keydown', hear, { capture: true });
  return () => target.removeEventListener('keydown', hear, { capture: true });
}

function isField(target: EventTarget | undefined): boolean {
  const { localName, isContentEditable } = (target ?? {}) as Partial<HTMLElement>;
  return localName === 'input' || localName === 'textarea' || localName === 'select' || isContentEditable === true;
}
