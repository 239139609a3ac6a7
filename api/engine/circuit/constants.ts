/**
 * The ideal elements that stand for a machine's outside circuit. They are conventions, not measurements: small enough that a
 * healthy circuit behaves, large enough that a short shows as hundreds of amps.
 */
export const CIRCUIT_CONSTANTS = {
  batteryOhm: { value: 0.01, unit: 'Ohm', source: 'convention of the data contract', reason: 'inner resistance of a healthy starting battery' },
  starterOhm: { value: 0.05, unit: 'Ohm', source: 'convention of the data contract', reason: 'a starter that turns, seen as a resistance' },
  contactOhm: { value: 0.0005, unit: 'Ohm', source: 'convention of the data contract', reason: 'a closed heavy contact' },
  diodeV: { value: 0.7, unit: 'V', source: 'convention of the data contract', reason: 'forward drop of a silicon diode' },
  diodeOhm: { value: 0.01, unit: 'Ohm', source: 'convention of the data contract', reason: 'slope of a diode that conducts' },
  bareOhm: {
    value: 0.000_001, unit: 'Ohm', source: 'common practice, no source',
    reason: 'a control path or resistor given as 0 Ohm: keeps two points apart whose difference in volts does not matter',
  },
} as const;
