/**
 * The bench check of a centre of mass: a bicycle on two scales, level and with its front raised.
 *
 * Method: moments about the rear support. Level: x = R_f L / W. Front raised by the angle α about the rear support:
 * h − r = (R_f − R_f') L / (W tan α), with both supports under the axles at height r, and R_f' the front reading
 * when raised. Source: theory (vehicle practice). Units SI.
 * Not here: lateral position, friction of the supports.
 */

export interface AxleReadings {
  /** Distance of the supports along the level ground. */
  readonly wheelbase: number;
  /** Total weight and front reading, level; N. */
  readonly weight: number;
  readonly front: number;
  /** Front reading with the front raised by `tilt` (rad) about the rear axle. */
  readonly frontRaised: number;
  readonly tilt: number;
  /** 1-sigma of one reading; N. */
  readonly reading: number;
}
export interface BenchCom {
  /** Ahead of the rear axle, and above the line of the axles; m. */
  readonly x: number;
  readonly height: number;
  /** 1-sigma of the height from the two readings. */
  readonly heightSigma: number;
}

/** Centre of mass from axle readings. @throws RangeError when nothing was tilted or nothing weighs anything. */
export function comFromAxles(r: AxleReadings): BenchCom {
  if (!(r.weight > 0 && r.wheelbase > 0)) throw new RangeError('weight and wheelbase must be positive');
  if (!(Math.abs(Math.tan(r.tilt)) > 1e-6)) throw new RangeError('the front must be raised');
  const lever = r.wheelbase / (r.weight * Math.tan(r.tilt));
  return {
    x: (r.front * r.wheelbase) / r.weight,
    height: (r.front - r.frontRaised) * lever,
    heightSigma: Math.sqrt(2) * r.reading * lever,
  };
}
