import batteryFacts from './battery.json' with { type: 'json' };
import copperFacts from './copper.json' with { type: 'json' };
import type { Fact } from './fact.ts';
import dutyFacts from './relay-duty.json' with { type: 'json' };
import torqueFacts from './torque.json' with { type: 'json' };

// Whole tables for whoever wants to show them; what the computations use has a typed view of its own.

/** Open-circuit volts, load test against temperature, what the cold-cranking ratings mean. */
export const BATTERY_FACTS: readonly Fact[] = batteryFacts;
/** Utilisation categories, duty types, coil ranges. */
export const RELAY_DUTY_FACTS: readonly Fact[] = dutyFacts;
/** Terminal torques of several publications; they differ by up to five times for one thread. */
export const TORQUE_FACTS: readonly Fact[] = torqueFacts;
export const COPPER_FACTS: readonly Fact[] = copperFacts;
