/** Bounds of the stopping way on the brief's descent at its speed: the worst rider of the pitch-over, dry and wet. */
import {
  ADHESION,
  BRAKE_TESTS,
  type BrakePlace,
  type BrakeTest,
  type BrakeWheels,
  BUILD_UP,
  type Deceleration,
  mostDeceleration,
  REACTION,
  type Stop,
  slopeOf,
  stopFrom,
  testDeceleration,
} from '#kernel';
import type { Setting } from '../setting.ts';
import type { SteerResult } from './steer.ts';

export interface RoadBraking {
  readonly adhesion: number;
  readonly buildUp: number;
  /** What road and wheelbase allow, by the wheels that brake. */
  readonly most: Readonly<Record<BrakeWheels, Deceleration>>;
  /** The way that none can undercut, and that with one brake at its best. */
  readonly best: Readonly<Record<BrakeWheels, Stop>>;
  /** With brakes that just pass the standard's test. */
  readonly test: BrakeTest;
  readonly tested: number;
  readonly passing: Stop;
}
export interface BrakingResult {
  readonly place: BrakePlace;
  readonly speed: number;
  /** m/s²: g sin θ, negative downhill. */
  readonly slope: number;
  readonly dry: RoadBraking;
  readonly wet: RoadBraking;
}

const WHEELS: readonly BrakeWheels[] = ['both', 'front', 'rear'];
const each = <T>(make: (w: BrakeWheels) => T): Record<BrakeWheels, T> =>
  Object.fromEntries(WHEELS.map((w) => [w, make(w)])) as Record<BrakeWheels, T>;

export function runBraking(steer: SteerResult, setting: Setting): BrakingResult {
  const { total, rearX, frontX, gravity } = steer.pitchLoad;
  const place: BrakePlace = {
    wheelbase: frontX - rearX,
    ahead: total.com[0] - rearX,
    height: total.com[2],
    lift: steer.pitchOver.deceleration,
    gravity,
  };
  const grade = -setting.descent;
  const slope = gravity * slopeOf(grade)[1];
  const speed = setting.speed;
  const on = (road: 'dry' | 'wet'): RoadBraking => {
    const adhesion = ADHESION[road];
    const buildUp = BUILD_UP[road];
    const most = each((w) => mostDeceleration(place, adhesion, grade, w));
    const id = road === 'wet' ? 'iso_wet' : setting.region === 'US' ? 'us_dry' : 'iso_dry';
    const test = BRAKE_TESTS.find((t) => t.id === id)!;
    // The force that passes on the level; the road, or the rear wheel, may allow no more than the bound.
    const tested = Math.min(testDeceleration(test) + slope, most.both.value);
    return {
      adhesion,
      buildUp,
      most,
      best: each((w) => stopFrom(speed, most[w].value, REACTION, buildUp, slope)),
      test,
      tested,
      passing: stopFrom(speed, tested, REACTION, buildUp, slope),
    };
  };
  return { place, speed, slope, dry: on('dry'), wet: on('wet') };
}
