import { describe, expect, it } from 'vitest';
import { PART_CLASSES, type Part } from '../../catalog-schema/index.ts';
import { namesOfDemoJobs, readDemoBins, readDemoCatalogue, readDemoJob, readDemoPrices } from './read-demo.ts';

const catalogue = readDemoCatalogue();
const prices = readDemoPrices('2026-11-25');
const replaced = catalogue.filter((part) => part.supersededBy !== undefined && part.supersededBy.length > 0);

/** What a part is, with its number, values and words taken away: the circuit by terminal position, the holes, the terminals. */
function describeFamily(part: Part): string {
  const place = new Map(part.terminals.map((terminal, index) => [terminal.id, `t${index}`]));
  const nodeName = (node: string): string => place.get(node) ?? (node === 'case' ? 'case' : 'inside');
  const circuit = part.circuit.map((element) => {
    switch (element.kind) {
      case 'diode': return `diode ${nodeName(element.from)} ${nodeName(element.to)}`;
      case 'contact': return `${element.form} ${element.between.map(nodeName).join(' ')}`;
      case 'coil': case 'resistor': case 'motor': return `${element.kind} ${element.between.map(nodeName).join(' ')}`;
      default: return element satisfies never;
    }
  }).sort();
  const holes = (part.mounting?.holes ?? []).map((hole) => JSON.stringify([hole.xMm, hole.yMm, hole.diameterMm, hole.slotMm ?? 0, hole.slotAngleDeg ?? 0])).sort();
  const ends = part.terminals.map((terminal) => `${terminal.form} ${terminal.thread ?? terminal.tabWidthMm ?? ''}`);
  return JSON.stringify([circuit, holes, ends]);
}

/** The contract's name of a part's circuit, told from its elements alone. */
function nameForm(part: Part): string {
  const of = (kind: string) => part.circuit.filter((element) => element.kind === kind);
  const coils = part.circuit.filter((element) => element.kind === 'coil');
  const contacts = part.circuit.filter((element) => element.kind === 'contact');
  if (of('motor').length > 0) return coils.length > 0 ? 'starter with shift solenoid' : 'starter';
  if (coils.length === 2) return 'shift-solenoid';
  const extra = of('diode').length > 0 ? '-diode' : of('resistor').length > 0 ? '-resistor' : '';
  const series = of('diode').length > 0 && (part.inside ?? []).length > 0 ? ' in series' : '';
  if (contacts.some((contact) => contact.form === 'NC')) return `changeover${extra}`;
  const grounded = coils.some((coil) => coil.between.includes('case'));
  if (grounded) return contacts.length === 2 ? 'cranking-feed' : 'case-return';
  return `isolated${extra}${series}`;
}

describe('the demo catalogue', () => {
  it('has at least 300 parts over the five classes, none of them a token class', () => {
    expect(catalogue.length).toBeGreaterThanOrEqual(300);
    for (const partClass of PART_CLASSES) {
      expect(catalogue.filter((part) => part.partClass === partClass).length, partClass).toBeGreaterThanOrEqual(25);
    }
  });

  it('has at least 60 families that differ in circuit, holes or terminals, values and numbers aside', () => {
    expect(new Set(catalogue.map(describeFamily)).size).toBeGreaterThanOrEqual(60);
  });

  it('has every circuit form of the contract', () => {
    const forms = new Set(catalogue.map(nameForm));
    expect([...forms].sort()).toEqual([
      'case-return', 'changeover', 'changeover-diode', 'changeover-resistor', 'cranking-feed', 'isolated', 'isolated-diode',
      'isolated-diode in series', 'isolated-resistor', 'shift-solenoid', 'starter', 'starter with shift solenoid',
    ]);
  });

  it('has coils for 6, 12, 24, 36 and 48 V, and several voltages in one housing', () => {
    const volts = catalogue.flatMap((part) => part.circuit.flatMap((element) => (element.kind === 'coil' ? [element.nominalV] : [])));
    expect([...new Set(volts)].sort((a, b) => a - b)).toEqual([6, 12, 24, 36, 48]);
    const voltsByFamily = new Map<string, Set<number>>();
    for (const part of catalogue) {
      const coil = part.circuit.find((element) => element.kind === 'coil');
      if (coil) voltsByFamily.set(describeFamily(part), (voltsByFamily.get(describeFamily(part)) ?? new Set()).add(coil.nominalV));
    }
    expect([...voltsByFamily.values()].filter((set) => set.size >= 3).length).toBeGreaterThanOrEqual(10);
  });

  it('has metric and inch studs, every terminal form and both tab widths', () => {
    const terminals = catalogue.flatMap((part) => part.terminals);
    const threads = new Set(terminals.filter((terminal) => terminal.form === 'stud').map((terminal) => terminal.thread));
    for (const thread of ['M5x0.8', 'M6x1', 'M8x1.25', 'M10x1.5', '1/4-20', '5/16-18', '5/16-24', '3/8-16', '#10-32']) expect(threads).toContain(thread);
    expect([...new Set(terminals.map((terminal) => terminal.form))].sort()).toEqual(['lead', 'pin', 'screw', 'stud', 'tab']);
    expect([...new Set(terminals.flatMap((terminal) => terminal.tabWidthMm ?? []))].sort()).toEqual([4.8, 6.3]);
  });

  it('has brackets with round holes and with slots, metal and not, to be drilled and not', () => {
    const mountings = catalogue.flatMap((part) => part.mounting ?? []);
    const slots = mountings.filter((mounting) => mounting.holes.some((hole) => (hole.slotMm ?? 0) > 0));
    expect(slots.length).toBeGreaterThanOrEqual(20);
    expect(mountings.length - slots.length).toBeGreaterThanOrEqual(100);
    for (const key of ['conductive', 'drillable'] as const) {
      expect(mountings.filter((mounting) => mounting[key] === true).length, key).toBeGreaterThanOrEqual(20);
      expect(mountings.filter((mounting) => mounting[key] === false).length, key).toBeGreaterThanOrEqual(20);
    }
  });

  it('leaves out values as makers do: ohms, pull-in, drop-out, ratings, sealing, bodies', () => {
    const coils = catalogue.flatMap((part) => part.circuit.filter((element) => element.kind === 'coil'));
    expect(coils.filter((coil) => coil.ohmAt20C === undefined).length).toBeGreaterThanOrEqual(5);
    expect(coils.filter((coil) => coil.pullInV === undefined).length).toBeGreaterThanOrEqual(10);
    expect(coils.filter((coil) => coil.dropOutV === undefined).length).toBeGreaterThanOrEqual(20);
    const contacts = catalogue.flatMap((part) => part.circuit.filter((element) => element.kind === 'contact'));
    expect(contacts.filter((contact) => contact.inrushA === undefined).length).toBeGreaterThanOrEqual(5);
    expect(catalogue.filter((part) => part.sealing === undefined).length).toBeGreaterThanOrEqual(20);
    expect(catalogue.filter((part) => part.body === undefined).length).toBeGreaterThanOrEqual(3);
  });

  it('has continuous and intermittent coils, with and without a longest time', () => {
    const duties = catalogue.flatMap((part) => part.circuit.flatMap((element) => (element.kind === 'coil' ? [element.duty] : [])));
    expect(duties.filter((duty) => duty?.type === 'continuous').length).toBeGreaterThanOrEqual(60);
    expect(duties.filter((duty) => duty?.type === 'intermittent' && duty.maxOnS !== undefined).length).toBeGreaterThanOrEqual(60);
    expect(duties.filter((duty) => duty?.type === 'intermittent' && duty.maxOnS === undefined).length).toBeGreaterThanOrEqual(4);
  });

  it('has starters that turn both ways on one flange', () => {
    const turns = new Map<string, Set<string>>();
    for (const part of catalogue) {
      if (part.starter?.rotation) turns.set(describeFamily(part), (turns.get(describeFamily(part)) ?? new Set()).add(part.starter.rotation));
    }
    expect([...turns.values()].filter((set) => set.size === 2).length).toBeGreaterThanOrEqual(10);
  });

  it('has dead numbers with one successor, with a chain, and with a kit of two, and claims of interchange with and without a source', () => {
    expect(replaced.filter((part) => part.supersededBy?.length === 1).length).toBeGreaterThanOrEqual(8);
    expect(replaced.filter((part) => part.supersededBy?.length === 2).length).toBeGreaterThanOrEqual(2);
    expect(replaced.some((part) => part.supersededBy?.some((id) => replaced.some((next) => next.id === id)))).toBe(true);
    const claims = catalogue.flatMap((part) => part.replaces ?? []);
    expect(claims.length).toBeGreaterThanOrEqual(8);
    expect(claims.some((claim) => claim.source !== undefined)).toBe(true);
    expect(claims.some((claim) => claim.source === undefined)).toBe(true);
  });

  it('gives no number of one issuer to two parts', () => {
    const numbers = catalogue.flatMap((part) => (part.numbers ?? []).map((entry) => `${entry.issuer} ${entry.number}`));
    expect(new Set(numbers).size).toBe(numbers.length);
  });
});

describe('the demo shop', () => {
  const ids = new Set(catalogue.map((part) => part.id));

  it('has four suppliers with offers that differ in breaks, packs, floors, validity and core charges', () => {
    expect(prices.suppliers).toHaveLength(4);
    for (const supplier of prices.suppliers) expect(prices.offers.filter((offer) => offer.supplierId === supplier.id).length, supplier.id).toBeGreaterThanOrEqual(40);
    for (const key of ['breaks', 'pack', 'minQty', 'coreCharge', 'validUntil', 'inStock'] as const) {
      expect(prices.offers.filter((offer) => offer[key] !== undefined).length, key).toBeGreaterThanOrEqual(5);
    }
    expect(prices.offers.some((offer) => offer.validUntil !== undefined && offer.validUntil < prices.today)).toBe(true);
    expect(prices.suppliers.some((supplier) => supplier.freeFreightFrom !== undefined)).toBe(true);
    expect(prices.suppliers.some((supplier) => supplier.minOrder !== undefined)).toBe(true);
  });

  it('offers and keeps only parts of the catalogue, one bin each', () => {
    for (const offer of prices.offers) expect(ids, offer.partId).toContain(offer.partId);
    for (const entry of prices.shelf) expect(ids, entry.partId).toContain(entry.partId);
    const bins = readDemoBins();
    expect(new Set(bins.map((row) => row.bin)).size).toBe(bins.length);
    expect(bins.length).toBeGreaterThanOrEqual(30);
  });
});

describe('the demo jobs', () => {
  it('are at least ten, each with an id of its own, a title and an ending in words', () => {
    const jobs = namesOfDemoJobs().map(readDemoJob);
    expect(jobs.length).toBeGreaterThanOrEqual(10);
    expect(new Set(jobs.map((job) => job.id)).size).toBe(jobs.length);
    for (const job of jobs) {
      expect(job.id).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
      expect(job.title.length).toBeGreaterThan(10);
      expect(job.expect?.length ?? 0).toBeGreaterThan(60);
    }
  });

  it('take place on 6, 12, 24, 36 and 48 V machines and cover the five classes', () => {
    const records = namesOfDemoJobs().map((name) => readDemoJob(name).record);
    expect([...new Set(records.map((record) => record.system.nominalV))].sort((a, b) => a - b)).toEqual([6, 12, 24, 36, 48]);
    expect(new Set(records.map((record) => record.partClass)).size).toBe(5);
  });
});
