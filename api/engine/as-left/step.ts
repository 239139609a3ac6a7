import type { KitItem, Placement, TorqueAdvice, Wire } from '../../../catalog-schema/index.ts';
import type { Yardstick } from './yardsticks.ts';

/** Tightening: the advice, or that there is none because the thread is not known. */
export type Torque = { readonly kind: 'advice'; readonly thread: string; readonly advice: TorqueAdvice } | { readonly kind: 'unknown' };

export type ReadingKey = 'coil-ohms' | 'standing-current' | 'coil-volts' | 'contact-drop' | 'positive-drop' | 'ground-drop';
export type InterlockActs = 'return' | 'feed' | 'stops-engine';

interface StepBase {
  /** names the tick in a job's document; the same on every device */
  readonly id: string;
  readonly required: boolean;
  /** fingerprint of what is to be done: a tick made for another part, wiring or interlock carries another one and does not count */
  readonly of: string;
}

/** What one step of putting the part in is. Words are made by `sayStep`. */
export type StepWork =
  | { readonly kind: 'battery-off' | 'remove' | 'battery-on' | 'cranks' | 'running' }
  | { readonly kind: 'make-ready'; readonly kit: readonly KitItem[] }
  | { readonly kind: 'drill'; readonly hole: Placement['newHoles'][number] }
  | { readonly kind: 'mount'; readonly bolts: number; readonly rotationDeg: number; readonly flipped: boolean }
  | { readonly kind: 'wire'; readonly wire: Wire; readonly to: string; readonly moved: boolean; readonly newEnd: boolean
      /** tags on this terminal, the lug that lies on the seat first */
      readonly stack: readonly string[]
      /** the last wire of its terminal: the nut is tightened now */
      readonly tighten: Torque | null
      /** the nut's torque, whether it is tightened now or with a later wire; null for what takes no nut */
      readonly torque: Torque | null
      /** jumper lugs that come onto this terminal too */
      readonly jumpers: number }
  | { readonly kind: 'wire-unplanned'; readonly wire: Wire }
  | { readonly kind: 'leave-off'; readonly wire: Wire }
  | { readonly kind: 'jumper'; readonly from: string; readonly to: string
      /** studs that get their last lug with this jumper, each with its torque */
      readonly tighten: readonly { readonly terminal: string; readonly torque: Torque }[] }
  | { readonly kind: 'studs-open'; readonly between: readonly [string, string] }
  | { readonly kind: 'reading'; readonly reading: ReadingKey; readonly between: readonly [string, string]; readonly yardstick: Yardstick }
  | { readonly kind: 'interlock'; readonly name: string; readonly acts: InterlockActs
      /** the new terminal where a meter tells that this interlock acts: of the return, or of the start-switch wire */
      readonly shownAt: string | null };

export type AsLeftStep = StepBase & StepWork;
export type StepKind = AsLeftStep['kind'];

/** A step as it is made, before it has its fingerprint. */
export type MadeStep = { readonly id: string; readonly required: boolean } & StepWork;
