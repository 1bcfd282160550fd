/**
 * Whom the riders are drawn from: statures and masses of a country's adults, over which the survey's proportions are laid.
 *
 * `survey` are the measured soldiers themselves (ANSUR II, Gordon et al. 2014): right in their proportions, too slim for
 * civilians. `us_2014`: means of NHANES 2011-2014 (CDC, August 2016: men 175.9 cm and 88.8 kg, women 161.9 cm and 76.4 kg),
 * spreads from memory. The others are defaults, from memory: Germany after DIN 33402-2 (5th, 50th, 95th percentile of stature
 * 1650/1750/1855 and 1535/1625/1720 mm), Netherlands and Japan by their mean statures; masses of all three from memory.
 * Units: m, kg; one standard deviation. Mass is lognormal.
 */
export interface SexPublic {
  readonly stature: number;
  readonly statureSpread: number;
  readonly mass: number;
  readonly massSpread: number;
}
export interface Public {
  readonly female: SexPublic;
  readonly male: SexPublic;
  readonly source: string;
}
export const PUBLIC_IDS = ['survey', 'us_2014', 'germany_2005', 'netherlands', 'japan'] as const;
export type PublicId = (typeof PUBLIC_IDS)[number];

const of = (stature: number, statureSpread: number, mass: number, massSpread: number): SexPublic => ({
  stature,
  statureSpread,
  mass,
  massSpread,
});

export const PUBLICS: Readonly<Record<PublicId, Public>> = {
  survey: {
    female: of(1.62847, 0.0642, 67.76, 10.98),
    male: of(1.75621, 0.06855, 85.52, 14.22),
    source: 'ANSUR II (Gordon et al. 2014): soldiers, 17 to 58 years',
  },
  us_2014: {
    female: of(1.619, 0.069, 76.4, 19),
    male: of(1.759, 0.076, 88.8, 19),
    source: 'means: NHANES 2011-2014 (CDC 2016); spreads: default, from memory',
  },
  germany_2005: {
    female: of(1.625, 0.0562, 69, 13),
    male: of(1.75, 0.0623, 83, 14),
    source: 'stature: DIN 33402-2; all from memory',
  },
  netherlands: {
    female: of(1.7, 0.066, 72, 13),
    male: of(1.84, 0.072, 86, 14),
    source: 'default, from memory',
  },
  japan: { female: of(1.58, 0.054, 53, 8.5), male: of(1.71, 0.058, 68, 11), source: 'default, from memory' },
};
