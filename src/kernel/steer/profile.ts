/**
 * The handling of one bicycle as a list of figures at several speeds: what a likeness compares and a page shows.
 *
 * Every figure is computed fact of the linear model (whipple.ts, response.ts, lane-change.ts); none of them is "feel".
 * Each carries a floor: the difference below which two small figures count as near, so that a torque that happens to
 * pass through zero does not make two bicycles strangers. Floors, speeds and frequencies: own choice, no source; the
 * frequencies span slow path following (2 rad/s) to quick balance (10 rad/s).
 * Not here: compliance, tyres, wobble.
 */
import { capsizeSpeed, characteristic, eigenvalues, weaveSpeed } from './characteristic.ts';
import type { SteerGeometry } from './geometry.ts';
import { type GripLever, handForce } from './grips.ts';
import { LANE_RIDER, type LaneChange, type LaneRider, laneChange } from './lane-change.ts';
import { insist } from './refusal.ts';
import { rollRateGain, steadyTurn, steerStatics } from './response.ts';
import type { WhippleSystem } from './whipple.ts';

export type FigureGroup = 'geometry' | 'stability' | 'turn' | 'response' | 'lane';
export const FIGURE_GROUPS: readonly FigureGroup[] = ['geometry', 'stability', 'turn', 'response', 'lane'];

export interface HandlingFigure {
  /** `turn.hand_force@5`. */
  readonly id: string;
  readonly group: FigureGroup;
  readonly meaning: string;
  readonly unit: string;
  /** m/s; null for figures that belong to no speed. */
  readonly speed: number | null;
  /** Null when the bicycle has no such figure (it never weaves; the rider cannot hold it). Never NaN or infinite. */
  readonly value: number | null;
  readonly floor: number;
}

export interface ProfileOptions {
  /** m/s, each above 0. */
  readonly speeds: readonly number[];
  /** rad/s, each above 0. */
  readonly frequencies: readonly number[];
  /** Of the stated steady turn, m/s². */
  readonly lateralAcceleration: number;
  readonly rider: LaneRider;
}
export const PROFILE_OPTIONS: ProfileOptions = {
  speeds: [3, 5, 7],
  frequencies: [2, 5, 10],
  lateralAcceleration: 1,
  rider: LANE_RIDER,
};

export interface HandlingProfile {
  readonly options: ProfileOptions;
  readonly figures: readonly HandlingFigure[];
  /** One per speed. */
  readonly lanes: readonly LaneChange[];
}

/** What a profile is made of. */
export interface HandlingSubject {
  readonly system: WhippleSystem;
  readonly geometry: SteerGeometry;
  readonly lever: GripLever;
}

/**
 * All figures of one bicycle, always the same list in the same order for the same options.
 * @throws SteerRefusal when there is no speed, or a speed or frequency is not above 0.
 */
export function handlingProfile(subject: HandlingSubject, options: ProfileOptions = PROFILE_OPTIONS): HandlingProfile {
  const { system, geometry, lever } = subject;
  insist(options.speeds.length > 0, 'speeds', 'a profile needs at least one speed');
  for (const x of [...options.speeds, ...options.frequencies, options.lateralAcceleration])
    insist(x > 0 && x < Infinity, 'options', `speeds, frequencies and lateral acceleration must be above 0, got ${x}`);
  const figures: HandlingFigure[] = [];
  const put = (
    group: FigureGroup,
    name: string,
    meaning: string,
    unit: string,
    floor: number,
    value: number | null,
    speed: number | null = null,
  ): void => {
    const id = `${group}.${name}${speed === null ? '' : `@${speed}`}`;
    figures.push({
      id,
      group,
      meaning,
      unit,
      speed,
      floor,
      value: value !== null && Number.isFinite(value) ? value : null,
    });
  };
  const p = characteristic(system);
  const statics = steerStatics(system);
  put('geometry', 'trail', 'trail on the ground', 'm', 0.005, geometry.trail);
  put('geometry', 'mechanical_trail', 'trail square to the steer axis', 'm', 0.005, geometry.mechanicalTrail);
  put('geometry', 'flop', 'wheel flop factor', 'm', 0.002, geometry.flop);
  put('geometry', 'grip_radius', 'grip to steer axis', 'm', 0.02, lever.radius);
  put('geometry', 'grip_reach', 'grip ahead of the steer axis', 'm', 0.1, lever.reach);
  put('stability', 'weave_speed', 'weave speed', 'm/s', 0.5, weaveSpeed(p));
  put('stability', 'capsize_speed', 'capsize speed', 'm/s', 0.5, capsizeSpeed(p));
  put('response', 'static_stiffness', 'steer torque per steer angle at rest', 'N·m/rad', 1, statics.stiffness);
  put(
    'response',
    'roll_authority',
    'roll acceleration per steer torque',
    'rad/s² per N·m',
    0.02,
    statics.rollAuthority,
  );
  put(
    'response',
    'steer_authority',
    'steer acceleration per steer torque',
    'rad/s² per N·m',
    0.5,
    statics.steerAuthority,
  );

  const lanes: LaneChange[] = [];
  const roots = new Float64Array(8);
  for (const v of options.speeds) {
    const growth = eigenvalues(p, v, roots).converged ? roots[0]! : null;
    put('stability', 'growth', 'growth rate of the least stable mode, hands off', '1/s', 1, growth, v);
    const turn = steadyTurn(system, v, (v * v) / options.lateralAcceleration);
    const hand = handForce(turn.torque, lever).least * Math.sign(turn.torque);
    put('turn', 'torque', 'steer torque per steer angle in a steady turn', 'N·m/rad', 1, turn.torquePerSteer, v);
    put('turn', 'lean', 'lean per steer angle in a steady turn', '1', 0.2, turn.leanPerSteer, v);
    put('turn', 'hand_force', 'force per hand in the stated turn; negative holds against the turn', 'N', 1, hand, v);
    for (const f of options.frequencies)
      put(
        'response',
        `roll_rate_${f}`,
        `roll rate per steer torque at ${f} rad/s`,
        'rad/s per N·m',
        0.005,
        rollRateGain(system, v, f).size,
        v,
      );
    const lane = laneChange(system, v, options.rider);
    lanes.push(lane);
    put('lane', 'hand_force', 'largest force per hand', 'N', 1, handForce(lane.peakTorque, lever).least, v);
    put('lane', 'rms_torque', 'root mean square steer torque', 'N·m', 0.1, lane.rmsTorque, v);
    put('lane', 'steer', 'largest steer angle', 'rad', 0.005, lane.peakSteer, v);
    put('lane', 'steer_rate', 'largest steer rate', 'rad/s', 0.01, lane.peakSteerRate, v);
    put('lane', 'roll_rate', 'largest roll rate', 'rad/s', 0.01, lane.peakRollRate, v);
    put('lane', 'path_error', 'root mean square distance from the path', 'm', 0.01, lane.pathError, v);
  }
  return { options, figures, lanes };
}
