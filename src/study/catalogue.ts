/** All quantities, by id. Brief, command line, pictures and reference pages read this list and no other. */
import { nearestName } from '#project';
import { DRIVE_FAMILIES } from './families/drive.ts';
import { EFFORT_FAMILIES } from './families/effort.ts';
import { EFFORT_LIFT_FAMILIES } from './families/effort-lift.ts';
import { FIT_FAMILIES } from './families/fit.ts';
import { FOLD_FAMILIES } from './families/fold.ts';
import { FOOLPROOF_FAMILIES } from './families/foolproof.ts';
import { FRAME_FAMILIES } from './families/frame.ts';
import { FRAME_CHECK_FAMILIES } from './families/frame-checks.ts';
import { FRAME_SETTLE_FAMILIES } from './families/frame-settle.ts';
import { FRAME_STIFFNESS_FAMILIES } from './families/frame-stiffness.ts';
import { HANDS_FAMILIES } from './families/hands.ts';
import { MASS_FAMILIES } from './families/mass.ts';
import { PACKAGE_FAMILIES } from './families/package.ts';
import { PINCH_FAMILIES } from './families/pinch.ts';
import { SIMPLE_FAMILIES } from './families/simple.ts';
import { STEER_FAMILIES } from './families/steer.ts';
import { TRIP_FAMILIES } from './families/trip.ts';
import { type Family, idOf, type SlotNames } from './family.ts';

export const CATALOGUE: readonly Family[] = [
  ...MASS_FAMILIES,
  ...SIMPLE_FAMILIES,
  ...FOLD_FAMILIES,
  ...PACKAGE_FAMILIES,
  ...STEER_FAMILIES,
  ...FRAME_FAMILIES,
  ...FRAME_STIFFNESS_FAMILIES,
  ...FRAME_SETTLE_FAMILIES,
  ...FRAME_CHECK_FAMILIES,
  ...FIT_FAMILIES,
  ...EFFORT_FAMILIES,
  ...EFFORT_LIFT_FAMILIES,
  ...HANDS_FAMILIES,
  ...PINCH_FAMILIES,
  ...FOOLPROOF_FAMILIES,
  ...DRIVE_FAMILIES,
  ...TRIP_FAMILIES,
];

/** One quantity of a candidate: its family and what fills the family's braces. */
export interface Quantity {
  readonly id: string;
  readonly family: Family;
  readonly slot: string;
}

/** Every quantity that the catalogue offers for these names, in the catalogue's order. */
export const quantitiesFor = (names: SlotNames): Quantity[] =>
  CATALOGUE.flatMap((family) => family.slots(names).map((slot) => ({ id: idOf(family, slot), family, slot })));

/** The quantity of that id; else the nearest known id, for a hint. */
export function findQuantity(id: string, names: SlotNames): { quantity: Quantity } | { nearest: string | undefined } {
  const all = quantitiesFor(names);
  const quantity = all.find((q) => q.id === id);
  return quantity
    ? { quantity }
    : {
        nearest: nearestName(
          id,
          all.map((q) => q.id),
        ),
      };
}
