/**
 * Heights of a hanging hand: where one bends to reach something, and what a carried package has left over the ground.
 *
 * Wrist height of women and men from the survey (`rider/survey.ts`), with the public's stature laid over it as in
 * `rider/population.ts`: the mean as a share of the stature, the deviation as a share of the stature's. The centre of the grip
 * lies below the wrist by the difference of forearm-to-grip and forearm length: 81 mm of mean men, 76 mm of mean women
 * (ANSUR II, Gordon et al. 2014). Shoes 25 mm (default, from memory).
 * Units m. Not here: shoulders drawn up, a bent elbow.
 */
import type { Rider } from '../rider/body-links.ts';
import type { SexPublic } from '../rider/publics.ts';
import { COLUMN, SURVEY } from '../rider/survey.ts';

/** Grip below the wrist over the mean stature. */
const GRIP_SHARE = { female: 76.38 / 1628.47, male: 81.13 / 1756.21 } as const;
export const SHOE_HEIGHT = 0.025;

/** Height of the grip of a hanging hand over the ground, `z` standard deviations from the mean of one sex of a public. */
export function gripHeight(sex: 'female' | 'male', people: SexPublic, z: number): number {
  const { mean, sd } = SURVEY[sex];
  const k = people.stature / mean[COLUMN.stature]!;
  const w = people.statureSpread / sd[COLUMN.stature]!;
  return k * mean[COLUMN.wrist]! + z * w * sd[COLUMN.wrist]! - GRIP_SHARE[sex] * people.stature + SHOE_HEIGHT;
}

/** The same for a mean body of that stature. */
export function gripHeightOf({ stature, sex }: Pick<Rider, 'stature' | 'sex'>): number {
  if (sex === 'mixed') return (gripHeightOf({ stature, sex: 'female' }) + gripHeightOf({ stature, sex: 'male' })) / 2;
  return gripHeight(sex, { stature, statureSpread: 0, mass: Number.NaN, massSpread: Number.NaN }, 0);
}
