import { readShelfCode, readWireCode, type ShelfCode, type WireCode } from '../../catalog-schema/index.ts';

/** Signs further apart than this are not of one scan, ms: a scanner leaves 1 to 50 between them, a busy page hears them later (common practice, no source). */
const PAUSE_MS = 500;
/** A hand types no faster than this for long, ms between two signs; and no number of fewer signs is taken for one that a scanner typed. */
const SCANNED_MS = 60;
const LEAST_SCANNED = 6;
/** Where a code begins, after whatever was typed by hand just before. */
const BEGINNING = /L[WBP]1[^0-9a-z]/i;

/**
 * Listens for a hand scanner that types like a keyboard, wherever no field has the focus: the code of a wire, a bin or a part,
 * typed without a pause and ended with Enter. Any other text that came faster than a hand types is handed to `readOther`. What a person types
 * goes on to where it was meant. Returns what ends it.
 */
export function listenForScans(target: EventTarget, read: (code: WireCode | ShelfCode) => void, readOther: (text: string) => void): () => void {
  let typed = '';
  let last = 0;
  let slowest = 0;
  const hear = (event: Event): void => {
    const { key, timeStamp, ctrlKey, altKey, metaKey } = event as KeyboardEvent;
    if (ctrlKey || altKey || metaKey || isField(event.composedPath()[0])) {
      typed = '';
      return;
    }
    if (timeStamp - last > PAUSE_MS) typed = '';
    slowest = typed === '' ? 0 : Math.max(slowest, timeStamp - last);
    last = timeStamp;
    if (key.length === 1) {
      typed += key;
      return;
    }
    if (key !== 'Enter') return;
    const text = typed.slice(Math.max(0, typed.search(BEGINNING)));
    const code = readWireCode(text) ?? readShelfCode(text);
    const other = code === undefined && slowest <= SCANNED_MS && typed.trim().length >= LEAST_SCANNED ? typed.trim() : undefined;
    typed = '';
    if (code === undefined && other === undefined) return;
    // The Enter would press whatever button has the focus.
    event.preventDefault();
    event.stopPropagation();
    if (code !== undefined) read(code);
    else readOther(other!);
  };
  target.addEventListener('keydown', hear, { capture: true });
  return () => target.removeEventListener('keydown', hear, { capture: true });
}

function isField(target: EventTarget | undefined): boolean {
  const { localName, isContentEditable } = (target ?? {}) as Partial<HTMLElement>;
  return localName === 'input' || localName === 'textarea' || localName === 'select' || isContentEditable === true;
}
