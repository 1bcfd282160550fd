/**
 * Two-handed lifts: recommended weight limit and lifting index of the revised NIOSH equation, and the share of users able.
 *
 *   RWL = LC·HM·VM·DM·AM·FM·CM,  LI = load / RWL,  at the origin and, where the load is set down with care, at the destination.
 *   LC   23 kg (51 lb)                         HM = 25/H (10/H in), 1 below 25 cm, 0 beyond 63 cm
 *   VM = 1 − 0.003|V − 75| (1 − 0.0075|V − 30|), 0 above 175 cm     DM = 0.82 + 4.5/D (0.82 + 1.8/D), 1 below 25 cm, 0 beyond 175 cm
 *   AM = 1 − 0.0032A, 0 beyond 135°            CM: good 1; fair 0.95 below 75 cm, else 1; poor 0.90
 * The manual works with multipliers of two decimals; `rounded` does so too, with the two odd entries of its inch table (22 and
 * 23 in: 0.46 and 0.44, where 10/H rounds to 0.45 and 0.43; from memory, its examples agree). Metric and inch constants differ by up
 * to 2 %.
 * Source: T. R. Waters, V. Putz-Anderson, A. Garg, NIOSH 94-110 (1994, rev. 2021), public domain; Ergonomics 36:749 (1993).
 * Share able: RWL is what 75 % of women and 99 % of men accept (Waters et al. 1993). Accepted loads are taken lognormal with one
 * σ and the ratio of women's to men's strength of Leyk et al. 2007 (329 : 541): then σ = ln(541/329)/(z99 − z75) = 0.30.
 * Valid for smooth two-handed lifts, standing, on a sound floor. Not for one hand, not for carrying, pushing, pulling.
 * Units: m, kg, rad, lifts a minute, h. Not here: children, the elderly, pregnancy.
 */
import { INCH, POUND } from '../math/constants.ts';
import { normalShare } from '../math/normal.ts';
import { FREQUENCY_HOURS, FREQUENCY_ROWS } from './lifting-table.ts';
import { GRIP_RATIO } from './strength.ts';

export type Coupling = 'good' | 'fair' | 'poor';
/** Where the hands are at one end of the lift. */
export interface LiftEnd {
  /** From the middle between the ankles to that between the hands, level. */
  readonly reach: number;
  /** Hands over the floor. */
  readonly height: number;
  /** Turn of the body away from straight ahead, rad. */
  readonly turn: number;
}
export interface Lift {
  readonly origin: LiftEnd;
  /** Absent: dropped or thrown; the limit at the origin counts alone. */
  readonly destination?: LiftEnd;
  readonly coupling: Coupling;
  readonly perMinute: number;
  readonly hours: number;
}
export interface LiftOptions {
  /** Constants of the manual: metric, or in inches and pounds. */
  readonly system?: 'metric' | 'inch';
  /** Each multiplier to two decimals, as the manual prints them. */
  readonly rounded?: boolean;
  /** Way between the hands' heights; from the two ends when left out. */
  readonly distance?: number;
}
export const MULTIPLIERS = ['HM', 'VM', 'DM', 'AM', 'FM', 'CM'] as const;
export type Multiplier = (typeof MULTIPLIERS)[number];
export interface LiftLimit {
  /** RWL, kg; 0 where the equation allows no load at all. */
  readonly limit: number;
  readonly multipliers: Readonly<Record<Multiplier, number>>;
  /** Why it is 0. */
  readonly outside: string | undefined;
}
export interface LiftLimits {
  readonly origin: LiftLimit;
  readonly destination: LiftLimit | undefined;
  /** The lower of both. */
  readonly limit: number;
  readonly worst: 'origin' | 'destination';
}

const SYSTEM = {
  metric: { load: 23, reach: 0.25, slope: 0.3, knuckle: 0.75, way: 0.045 },
  // 51 lb, 10 in, 0.0075/in, 30 in, 1.8 in
  inch: { load: 51 * POUND, reach: 0.254, slope: 0.0075 / INCH, knuckle: 0.762, way: 1.8 * INCH },
} as const;
/** The inch table of the manual at 22 and 23 in. */
const ODD_REACH: readonly (readonly [reach: number, HM: number])[] = [
  [22 * INCH, 0.46],
  [23 * INCH, 0.44],
];
const DEGREE = Math.PI / 180;
const FARTHEST = 0.63;
const HIGHEST = 1.75;
const FARTHEST_TURN = 135 * DEGREE;
/** A hair of slack, so that 25 in and 70 in stay inside. */
const SLACK = 0.006;

/** FM, straight between the rows; 0 where the work is too frequent. @throws RangeError beyond 8 h. */
export function frequencyMultiplier(perMinute: number, hours: number, height: number): number {
  const column = FREQUENCY_HOURS.findIndex((most) => hours <= most);
  if (column < 0 || !(hours > 0)) throw new RangeError(`the lifting equation covers up to 8 hours, got ${hours}`);
  if (!(perMinute >= 0)) throw new RangeError(`lifts a minute cannot be ${perMinute}`);
  const of = (i: number): number => {
    const [, multipliers, lowFrom] = FREQUENCY_ROWS[i]!;
    return height < 0.75 - 1e-9 && column >= lowFrom ? 0 : multipliers[column]!;
  };
  const i = FREQUENCY_ROWS.findIndex(([rate]) => perMinute <= rate);
  if (i < 0) return 0;
  if (i === 0) return of(0);
  const [low] = FREQUENCY_ROWS[i - 1]!;
  const [high] = FREQUENCY_ROWS[i]!;
  const share = (perMinute - low) / (high - low);
  return of(i - 1) + share * (of(i) - of(i - 1));
}

/** RWL at both ends. @throws RangeError for negative heights or reaches. */
export function liftLimits(lift: Lift, options: LiftOptions = {}): LiftLimits {
  const { origin, destination } = lift;
  const way = options.distance ?? (destination ? Math.abs(destination.height - origin.height) : 0);
  const first = limitAt(origin, lift, way, options);
  const last = destination && limitAt(destination, lift, way, options);
  const worst = last && last.limit < first.limit ? 'destination' : 'origin';
  return { origin: first, destination: last, limit: Math.min(first.limit, last?.limit ?? Infinity), worst };
}

function limitAt(end: LiftEnd, lift: Lift, way: number, { system = 'metric', rounded }: LiftOptions): LiftLimit {
  const { reach, height, turn } = end;
  if (!(reach >= 0 && height >= 0 && turn >= 0 && way >= 0))
    throw new RangeError('reach, height, way and turn of a lift cannot be negative');
  const k = SYSTEM[system];
  const outside =
    reach > FARTHEST + SLACK
      ? 'the hands are more than 0.63 m ahead of the ankles'
      : height > HIGHEST + SLACK
        ? 'the hands go above 1.75 m'
        : way > HIGHEST + SLACK
          ? 'it is lifted by more than 1.75 m'
          : turn > FARTHEST_TURN + 1e-9
            ? 'the body turns by more than 135°'
            : undefined;
  const exact: Record<Multiplier, number> = {
    HM: reach <= k.reach ? 1 : k.reach / reach,
    VM: 1 - k.slope * Math.abs(height - k.knuckle),
    DM: way <= k.reach ? 1 : 0.82 + k.way / way,
    AM: 1 - (0.0032 * turn) / DEGREE,
    FM: frequencyMultiplier(lift.perMinute, lift.hours, height),
    CM: lift.coupling === 'good' ? 1 : lift.coupling === 'poor' ? 0.9 : height < k.knuckle ? 0.95 : 1,
  };
  const multipliers = { ...exact };
  // a half is rounded up, as by hand: 0.745 is 0.75; the tiny addition heals its binary form
  if (rounded) {
    for (const m of MULTIPLIERS) multipliers[m] = Math.round(100 * exact[m] + 1e-9) / 100;
    const odd = system === 'inch' && ODD_REACH.find(([r]) => Math.abs(r - reach) < 1e-6);
    if (odd) multipliers.HM = odd[1];
  }
  const product = MULTIPLIERS.reduce((p, m) => p * multipliers[m], k.load);
  return {
    limit: outside ? 0 : product,
    multipliers,
    outside: outside ?? (product > 0 ? undefined : 'lifted too often'),
  };
}

/** z of the shares that accept RWL, and the ratio of women's strength to men's. */
export const Z75 = 0.6744897501960817;
const Z99 = 2.3263478740408408;
export const LIFT_SIGMA = -Math.log(GRIP_RATIO) / (Z99 - Z75);

/** Share of users who accept a lift of that index. `women`: share of women. */
export function shareLifting(index: number, women = 0.5): number {
  if (index <= 0) return 1;
  const z = Math.log(index) / LIFT_SIGMA;
  return women * normalShare(Z75 - z) + (1 - women) * normalShare(Z99 - z);
}
