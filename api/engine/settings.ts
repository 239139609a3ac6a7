import { INSTRUMENT_DEFAULTS, RING_GAP_MM, type InstrumentClass } from '../../catalog-schema/index.ts';

/** A default or rule of thumb: what it is, in which unit, who says so and why it is needed at all. */
export interface Setting {
  readonly value: number;
  readonly unit: string;
  readonly source: string;
  readonly reason: string;
}

const practice = 'common practice, no source';

/**
 * Every default and rule of thumb of the computations. An answer that used one lists it (`describeSetting`).
 * Constants of the circuit itself (battery, starter, contact, diode) stand in `circuit/`.
 */
export const SETTINGS = {
  pullInOfNominal: { value: 0.7, unit: 'of nominal voltage', source: practice, reason: 'guaranteed pull-in of a coil that does not say' },
  dropOutOfNominal: { value: 0.1, unit: 'of nominal voltage', source: practice, reason: 'guaranteed drop-out of a coil that does not say' },
  coilWatts: { value: 36, unit: 'W at nominal voltage', source: practice, reason: 'coil that gives no ohms and has no like in the catalogue (4 Ohm at 12 V)' },
  motorOhm: { value: 0.05, unit: 'Ohm', source: practice, reason: 'motor that does not say' },
  leastWireLimitA: { value: 20, unit: 'A', source: practice, reason: 'least current a control wire is taken to bear when its fuse is not known' },
  wireLimitOfCoilCurrent: { value: 3, unit: 'x the nominal coil current', source: practice, reason: 'what a control wire is taken to bear when its fuse is not known' },

  highestOfNominal: { value: 1.2, unit: 'of nominal voltage', source: practice, reason: 'highest supply when the record does not say' },
  restingOfNominal: { value: 0.95, unit: 'of nominal voltage', source: practice, reason: 'lowest resting supply when the record does not say' },
  coldCoilC: { value: 20, unit: 'C', source: practice, reason: 'cold coil, for the control current, when the lowest ambient temperature is not given' },
  hotAmbientC: { value: 40, unit: 'C', source: practice, reason: 'highest ambient temperature when the record does not say' },
  coilRiseK: { value: 40, unit: 'K', source: practice, reason: 'how much warmer than its surroundings a coil in use gets' },
  holdOfPullIn: { value: 0.6, unit: 'of pull-in voltage', source: practice, reason: 'what a pulled-in coil must still get while cranking, so that it cannot chatter' },
  controlCurrentOfOldCoil: { value: 1.25, unit: "x the old coil's current", source: practice, reason: 'most control current when neither fuse nor contact rating is known' },
  leastCoilOhm: { value: 0.3, unit: 'Ohm', source: practice, reason: 'a lower reading is a joint or a closed contact, not a coil' },
  nutLeastOfNominal: { value: 0.965, unit: 'of the nominal width', source: practice, reason: 'least width across flats of a nut whose standard gives none at hand' },
  heavyStudMm: { value: 5.5, unit: 'mm', source: practice, reason: 'a thinner stud is a control terminal, not one for the starter cable' },
  longestOnS: { value: 30, unit: 's', source: practice, reason: 'longest cranking when the record does not say' },
  controlOhm: { value: 0, unit: 'Ohm', source: practice, reason: 'resistance of the start switch path when it was not measured' },

  fullBatteryOfNominal: { value: 1.05, unit: 'of nominal voltage', source: practice, reason: 'resting battery behind the inrush when not measured (12.6 V for 12 V)' },
  ccaEndOfNominal: { value: 0.6, unit: 'of nominal voltage', source: 'SAE J537 (7.2 V for 12 V)', reason: 'voltage at which the cold-cranking current is rated: the battery has at most (resting - this) / CCA' },
  warmBatteryOhm: { value: 0.5, unit: 'of that greatest resistance', source: practice, reason: 'least resistance of a warm healthy battery: the CCA figure is taken at -18 C after 30 s' },
  starterOhmPlusMinus: { value: 0.1, unit: 'of the value', source: practice, reason: 'starter resistance given as a bare number: it comes from volts over amps, not from an ohmmeter' },
  cableOhmPlus: { value: 0.1, unit: 'of the value', source: practice, reason: 'flexible cable and its joints have up to this much more than solid annealed copper' },

  ringGapLeastMm: { value: RING_GAP_MM.least, unit: 'mm', source: practice, reason: 'least a ring hole exceeds the major diameter of its stud' },
  ringGapMostMm: { value: RING_GAP_MM.most, unit: 'mm', source: practice, reason: 'most a ring hole exceeds the major diameter of its stud' },
  tabWidthMm: { value: 0.3, unit: 'mm', source: practice, reason: 'most by which the width of a receptacle differs from its tab' },
  newHoleSpacing: { value: 1.5, unit: 'x the larger diameter', source: practice, reason: 'least centre distance of a new hole to any other' },
  pinionModuleMm: { value: 0.01, unit: 'mm', source: practice, reason: 'modules closer than this are the same pitch' },
  noseMm: { value: 0.5, unit: 'mm', source: practice, reason: 'noses closer than this reach the ring gear alike' },

  findConfused: { value: 0.25, unit: 'of another character', source: practice, reason: 'a character read for one that looks like it: O and 0, I, L and 1, B and 8, S and 5, Z and 2, G and 6' },
  findSwapped: { value: 0.5, unit: 'of another character', source: practice, reason: 'two neighbours in a number swapped' },
  findLost: { value: 0.75, unit: 'of another character', source: practice, reason: 'a character of a number lost or added' },
  findLikely: { value: 1.25, unit: 'of another character', source: practice, reason: 'most that misreadings of a number may cost together and still be likely' },
  findFurthest: { value: 2, unit: 'other characters', source: practice, reason: 'furthest at which a number is compared character by character with the one that was read' },

  leadSpread: { value: 0.3, unit: 'of the stated lead days', source: practice, reason: 'standard deviation of a supplier\'s lead time before any receipt was seen' },
  leadSpreadLeastDays: { value: 0.7, unit: 'days', source: practice, reason: 'least standard deviation of a lead time before any receipt was seen' },
  serviceLevel: { value: 0.95, unit: 'of wanted units', source: practice, reason: 'share that the shelf is to have at once, when the shop does not say' },
  withoutCostPerDay: { value: 30, unit: 'of the currency', source: practice, reason: 'a machine that waits for a part a day, when the shop does not say' },
  reviewDays: { value: 7, unit: 'days', source: practice, reason: 'from one look at what to reorder to the next' },
  holdingPerYear: { value: 0.25, unit: 'of the unit cost', source: practice, reason: 'cost of keeping a unit for a year: money, room, age' },
  orderCost: { value: 2, unit: 'of the currency', source: practice, reason: 'work of an order line, from writing it to putting the part away' },
  demandPeriodDays: { value: 28, unit: 'days', source: practice, reason: 'demand is counted by whole periods of four weeks' },
  dispersionLevel: { value: 0.05, unit: 'probability', source: practice, reason: 'Poisson demand is given up where the index of dispersion test calls it less likely' },
  dispersionUnits: { value: 12, unit: 'units', source: practice, reason: 'a part of which fewer were wanted takes the dispersion that all such parts show together' },
  demandPriorShape: { value: 0.3, unit: 'shape of a gamma distribution', source: practice, reason: 'least that the rates of the parts of a shop are alike' },
  demandPriorParts: { value: 8, unit: 'parts', source: practice, reason: 'least number of parts from which it is learned how rates differ' },
  demandPriorPerYear: { value: 2, unit: 'units a year', source: practice, reason: 'demand of a part of the shelf before anything is known of it' },
  leadPriorReceipts: { value: 3, unit: 'receipts', source: practice, reason: 'what the stated lead days weigh against receipts that were seen' },

  photographFocal: { value: 0.8, unit: "of the picture's longer side", source: practice, reason: 'focal length of the camera, where the picture does not tell it (a hand-held camera of 29 mm equivalent)' },
  photographFocalSpread: { value: 0.45, unit: 'sigma of ln(focal length)', source: practice, reason: 'spread of focal lengths, log-normal: wide angle to short telephoto' },
  photographCameraFloor: { value: 0.005, unit: 'of a length', source: practice, reason: 'how far a real camera is from square pixels and an axis through the middle of its picture' },
  photographMisfit: { value: 0.05, unit: 'of a length', source: practice, reason: 'how far a marked card may be from what a camera sees, when the long edges are told from the short' },
  photographTilt: { value: 30, unit: 'degrees', source: practice, reason: 'spread of how far a camera is tilted, when the long edges are told from the short' },
  photographTurnClear: { value: 2, unit: 'in twice the log-likelihood', source: practice, reason: 'least advantage by which the long edges of the card are told from the short' },
  photographRaisedPlusMinus: { value: 1, unit: 'mm', source: practice, reason: 'height over the card given as a bare number: by eye or a rule' },
  photographStrayMark: { value: 6, unit: 'sigma', source: practice, reason: 'a mark further off the line of its edge is not on that edge' },
  photographOffRound: { value: 4, unit: 'sigma', source: practice, reason: 'a mark on a rim further off the circle of all is pointed out' },
  photographScatter: { value: 2.5, unit: 'x the stated noise', source: practice, reason: 'marks that scatter more than this about their edge are taken at the scatter they show' },
  photographCornerPlusMinus: { value: 2, unit: 'mm', source: practice, reason: 'a card whose corners are known worse than this does not serve to measure by' },
  photographLevel: { value: 15, unit: 'degrees', source: practice, reason: 'a line through the first two marked holes that runs this near to level or upright in the picture is taken for level or upright' },
  snapReach: { value: 3, unit: 'sigma of the marks', source: practice, reason: 'how far from a hand-made mark its edge is looked for' },
  snapInset: { value: 0.06, unit: 'of the marked length', source: practice, reason: 'left out at each end of a marked edge: people mark edges up to their rounded corners' },
  snapShown: { value: 0.6, unit: 'of the places looked at', source: practice, reason: 'an edge that shows at fewer is not one straight edge' },
  snapMostNoise: { value: 1, unit: 'px', source: practice, reason: 'places that scatter more about their line are not one edge' },
  snapLineFloor: { value: 0.05, unit: 'px', source: practice, reason: 'no snapped edge is taken to be known better as a whole: its places share the pixel grid and the blur' },

  standingA: { value: 0.05, unit: 'A', source: 'common practice: service instructions for road vehicles allow 25 to 50 mA with the key off', reason: 'most a machine may draw from its battery with the switch off' },
  coilOhmShare: { value: 0.2, unit: 'of the catalogue ohms', source: practice, reason: 'how far the ohms of a new coil may lie from its catalogue entry: meter and temperature are in it' },

  moveWireMinutes: { value: 3, unit: 'min', source: practice, reason: 'work: a wire on another terminal' },
  newEndMinutes: { value: 6, unit: 'min', source: practice, reason: 'work: a new lug or receptacle crimped on' },
  jumperMinutes: { value: 10, unit: 'min', source: practice, reason: 'work: a lead made up and put on' },
  leaveOffMinutes: { value: 2, unit: 'min', source: practice, reason: 'work: a wire left off, its end insulated and tied back' },
  newHoleMinutes: { value: 15, unit: 'min', source: practice, reason: 'work: a hole marked, drilled, deburred and painted' },
  turnOverMinutes: { value: 5, unit: 'min', source: practice, reason: 'work: a part put on the other side of its panel' },

  ringLugPrice: { value: 1.5, unit: 'of the currency', source: practice, reason: 'ring lug, when the prices give none' },
  receptaclePrice: { value: 0.4, unit: 'of the currency', source: practice, reason: 'receptacle, when the prices give none' },
  branchReceptaclePrice: { value: 0.7, unit: 'of the currency', source: practice, reason: 'receptacle with branch tab, when the prices give none' },
  splicePrice: { value: 0.6, unit: 'of the currency', source: practice, reason: 'splice, when the prices give none' },
  socketContactPrice: { value: 0.8, unit: 'of the currency', source: practice, reason: 'socket contact, when the prices give none' },
  jumperLeadPrice: { value: 3.5, unit: 'of the currency', source: practice, reason: 'jumper lead made up, when the prices give none' },
  newHolePrice: { value: 0.5, unit: 'of the currency', source: practice, reason: 'drill wear and paint of a new hole, when the prices give none' },

  frequencySample: { value: 200, unit: 'parts of a class', source: practice, reason: 'how often a class holds a criterion is counted among at most so many, evenly spaced in order of id' },
  frequencyPrior: { value: 1, unit: 'part', source: practice, reason: 'what the frequency over a whole class weighs against that over its parts that otherwise may go on' },
  unrecordedHolds: { value: 0.7, unit: 'probability', source: practice, reason: 'a part that passes what is recorded holds a criterion for which the record does not give what it needs' },
  untracedHolds: { value: 0.93, unit: 'probability', source: practice, reason: 'a part that passes the other checks can be wired, where the wires have still to be traced' },
  unboltedHolds: { value: 0.57, unit: 'probability', source: practice, reason: 'a part goes on bolts that were not recorded' },
  unboltedAlikeHolds: { value: 0.75, unit: 'probability', source: practice, reason: 'a part with the terminals of the removed one goes on bolts that were not recorded' },
  unboltedUnlikeHolds: { value: 0.4, unit: 'probability', source: practice, reason: 'a part with other terminals than the removed one goes on bolts that were not recorded' },
  unaskedHolds: { value: 0.35, unit: 'probability', source: practice, reason: 'a part holds what a machine asks besides, of which nothing is recorded' },
  unaskedAlikeHolds: { value: 0.7, unit: 'probability', source: practice, reason: 'the same, for a part with the terminals of the removed one' },
  unaskedUnlikeHolds: { value: 0.2, unit: 'probability', source: practice, reason: 'the same, for a part with other terminals' },
  nearPatternOdds: { value: 4, unit: 'to 1', source: practice, reason: 'holes that are off by no more than the bolts are known are those of the machine' },
  alikeMm: { value: 0.3, unit: 'mm', source: practice, reason: 'most by which the size of a terminal is off that of the removed part and still the same' },
  otherClassHolds: { value: 0.6, unit: 'probability', source: practice, reason: 'a relay of another class than the removed part, whose class is not recorded, does its work' },
  relayHolds: { value: 0.92, unit: 'probability', source: practice, reason: 'the removed part was no shift solenoid, where neither its class nor a wire tells' },
  endHolds: { value: 0.995, unit: 'probability', source: practice, reason: 'a wire whose end is not recorded, or a stud or tab whose size is not given, takes a new end that fits' },

  removedAmong: { value: 4000, unit: 'parts of a catalogue', source: practice, reason: 'most parts among which the removed one is sought, each weighed by itself' },
  removedElsewhere: { value: 0.5, unit: 'part', source: practice, reason: 'what a removed part that is none of the catalogue weighs, before it was looked at' },
  removedElsewhereHolds: { value: 0.95, unit: 'probability, for each demand', source: practice, reason: 'a part meets what a removed part met that is none of the catalogue: what nobody wrote down is seldom what decides' },
  removedElsewhereEqual: { value: 0.4, unit: 'probability, for each', source: practice, reason: 'a starter has the rotation, teeth, module or nose of a removed one that is none of the catalogue' },
  removedByChance: { value: 0.15, unit: 'of parts, for each kind of reading', source: practice, reason: 'parts that agree with a kind of reading of the removed one by chance' },
  removedWrong: { value: 0.014, unit: 'of weight', source: practice, reason: 'a reading says that the removed part was another one' },
  removedOdd: { value: 0.04, unit: 'of weight', source: practice, reason: 'a wire or its end says that the removed part was another one' },
  removedOther: { value: 0.18, unit: 'of weight', source: practice, reason: 'a name, mark or place of a terminal, or a spare rating, is not that of the part' },
  removedUnsaid: { value: 0.35, unit: 'of weight', source: practice, reason: 'the catalogue does not give what was read of the removed part' },
  removedNumber: { value: 300, unit: 'x the weight', source: practice, reason: 'the part carries the marked number' },
  removedClaim: { value: 4, unit: 'x the weight', source: practice, reason: 'the part supersedes the marked number, or is claimed to replace it' },
  removedPlaceMm: { value: 4, unit: 'mm', source: practice, reason: 'a terminal further from where it was is in another place' },
  removedLooseMm: { value: 0.4, unit: 'mm', source: practice, reason: 'what distances of bolts and holes may differ beyond slots, by the play of the bolts' },
  removedCoilSpread: { value: 0.03, unit: 'sigma of ln(ohms)', source: practice, reason: 'spread of the coils of one make' },
  removedRatingShare: { value: 0.42, unit: 'of the rating', source: practice, reason: 'least that a machine asks of the rating of its part; evenly from there to all of it' },
  removedPowerShare: { value: 0.8, unit: 'of the power', source: practice, reason: 'least power that the starter of a machine has to have, of what it has' },
  removedDutyShare: { value: 0.3, unit: 'of the time', source: practice, reason: 'least that a machine cranks of the time its part bears; evenly from there to all of it' },
  removedDutyMostS: { value: 60, unit: 's', source: practice, reason: 'longest cranking of any machine whose part bears more' },
  removedStaysOn: { value: 0.1, unit: 'of machines', source: practice, reason: 'a part that bears continuous use has it' },
  removedContactorStaysOn: { value: 0.5, unit: 'of machines', source: practice, reason: 'a contactor that bears continuous use has it' },
  removedAmpsSure: { value: 1.15, unit: "x the removed coil's current", source: practice, reason: 'control current that every start circuit bears' },
  removedAmpsMost: { value: 3.2, unit: "x the removed coil's current", source: practice, reason: 'control current that no start circuit bears' },
  removedFuseMost: { value: 4, unit: "x the removed coil's current", source: practice, reason: 'a fuse of more was hardly chosen for that coil' },
  removedRoomMm: { value: 35, unit: 'mm', source: practice, reason: 'most room beside the removed body on a side, evenly from none' },
  removedSealingLess: { value: 0.55, unit: 'probability', source: practice, reason: 'a machine does not ask all of the sealing of its part' },
  removedColdC: { value: -30, unit: 'C', source: practice, reason: 'coldest that any machine stands' },
  removedHotC: { value: 55, unit: 'C', source: practice, reason: 'hottest that any machine stands' },
  removedRangeC: { value: 25, unit: 'K', source: practice, reason: 'spread of how cold and how hot machines stand' },
  removedWiringAlike: { value: 0.99, unit: 'probability', source: practice, reason: 'a part with the inner circuit of the removed one can be wired' },
  removedWiringUnlike: { value: 0.4, unit: 'probability', source: practice, reason: 'a part with another inner circuit can be wired' },
  removedBoltsAlike: { value: 0.95, unit: 'probability', source: practice, reason: 'a bracket whose holes are as far apart as those of the removed one goes on its bolts' },
  removedBoltsDrilled: { value: 0.9, unit: 'probability', source: practice, reason: 'another bracket, which may be drilled, goes on' },
  removedBoltsApart: { value: 0.25, unit: 'probability', source: practice, reason: 'another bracket with as many holes goes on: the panel may be drilled' },
  removedBoltsOther: { value: 0.1, unit: 'probability', source: practice, reason: 'a bracket with another number of holes goes on' },
  demandsTogether: { value: 15, unit: 'of (p (1 - p)) ** 3', source: practice, reason: 'what demands that are not recorded have in common besides, added to their chance p' },
  removedUnsaidHolds: { value: 0.8, unit: 'probability', source: practice, reason: 'a part without relatives meets a demand that is not recorded, where the catalogue does not give what answers it' },
  kinAsked: { value: 50, unit: 'parts', source: practice, reason: 'most parts of one bracket, and of one body, that are asked for what a part leaves unsaid' },
  kinPrior: { value: 0.06, unit: 'part', source: practice, reason: 'what the class weighs against a relative that is alike in all' },
  kinUnknown: { value: 0.7, unit: 'of likeness', source: practice, reason: 'one of two parts does not give something' },
  kinOther: { value: 0.5, unit: 'of likeness', source: practice, reason: 'two parts differ in something that families vary' },
  kinUnlike: { value: 0.2, unit: 'of likeness', source: practice, reason: 'two parts differ in bracket, body, inner circuit or rating' },

  ownNumberTrust: { value: 0.8, unit: 'of what is in doubt', source: practice, reason: 'a marked number that the part, or one it supersedes, carries takes so much of a doubt away' },
  claimTrust: { value: 0.5, unit: 'of what is in doubt', source: practice, reason: 'a marked number that the part is claimed to replace takes so much of a doubt away' },
  historyPrior: { value: 10, unit: 'fittings', source: practice, reason: 'what the computed probability weighs against fittings that held or came back' },
  otherKindShare: { value: 0.5, unit: 'of a fitting', source: practice, reason: 'what a fitting on another kind of machine counts' },
  readingsListed: { value: 20, unit: 'readings', source: practice, reason: 'most readings that are listed to be taken next' },

  fineMetricShare: { value: 0.12, unit: 'of how common the coarse thread of the size is', source: practice, reason: 'prior of each metric fine thread' },
  unfShare: { value: 0.5, unit: 'of how common the coarse thread of the size is', source: practice, reason: 'prior of a UNF thread' },
  secondChoiceShare: { value: 0.2, unit: 'of how common a first-choice size is', source: practice, reason: 'prior of M3.5, M7, #5 and #12' },
  plainNutWeight: { value: 6, unit: 'parts', source: practice, reason: 'how many studs carry the plain hexagon nut (ISO 4032, ASME B18.2.2, machine-screw nut), against 1 part for each other nut' },
  strayNutShare: { value: 0.02, unit: 'of nuts', source: practice, reason: 'nut of no listed width: a spacer, a wrong nut, a worn one' },
  beyondSigma: { value: 4, unit: 'sigma', source: practice, reason: 'a measurement further from everything in the table cannot be true of any of it' },

  startRelayWatts: { value: 36, unit: 'W at nominal voltage', source: practice, reason: 'median coil power of a start relay (4 Ohm at 12 V)' },
  contactorWatts: { value: 12, unit: 'W at nominal voltage', source: practice, reason: 'median coil power of a contactor (12 Ohm at 12 V)' },
  plugInRelayWatts: { value: 1.7, unit: 'W at nominal voltage', source: practice, reason: 'median coil power of a plug-in relay (85 Ohm at 12 V)' },
  pullInWindingWatts: { value: 400, unit: 'W at nominal voltage', source: practice, reason: 'median power of the pull-in winding of a shift solenoid (0.36 Ohm at 12 V)' },
  holdInWindingWatts: { value: 120, unit: 'W at nominal voltage', source: practice, reason: 'median power of the hold-in winding of a shift solenoid (1.2 Ohm at 12 V)' },
  coilWattsSpread: { value: 0.4, unit: 'sigma of ln(power)', source: practice, reason: 'spread of coil power within a class, log-normal' },
  windingWattsSpread: { value: 0.5, unit: 'sigma of ln(power)', source: practice, reason: 'spread of the power of a shift solenoid\'s windings, log-normal' },
  wrongMarkShare: { value: 0.05, unit: 'of marked coils', source: practice, reason: 'coil voltage that is misread or not the coil\'s, when circuits are weighed' },
  leastMarkShare: { value: 0.05, unit: 'of belief, no voltage favoured', source: practice, reason: 'a marked coil voltage that the ohms suit less than this beside the standard voltages is doubted' },
  machineVoltsShare: { value: 0.9, unit: 'of coils', source: practice, reason: 'coil whose nominal voltage is the machine\'s; the other standard voltages share the rest' },

  botherOfCaliper: { value: 0.05, unit: 'bit', source: practice, reason: 'bother of putting a caliper on a terminal, or of looking at them all: what tells less is not asked for' },
  botherOfPitch: { value: 0.08, unit: 'bit', source: practice, reason: 'bother of trying a pitch gauge on a stud' },
  botherOfNut: { value: 0.06, unit: 'bit', source: practice, reason: 'bother of measuring a nut across its flats' },
  botherOfMeter: { value: 0.02, unit: 'bit', source: practice, reason: 'bother of an ohmmeter reading at rest' },
  botherOfSupply: { value: 0.08, unit: 'bit', source: practice, reason: 'bother of volts over amps with a supply' },
  botherOfHolding: { value: 0.12, unit: 'bit', source: practice, reason: 'bother of holding the coil in while reading, on top' },

  botherOfTraceCable: { value: 0.1, unit: 'bit', source: practice, reason: 'bother of a reading for which a heavy cable is taken off as well' },
  botherOfTraceLive: { value: 0.1, unit: 'bit', source: practice, reason: 'bother of a reading at an end that may be live' },
  botherOfTraceKey: { value: 0.3, unit: 'bit', source: practice, reason: 'bother of a reading with the key at run or in START: the starter\'s cable comes off first, somebody sits at the key' },
  traceLiveOfNominal: { value: 0.75, unit: 'of nominal voltage', source: practice, reason: 'volts from here up at the free end of a wire are the battery\'s, be it half empty' },
  traceDeadOfNominal: { value: 0.04, unit: 'of nominal voltage', source: practice, reason: 'volts up to here at the free end of a wire are what a meter picks up from its neighbours' },
  traceMostOfNominal: { value: 1.35, unit: 'of nominal voltage', source: practice, reason: 'more than this no battery gives, charged or charging' },
  traceJoinedOhm: { value: 2, unit: 'Ohm', source: practice, reason: 'up to here there is nothing but wire, joints, switches and the meter\'s own leads' },

  strayReadingShare: { value: 0.01, unit: 'of readings', source: practice, reason: 'ohm reading that is a slip of the probe, the pen or the range switch' },
  jointOhm: { value: 0.1, unit: 'Ohm', source: practice, reason: 'sigma of what leads, probes and a closed contact put on a reading of nearly nothing' },
  openFromOhm: { value: 100_000, unit: 'Ohm', source: practice, reason: 'a reading from here up is dirt or a finger, not a winding: open' },
  forwardDiodeShare: { value: 0.5, unit: 'of the coil\'s ohms', source: practice, reason: 'most that volts over amps of a supply show across a coil whose diode conducts' },
  resistorOfCoil: { value: 10, unit: 'x the ohms of the coil', source: practice, reason: 'median resistor across a coil' },
  resistorSpread: { value: 0.35, unit: 'sigma of ln(ratio)', source: practice, reason: 'spread of the resistor across a coil, log-normal' },
  stuckOpenShare: { value: 0.04, unit: 'of contacts', source: practice, reason: 'contact of a removed part that never closes: burnt away' },
  stuckClosedShare: { value: 0.02, unit: 'of parts', source: practice, reason: 'main contact of a removed part that never opens: welded' },
  openCoilShare: { value: 0.04, unit: 'of parts', source: practice, reason: 'removed part with a winding burnt through: what burns it (a stuck switch, heat) befalls the part, so that of two windings each has half' },
  guessedShareBelief: { value: 0.5, unit: 'of what is guessed', source: practice, reason: 'how common each circuit form is was counted by nobody: the guess is believed by half, the other half takes all forms for equally common' },
  otherClassShare: { value: 0.03, unit: 'of records', source: practice, reason: 'removed part that is not of the class somebody entered' },
  spareTerminalShare: { value: 0.02, unit: 'of parts, for each', source: practice, reason: 'terminal that nothing inside is joined to' },
  unlistedTerminalShare: { value: 0.02, unit: 'of records', source: practice, reason: 'a terminal is left out, though others are listed' },
  outerEvidenceSlip: { value: 0.1, unit: 'of wires and marks', source: practice, reason: 'wire or mark that is not where the form has it' },
  bitsOfFirstWinding: { value: 0.3, unit: 'bit', source: practice, reason: 'what the first reading of a winding tells of the nominal voltage, beside the circuit' },
} as const satisfies Record<string, Setting>;

export type SettingName = keyof typeof SETTINGS;

/** Written once: a fit over a large catalogue asks for them thousands of times. */
const LINES = Object.fromEntries(Object.entries(SETTINGS).map(([name, { value, unit, reason, source }]) => [name, `${value} ${unit}: ${reason} (${source})`])) as Record<SettingName, string>;

/** The value of a setting, in the unit its row gives. */
export function settingOf(name: SettingName): number {
  return SETTINGS[name].value;
}

/** The line an answer lists when it used the setting: '30 s: longest cranking when the record does not say (common practice, no source)'. */
export function describeSetting(name: SettingName): string {
  return LINES[name];
}

/** The line an answer lists when a bare number took its instrument's half-width. */
export function describeInstrument(instrument: InstrumentClass): string {
  const { absolute, relative, unit, source } = INSTRUMENT_DEFAULTS[instrument];
  const share = relative > 0 ? ` or ${relative * 100} %, whichever is more` : '';
  return `${absolute} ${unit}${share}: half-width of a ${instrument} reading given as a bare number (${source})`;
}
