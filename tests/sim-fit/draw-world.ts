import type { CircuitElement, Offer, Part, PartClass, Prices } from '../../catalog-schema/index.ts';
import { Draws } from '../sim-identify/random.ts';
import { drawDesign, HEAVY_THREADS, writePart, type Design } from './draw-part.ts';
import type { Trap, TruePart, World } from './truth.ts';

// A catalogue of families: near-duplicates that fit, twins that fit with some work, and twins with one thing changed that must not be fitted.
// Then the catalogue leaves values out, family by family, as catalogues do. Prices and shelf beside it.

const CLASSES: readonly (readonly [PartClass, number])[] = [['start-relay', 7], ['contactor', 3], ['plug-in-relay', 2], ['shift-solenoid', 2], ['starter-motor', 4]];
/** share of values a family's rows leave out, and how many families are so written up */
const DOCUMENTED: readonly (readonly [number, number])[] = [[0.01, 0.45], [0.04, 0.3], [0.12, 0.17], [0.3, 0.08]];
const TODAY = '2031-03-10';

interface Twin { readonly design: Design; readonly trap?: Trap }

export function drawWorld(seed: number): World {
  const draws = new Draws(seed * 7919 + 17);
  const parts: TruePart[] = [];
  let family = 0;
  for (const [partClass, count] of CLASSES) {
    for (let i = 0; i < count; i++, family++) {
      const missing = draws.pick(DOCUMENTED, ([, share]) => share)[0];
      const base = drawDesign(draws, partClass);
      const numbered = `${partClass.slice(0, 2).toUpperCase()}-${1000 + family * 37}`;
      for (const [k, { design, trap }] of listTwins(draws, base).entries()) {
        const truth: Part = { ...writePart(design, `p${String(draws.unit()).slice(2, 8)}-${family}-${k}`), numbers: [{ issuer: `issuer ${family % 5}`, number: `${numbered}-${k}` }] };
        // A claim of interchange made for another part of the family, right or wrong.
        if (draws.chance(trap === undefined ? 0.2 : 0.15)) truth.replaces = [{ issuer: `issuer ${family % 5}`, number: `${numbered}-${draws.pick([0, 1, 2])}` }];
        parts.push({ truth, row: leaveOut(draws, truth, missing), family, ...(trap && { trap }) });
      }
    }
  }
  const shuffled = draws.shuffle(parts);
  return { seed, parts: shuffled, catalogue: shuffled.map(({ row }) => row), prices: drawPrices(draws, shuffled) };
}

/** The family: its base and what differs from it. */
function listTwins(draws: Draws, base: Design): Twin[] {
  const twins: Twin[] = [{ design: base }];
  const add = (change: Partial<Design>, trap?: Trap): void => { twins.push({ design: { ...base, ...change }, ...(trap && { trap }) }); };
  // Near-duplicates: another make of the same thing, a little better or a little different.
  for (let i = draws.pick([2, 3, 4, 5]); i > 0; i--) {
    add({
      watts: base.watts * draws.between(0.93, 1.04), inrushA: draws.chance(0.3) ? base.inrushA + 100 : base.inrushA, faceMm: { ...base.faceMm, smallY: base.faceMm.smallY + draws.pick([0, 1, 2]) },
      body: { ...base.body, heightMm: base.body.heightMm - draws.pick([0, 0, 2, 4]) }, sealing: draws.chance(0.3) ? 'IP67' : base.sealing,
      ...(draws.chance(0.4) && { ids: draws.pick([['B', 'M', 'S', 'I', 'N'], ['30', '87', '86', '85', '87a'], ['A', 'C', 'X', 'Y', 'D']]) }),
    });
  }
  const relay = base.partClass === 'start-relay' || base.partClass === 'contactor';
  const plugIn = base.partClass === 'plug-in-relay';
  const starter = base.partClass === 'starter-motor';
  // With some work: studs and tabs of another size, terminals the other way about, a bracket of another plane or spacing.
  if (!plugIn) add({ heavyThread: draws.pick(HEAVY_THREADS.filter((thread) => thread !== base.heavyThread)) }, 'stud');
  if (base.small.form === 'tab' && !starter && !plugIn) add({ small: { form: 'tab', widthMm: base.small.widthMm === 6.3 ? 4.8 : 6.3 } }, 'tab');
  if (relay) add({ smallSwapped: true, heavySwapped: draws.chance(0.5) });
  add({ mounting: turnPlane(draws, base) }, 'bracket');
  add({ mounting: moveHole(draws, base) }, 'bracket');
  add({ body: draws.chance(0.5) ? { ...base.body, heightMm: base.body.heightMm + 45 } : { ...base.body, lengthMm: base.body.lengthMm + 70, widthMm: base.body.widthMm + 70 } }, 'space');

  const otherV = [6, 12, 24, 36, 48].filter((volts) => volts !== base.nominalV);
  const times = draws.chance(0.5) ? 2 : 1;
  for (const nominalV of draws.shuffle(otherV).slice(0, times)) add({ nominalV }, 'voltage');
  if (starter) return [...twins, ...listStarterTraps(draws, base)];
  if (base.form.startsWith('isolated') && !plugIn) {
    add({ form: 'case-return', three: false, mounting: { ...base.mounting, conductive: true } }, 'interlock');
    add({ form: 'cranking-feed', mounting: { ...base.mounting, conductive: true } }, 'cranking-feed');
    add({ form: 'series-diode', diodeTurned: draws.chance(0.6) }, 'polarity');
    add({ form: 'isolated-diode', diodeTurned: !base.diodeTurned }, 'polarity');
  }
  if (plugIn) add({ form: 'isolated-diode', diodeTurned: !base.diodeTurned }, 'polarity');
  if (base.form === 'cranking-feed') {
    add({ form: 'isolated' }, 'cranking-feed');
    add({ form: 'case-return' }, 'cranking-feed');
  }
  if (base.form === 'case-return') {
    add({ form: 'cranking-feed' }, 'cranking-feed');
    // A diode from the small terminal to the case: a short as soon as the start switch closes.
    add({ form: 'case-diode', diodeTurned: true }, 'polarity');
  }
  add({ maxOnS: base.maxOnS === null ? 30 : 8 }, 'duty');
  add({ inrushA: Math.round(base.inrushA * draws.between(0.25, 0.45)), continuousA: Math.round(base.continuousA * 0.35) }, 'inrush');
  add({ watts: base.watts * draws.between(2.6, 4) }, 'coil-current');
  return twins;
}

function listStarterTraps(draws: Draws, base: Design): Twin[] {
  const own = base.starter!;
  const change = (starter: Partial<NonNullable<Design['starter']>>, trap: Trap): Twin => ({ design: { ...base, starter: { ...own, ...starter } }, trap });
  return [
    change({ rotation: own.rotation === 'cw' ? 'ccw' : 'cw' }, 'rotation'), change({ pinionTeeth: own.pinionTeeth + draws.pick([-1, 1, 2]) }, 'pinion'),
    change({ pinionModuleMm: own.pinionModuleMm === 2.54 ? 2.5 : 2.54 }, 'pinion'), change({ noseMm: own.noseMm + draws.pick([-4, 3, 6]) }, 'nose'),
    change({ powerKw: Math.round(6 * own.powerKw) / 10 }, 'power'),
    ...(base.form === 'starter-solenoid' ? [{ design: { ...base, form: 'starter' as const }, trap: 'no-solenoid' as const }] : []),
  ];
}

/** Same spacing, other plane: the holes stand one above the other and one of them is half hidden by the body's foot. */
function turnPlane(draws: Draws, { mounting }: Design): Design['mounting'] {
  const lift = draws.pick([0, 9, 14]);
  return { ...mounting, holes: mounting.holes.map((hole, i) => ({ ...hole, xMm: hole.yMm, yMm: i === 0 ? hole.xMm + lift : hole.xMm, ...(hole.slotMm !== undefined && { slotAngleDeg: 90 }) })) };
}

/** Other spacing, by much or by a hair; sometimes with a slot that reaches or does not. */
function moveHole(draws: Draws, { mounting }: Design): Design['mounting'] {
  const by = draws.pick([-7, -4, -2, -1, 1, 2, 4, 7]);
  const slotMm = draws.chance(0.4) ? draws.pick([2, 4, 8]) : 0;
  return { ...mounting, drillable: draws.chance(0.35), holes: mounting.holes.map((hole, i) => (i === 1 ? { ...hole, xMm: hole.xMm + by, ...(slotMm > 0 && { slotMm, slotAngleDeg: 0 }) } : hole)) };
}

/** The row a catalogue would have: each value it leaves out is left out by itself. */
function leaveOut(draws: Draws, truth: Part, missing: number): Part {
  const gone = (): boolean => draws.chance(missing);
  const row = structuredClone(truth) as Part;
  const [threads, places, marks] = [gone(), gone(), gone()];
  for (const terminal of row.terminals) {
    if (threads) delete terminal.thread;
    if (places) delete terminal.at;
    if (marks) delete terminal.marking;
    if (gone()) delete terminal.tabWidthMm;
  }
  row.circuit.forEach((element) => thinElement(element, gone));
  if (gone()) delete row.mounting;
  else {
    if (gone()) delete row.mounting!.conductive;
    if (gone()) delete row.mounting!.drillable;
  }
  if (gone()) delete row.body;
  if (gone()) delete row.sealing;
  if (gone()) delete row.ambientC;
  if (row.starter) for (const key of ['nominalV', 'powerKw', 'rotation', 'pinionTeeth', 'pinionModuleMm', 'noseMm'] as const) if (gone()) delete row.starter[key];
  if (gone()) delete row.numbers;
  return row;
}

function thinElement(element: CircuitElement, gone: () => boolean): void {
  if (element.kind === 'coil') {
    if (gone()) delete element.ohmAt20C;
    if (gone()) delete element.pullInV;
    if (gone()) delete element.dropOutV;
    const [duty, time] = [gone(), gone()];
    if (duty) delete element.duty;
    else if (time && element.duty?.type === 'intermittent') delete element.duty.maxOnS;
  }
  if (element.kind === 'contact') {
    if (gone()) delete element.inrushA;
    if (gone()) delete element.continuousA;
  }
}

function drawPrices(draws: Draws, parts: readonly TruePart[]): Prices {
  const money = (value: number): number => Math.round(value * 100) / 100;
  const suppliers = Array.from({ length: 4 }, (_, i) => ({
    id: `supplier ${i}`, freight: money(draws.between(5, 16)), ...(draws.chance(0.6) && { freeFreightFrom: draws.pick([90, 150, 250]) }), ...(draws.chance(0.3) && { minOrder: draws.pick([20, 35]) }),
  }));
  const familyPrice = new Map<number, number>();
  const shelf: Prices['shelf'] = [];
  const offers: Offer[] = [];
  for (const { truth, family } of parts) {
    const starter = truth.partClass === 'starter-motor';
    if (!familyPrice.has(family)) familyPrice.set(family, starter ? draws.logBetween(90, 320) : truth.partClass === 'plug-in-relay' ? draws.logBetween(4, 16) : draws.logBetween(16, 95));
    const price = familyPrice.get(family)! * draws.logBetween(0.75, 1.4);
    if (draws.chance(0.18)) shelf.push({ partId: truth.id, onHand: draws.pick([0, 1, 1, 2, 5]), unitCost: money(price * draws.between(0.7, 0.95)) });
    for (const supplier of draws.shuffle(suppliers).slice(0, draws.pick([0, 1, 1, 2, 3]))) {
      offers.push({
        supplierId: supplier.id, partId: truth.id, price: money(price * draws.logBetween(0.9, 1.15)), leadDays: draws.pick([1, 1, 2, 3, 5, 10]),
        ...(draws.chance(0.1) && { pack: draws.pick([2, 5]) }), ...(draws.chance(0.06) && { minQty: 2 }), ...(draws.chance(0.2) && { inStock: draws.pick([0, 1, 4, 10]) }),
        ...(draws.chance(0.12) && { breaks: [{ minQty: 3, price: money(price * 0.8) }] }), ...(draws.chance(0.15) && { validUntil: draws.pick(['2031-02-28', '2031-12-31']) }),
      });
    }
  }
  return {
    currency: 'EUR', today: TODAY, labourPerHour: draws.pick([45, 60, 75]), misfitCost: draws.pick([40, 85, 150]), waitCostPerDay: draws.pick([0, 5, 15, 30]),
    kitPrices: [['ring lug', 1.4], ['receptacle', 0.35], ['receptacle with branch tab', 0.6], ['splice', 0.5], ['socket contact', 0.4], ['jumper lead', 3.2], ['new hole', 0.5]].map(([item, price]) => ({ item: item as string, price: price as number })),
    shelf, suppliers, offers,
  };
}
