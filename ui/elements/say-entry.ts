import { CRANK_NODE_NAMES, findValue, isTree, sayObservation, type CrankNode, type Dimension, type JobConflict, type JsonValue, type Observation, type WireEnd } from '../../catalog-schema/index.ts';
import type { LengthUnit } from '../client/index.ts';
import { formatEnd, formatLength, formatMoment, formatNumber } from '../format.ts';
import { words } from '../words.ts';

type Tree = { readonly [key: string]: JsonValue };

/** Longest text of a value in a button or a line. */
const LONGEST = 160;
/** Units as the names of keys carry them, the longest ending first. */
const UNITS: readonly (readonly [ending: string, unit: string, dimension: Dimension])[] = [
  ['Mm2', 'mm²', 'area'], ['Ohm', 'Ω', 'resistance'], ['Deg', '°', 'number'], ['Kw', 'kW', 'number'], ['Mm', 'mm', 'length'], ['V', 'V', 'voltage'],
  ['A', 'A', 'current'], ['S', 's', 'time'], ['C', '°C', 'temperature'], ['ohm', 'Ω', 'resistance'],
];

/** What a field of a job's document is called on the screens. `value`: what stands or waits there, for readings that only it names. */
export function sayField(field: readonly string[], value: JsonValue = null): string {
  const [head = '', ...rest] = field;
  const { fields } = words.conflicts;
  switch (head) {
    case 'title': case 'machine': case 'customer': return words.record.fields[head];
    case 'notes': case 'minutes': case 'chosen': case 'signedOff': case 'proved': return join(fields[head], rest);
    case 'photographs': return join(fields.photograph, rest.slice(1));
    case 'asLeft': return rest[0] === undefined ? words.steps.names['as-left'] : join(fields.step(spell(rest[0])), rest.slice(1));
    case 'prove': return sayProveField(rest, value);
    case 'record': return sayRecordField(rest, value);
    default: return join(spell(head), rest);
  }
}

function sayRecordField([list, key, ...rest]: readonly string[], value: JsonValue): string {
  const { fields } = words.conflicts;
  switch (list) {
    case undefined: return fields.record;
    case 'wires': return key === undefined ? fields.wires : join(fields.wire(key), rest);
    case 'terminals': return key === undefined ? fields.terminals : join(fields.terminal(key), rest);
    case 'ohms': {
      if (key === undefined) return fields.ohms;
      const between = findValue(value, ['between']);
      return Array.isArray(between) && rest.length === 0 ? fields.ohm(String(between[0]), String(between[1])) : join(fields.anOhm, rest);
    }
    case 'partClass': return words.bench.partClass;
    case 'mounting': return join(words.bench.boltsTitle, [...(key === undefined ? [] : [key]), ...rest]);
    case 'space': return join(words.bench.spaceTitle, [...(key === undefined ? [] : [key]), ...rest]);
    case 'system': return join(words.bench.systemTitle, [...(key === undefined ? [] : [key]), ...rest]);
    case 'demand': return join(words.bench.demandTitle, [...(key === undefined ? [] : [key]), ...rest]);
    case 'starter': return join(words.bench.starterTitle, [...(key === undefined ? [] : [key]), ...rest]);
    case 'marked': return join(words.bench.partTitle, [...(key === undefined ? [] : [key]), ...rest]);
    default: return join(spell(list), [...(key === undefined ? [] : [key]), ...rest]);
  }
}

/** An entry of the proof by what was done; where nothing stands any more its key tells: 'volts battery+ battery- on'. */
function sayProveField([list, key, ...rest]: readonly string[], value: JsonValue): string {
  const { fields } = words.conflicts;
  switch (list) {
    case undefined: return fields.proof;
    case 'instruments': return fields.instruments;
    case 'system': return key === undefined ? fields.proof : join(words.steps.names.prove, [key, ...rest]);
    case 'seen': {
      if (key === undefined) return fields.seen;
      const entry = isObservation(value) ? sayObservation(value).what : key.split(' ').map((part) => CRANK_NODE_NAMES[part as CrankNode] ?? part).join(', ');
      return join(entry, rest);
    }
    default: return join(spell(list), [...(key === undefined ? [] : [key]), ...rest]);
  }
}

function isObservation(value: JsonValue): value is JsonValue & Observation {
  return isTree(value) && typeof value['kind'] === 'string';
}

function join(name: string, rest: readonly string[]): string {
  return [name, ...rest.map(sayKey)].join(', ');
}

/** A value as the screens would say it; '' where there is none. `field` tells what kind of value it is. */
export function sayEntry(field: readonly string[], value: JsonValue, unit: LengthUnit): string {
  const said = sayWhole(field, value, unit);
  return said.length > LONGEST ? `${said.slice(0, LONGEST - 1)}…` : said;
}

function sayWhole(field: readonly string[], value: JsonValue, unit: LengthUnit): string {
  const key = field.at(-1) ?? '';
  if (value === null) return '';
  if (typeof value === 'boolean') return value ? words.yes : words.no;
  if (typeof value === 'number') return sayNumber(key, value, unit);
  if (typeof value === 'string') return sayText(key, value);
  if (Array.isArray(value)) return value.map((entry) => sayWhole(field, entry, unit)).join('; ');
  return sayObject(field, key, value, unit);
}

function sayObject(field: readonly string[], key: string, value: Tree, unit: LengthUnit): string {
  if (key === 'end' && typeof value['form'] === 'string') return formatEnd(value as unknown as WireEnd, unit);
  if (typeof value['value'] === 'number' && typeof value['plusMinus'] === 'number') {
    return `${sayNumber(key, value['value'], unit)} ± ${sayNumber(key, value['plusMinus'], unit)}`;
  }
  if (field[0] === 'prove' && field[1] === 'seen' && field.length === 3 && isObservation(value as JsonValue)) return sayObservation(value as unknown as Observation).showed;
  if (field[0] === 'signedOff' && typeof value['at'] === 'string') return words.conflicts.signed(String(value['by'] ?? ''), formatMoment(value['at']));
  if (field[0] === 'asLeft' && typeof value['at'] === 'string') {
    const reading = typeof value['reading'] === 'number' ? [words.conflicts.reading(formatNumber(value['reading'], 3))] : [];
    return [words.conflicts.ticked(formatMoment(value['at']), typeof value['by'] === 'string' ? value['by'] : ''), ...reading].join(', ');
  }
  // A plan hangs on its part: its name says enough.
  if (field[0] === 'chosen' && field.length === 1) return [value['title'], value['partId']].filter((part) => typeof part === 'string').join(', ');
  return Object.entries(value).filter(([, part]) => part !== null)
    .map(([name, part]) => `${sayKey(name)} ${sayWhole([...field, name], part, unit)}`).join(', ');
}

function sayNumber(key: string, value: number, unit: LengthUnit): string {
  const found = findUnit(key);
  if (found?.[2] === 'length') return formatLength(value, unit);
  return found === undefined ? formatNumber(value, 3) : `${formatNumber(value, 3)} ${found[1]}`;
}

/** What a number under this key is a number of. */
export function dimensionOf(key: string): Dimension { return findUnit(key)?.[2] ?? 'number'; }

function findUnit(key: string): (typeof UNITS)[number] | undefined { return UNITS.find(([ending]) => key.endsWith(ending)); }

function sayText(key: string, value: string): string {
  const tables: Readonly<Record<string, Readonly<Record<string, string>>>> = {
    partClass: words.partClass, form: words.form, interlocks: words.bench.interlocks, acts: words.bench.acts,
    leadsTo: Object.fromEntries(Object.entries(words.wire.leadsTo).map(([name, { name: said }]) => [name, said])),
  };
  const table = tables[key];
  return table !== undefined && Object.hasOwn(table, value) ? table[value]! : value;
}

function sayKey(key: string): string {
  const { names } = words.conflicts;
  return Object.hasOwn(names, key) ? names[key]! : spell(key);
}

/** A key in words: 'lowestRestingV' is 'lowest resting'. A name that a person gave stays as it is. */
function spell(key: string): string {
  if (!/^[a-z]+(?:[A-Z][a-z]*\d?)*$/.test(key)) return key;
  const ending = findUnit(key)?.[0] ?? '';
  const bare = key.length > ending.length ? key.slice(0, key.length - ending.length) : key;
  return bare.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);
}

/** Conflicts of one field, in the order in which the fields were first met. */
export function groupByField(conflicts: readonly JobConflict[]): JobConflict[][] {
  const groups = new Map<string, JobConflict[]>();
  for (const conflict of conflicts) {
    const name = JSON.stringify(conflict.field);
    groups.set(name, [...groups.get(name) ?? [], conflict]);
  }
  return [...groups.values()];
}
