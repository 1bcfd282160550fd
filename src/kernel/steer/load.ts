/**
 * Load on the wheels, its transfer under braking, and the deceleration at which the rear wheel lifts.
 *
 * Moments about the contact points of a bicycle that decelerates by a along a slope θ (positive uphill), centre of mass
 * x ahead of the rear contact and h above the ground, wheelbase w, in axes fixed to the slope:
 *   N_f w = m g (x cos θ − h sin θ) + m a h,   N_r = m g cos θ − N_f,
 *   N_r = 0 at a = g ((w − x)/h · cos θ + sin θ); a descent (θ < 0) lowers it.
 * a is the deceleration of the bicycle; the brake gives m a − m g sin θ of it.
 *
 * Source: C. Riel 2005, derivation of a_max = g·l_f/h_cm and its change with slope (level and small slopes); exact in
 * the angle here by the same moments. Assumptions: rigid, no skid, no suspension, front brake alone at the limit.
 * Front load rule: see rules.ts. Not here: tyre grip, which on a wet road is often the lower limit.
 */
import { combine, type RigidMass } from '../mass/rigid-mass.ts';
import { insist } from './refusal.ts';

const angleOf = (grade: number): readonly [cos: number, sin: number] => {
  const cos = 1 / Math.sqrt(1 + grade * grade);
  return [cos, grade * cos];
};

export interface LoadCase {
  /** Bicycle, rider and luggage together, ISO 8855 axes, ground at z = 0. */
  readonly total: RigidMass;
  /** x of the rear and front contact points, m. */
  readonly rearX: number;
  readonly frontX: number;
  readonly gravity: number;
}

function levers(load: LoadCase): readonly [w: number, x: number, h: number] {
  const { total, rearX, frontX, gravity } = load;
  const w = frontX - rearX;
  insist(w > 0 && w < Infinity, 'wheelbase', `wheelbase must be above 0 m, got ${w} m`);
  insist(total.mass > 0 && total.mass < Infinity, 'total.mass', `mass must be above 0 kg, got ${total.mass} kg`);
  insist(
    total.com[2] > 0 && Number.isFinite(total.com[0]),
    'total.com',
    'the centre of mass must lie above the ground',
  );
  insist(gravity > 0, 'gravity', 'gravity must be above 0');
  return [w, total.com[0] - rearX, total.com[2]];
}

export interface WheelLoads {
  /** Normal forces, N; negative when the wheel would have to be held down. */
  readonly front: number;
  readonly rear: number;
  /** Front part of the sum. */
  readonly frontShare: number;
  /** How much of `front` the deceleration has brought, N. */
  readonly transfer: number;
}

/** Wheel loads at a grade (rise over run, positive uphill) and a deceleration (m/s²); standing on the level by default. */
export function wheelLoads(load: LoadCase, grade = 0, deceleration = 0): WheelLoads {
  const [w, x, h] = levers(load);
  const [cos, sin] = angleOf(grade);
  const { mass } = load.total;
  const weight = mass * load.gravity;
  const transfer = (mass * deceleration * h) / w;
  const front = (weight * (x * cos - h * sin)) / w + transfer;
  return { front, rear: weight * cos - front, frontShare: front / (weight * cos), transfer };
}

/** Deceleration (m/s²) at which the rear wheel lifts, at a grade (rise over run, positive uphill). 0 or less: it has lifted already. */
export function pitchOver(load: LoadCase, grade = 0): number {
  const [w, x, h] = levers(load);
  const [cos, sin] = angleOf(grade);
  return load.gravity * (((w - x) / h) * cos + sin);
}

export interface WorstPitchOver {
  /** m/s². */
  readonly deceleration: number;
  /** Index of the worst loading, and whether luggage was on. */
  readonly loading: number;
  readonly luggage: boolean;
}

/**
 * The worst of several loadings (riders with the saddle up and forward, each with and without luggage) at one grade.
 * @throws SteerRefusal when there is no loading.
 */
export function worstPitchOver(
  bicycle: RigidMass,
  riders: readonly RigidMass[],
  luggage: RigidMass | undefined,
  place: Pick<LoadCase, 'rearX' | 'frontX' | 'gravity'>,
  grade: number,
): WorstPitchOver {
  insist(riders.length > 0, 'riders', 'no rider given');
  let worst: WorstPitchOver = { deceleration: Infinity, loading: -1, luggage: false };
  riders.forEach((rider, loading) => {
    for (const withBag of luggage ? [false, true] : [false]) {
      const total = combine(withBag && luggage ? [bicycle, rider, luggage] : [bicycle, rider]);
      const deceleration = pitchOver({ total, ...place }, grade);
      if (deceleration < worst.deceleration) worst = { deceleration, loading, luggage: withBag };
    }
  });
  return worst;
}
