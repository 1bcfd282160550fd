/**
 * What the standards say about steering geometry and front load, as records.
 *
 * Sources: ISO 4210-2:2014, 4.7.5 (front load); ISO 4210-2, Annex A (informative: head angle, intercept), text as in
 * GOST R ISO 4210-2-2023; the same 25 % in EN 15194, 4.3.6.5. The edition in force decides: check it before relying on
 * these limits.
 * Not here: the free steering angle, which needs the mechanism; everything that a laboratory tests.
 */
import type { SteerGeometry } from './geometry.ts';

export interface SteerRule {
  readonly id: 'front_load' | 'head_angle' | 'intercept';
  readonly meaning: string;
  readonly source: string;
  /** True: a recommendation of an informative annex; false: a requirement. */
  readonly informative: boolean;
  readonly unit: '' | 'rad';
  /** NaN when it cannot be computed. */
  readonly value: number;
  readonly atLeast: number;
  /** Infinity when there is no upper limit. */
  readonly atMost: number;
  /** Null when the value cannot be computed. */
  readonly holds: boolean | null;
}

const DEGREE = Math.PI / 180;
export const FRONT_LOAD_AT_LEAST = 0.25;
export const HEAD_ANGLE_LIMITS = [65 * DEGREE, 75 * DEGREE] as const;
export const INTERCEPT_LIMITS = [0.15, 0.6] as const;
/** Limits are printed to two or three digits; a value this near to one (relative) counts as on it. */
const ON_THE_LIMIT = 1e-9;

function rule(fields: Omit<SteerRule, 'holds'>): SteerRule {
  const { value, atLeast, atMost } = fields;
  const holds = Number.isFinite(value)
    ? value >= atLeast * (1 - ON_THE_LIMIT) && value <= atMost * (1 + ON_THE_LIMIT)
    : null;
  return { ...fields, holds };
}

/**
 * The rules for one bicycle. `frontShare` is the share of bicycle and rider on the front wheel with the rider seated,
 * saddle and rider rearmost, hands on the grips; NaN when it is not known.
 */
export function steerRules(geometry: SteerGeometry, frontShare: number): SteerRule[] {
  return [
    rule({
      id: 'front_load',
      meaning: 'share of bicycle and rider on the front wheel, saddle and rider rearmost, hands on the grips',
      source: 'ISO 4210-2:2014, 4.7.5; EN 15194, 4.3.6.5',
      informative: false,
      unit: '',
      value: frontShare,
      atLeast: FRONT_LOAD_AT_LEAST,
      atMost: Infinity,
    }),
    rule({
      id: 'head_angle',
      meaning: 'angle between steer axis and ground',
      source: 'ISO 4210-2, Annex A',
      informative: true,
      unit: 'rad',
      value: geometry.headAngle,
      atLeast: HEAD_ANGLE_LIMITS[0],
      atMost: HEAD_ANGLE_LIMITS[1],
    }),
    rule({
      id: 'intercept',
      meaning: 'height at which the steer axis cuts the vertical through the front hub, over the wheel radius',
      source: 'ISO 4210-2, Annex A',
      informative: true,
      unit: '',
      value: geometry.interceptRatio,
      atLeast: INTERCEPT_LIMITS[0],
      atMost: INTERCEPT_LIMITS[1],
    }),
  ];
}

/** Least and most trail (m) that the intercept recommendation leaves for a wheel radius (m) and head angle (rad). */
export function trailForIntercept(wheelRadius: number, headAngle: number): readonly [number, number] {
  const perRatio = wheelRadius / Math.tan(headAngle);
  return [INTERCEPT_LIMITS[0] * perRatio, INTERCEPT_LIMITS[1] * perRatio];
}
