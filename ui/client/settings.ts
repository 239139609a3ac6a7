import { CRANK_INSTRUMENTS, type CrankInstrument } from '../../catalog-schema/index.ts';

export type LengthUnit = 'mm' | 'inch';
export type Theme = 'auto' | 'light' | 'dark' | 'daylight';

export interface SettingValues {
  readonly unit: LengthUnit;
  readonly theme: Theme;
  /** who works here, written beside each edit; '' when not said */
  readonly author: string;
  /** what there is to prove a fault with; undefined when not said: everything */
  readonly instruments?: readonly CrankInstrument[] | undefined;
}

const DEFAULTS: SettingValues = { unit: 'mm', theme: 'auto', author: '' };
const KEY = 'lugwright.settings';

/** Choices of this device; kept in its own storage, never sent. Tells of a change by an event named 'change'. */
export class Settings extends EventTarget {
  #values: SettingValues;
  #person = '';
  #storage: Pick<Storage, 'getItem' | 'setItem'> | undefined;

  constructor(storage: Pick<Storage, 'getItem' | 'setItem'> | undefined) {
    super();
    this.#storage = storage;
    this.#values = readStored(storage);
  }

  /** the author is whoever is signed in, where somebody is */
  get values(): SettingValues { return this.#person === '' ? this.#values : { ...this.#values, author: this.#person }; }

  /** Whoever is signed in stands beside what is changed, whatever name was chosen here; '' where nobody is. */
  setPerson(name: string): void {
    if (name === this.#person) return;
    this.#person = name;
    this.dispatchEvent(new Event('change'));
  }

  set(part: Partial<SettingValues>): void {
    this.#values = { ...this.#values, ...part };
    try { this.#storage?.setItem(KEY, JSON.stringify(this.#values)); } catch { /* storage may be full or barred: the choice then lasts as long as the page */ }
    this.dispatchEvent(new Event('change'));
  }
}

function readStored(storage: Pick<Storage, 'getItem'> | undefined): SettingValues {
  let stored: unknown;
  try { stored = JSON.parse(storage?.getItem(KEY) ?? 'null'); } catch { return DEFAULTS; }
  if (typeof stored !== 'object' || stored === null) return DEFAULTS;
  const { unit, theme, author, instruments } = stored as Partial<SettingValues>;
  return {
    unit: unit === 'mm' || unit === 'inch' ? unit : DEFAULTS.unit,
    theme: theme === 'light' || theme === 'dark' || theme === 'daylight' || theme === 'auto' ? theme : DEFAULTS.theme,
    author: typeof author === 'string' ? author : DEFAULTS.author,
    ...(Array.isArray(instruments) ? { instruments: CRANK_INSTRUMENTS.filter((name) => instruments.includes(name)) } : {}),
  };
}
