/**
 * Power to ride: air, rolling, bearings, slope and acceleration, and the losses of the drive.
 *
 *   P Ec = ½ρ (CdA + Fw) Va |Va| Vg + Vg cos(atan G) Crr m g + Vg (91 + 8.7 Vg) 10⁻³ + Vg m g sin(atan G)
 *          + ½ (m + I/r²)(Vf² − Vi²)/Δt
 *
 *   paper    here                        paper   here
 *   CdA, Fw  dragArea, wheelDragArea     G       grade (rise over run)
 *   Va, Vg   air, ground speed           I, r    wheelInertia (both wheels together), wheelRadius
 *   Crr      rolling                     Ec      efficiency
 *
 * Source: J. C. Martin, D. L. Milliken, J. E. Cobb, K. L. McFadden, A. R. Coggan: Validation of a mathematical model for
 * road cycling power, J. Appl. Biomech. 14 (1998) 276–291 (measured against modelled R² = 0.97, standard error 2.7 W).
 * The rider's air is the ground speed plus the wind's part along the way; |Va| keeps the sign of a wind from behind. Its part
 * across is not in it but for the yaw angle that is reported.
 * Ec divides only where power flows to the wheel: downhill the rider coasts and the rest is for the brakes.
 * SI. Range: dry, even road, riders who sit; drag areas from wind tunnels or coasting. Not here: bends, drafting, gusts,
 * tyres that slip.
 */
import { STANDARD_GRAVITY } from '../math/constants.ts';

export interface RoadLoad {
  /** Bicycle, rider and luggage, kg. */
  readonly mass: number;
  /** Rise over run; negative downhill. 0 if absent. */
  readonly grade?: number;
  readonly rolling: number;
  /** m². */
  readonly dragArea: number;
  /** Drag of the turning wheels, m²; 0 if absent. */
  readonly wheelDragArea?: number;
  /** kg/m³; 1.2 if absent. */
  readonly airDensity?: number;
  /** Wind speed (m/s), where it comes from and where the bicycle goes to (rad, clockwise from north). */
  readonly wind?: { readonly speed: number; readonly from: number; readonly heading: number };
  /** Both wheels together, kg·m², and their radius, m: for changes of speed. */
  readonly wheelInertia?: number;
  readonly wheelRadius?: number;
  /** Wheel power over pedal power; 1 if absent. */
  readonly efficiency?: number;
  /** Bearing friction (a + b Vg) as a force, N and N·s/m; Martin's 0.091 and 0.0087 if absent. */
  readonly bearing?: readonly [number, number];
  /** m/s²; standard gravity if absent. The paper takes 9.81. */
  readonly gravity?: number;
}
/** All in W; the sum of the parts is `wheel`. */
export interface RoadPower {
  readonly air: number;
  readonly rolling: number;
  readonly bearing: number;
  readonly grade: number;
  readonly kinetic: number;
  /** At the driven wheel; negative where brakes or speed take it up. */
  readonly wheel: number;
  /** At the pedals: wheel over efficiency, 0 where the wheel needs nothing. */
  readonly pedals: number;
  /** Between the air that the rider meets and the way, rad. */
  readonly yaw: number;
}
/** A change from one speed to another within a time, m/s and s. */
export interface SpeedChange {
  readonly from: number;
  readonly to: number;
  readonly seconds: number;
}

export const AIR_DENSITY = 1.2;
export const BEARING_DRAG = [0.091, 0.0087] as const;

/** @throws RangeError for a mass or an efficiency that is not above 0, an efficiency above 1, or a negative drag. */
export function insistRoad(load: RoadLoad): void {
  const wrong = (what: string, value: number): never => {
    throw new RangeError(`${what}: ${value} is impossible`);
  };
  const { mass, rolling, dragArea, efficiency = 1, airDensity = AIR_DENSITY, grade = 0, wheelDragArea = 0 } = load;
  if (!(mass > 0 && mass < Infinity)) wrong('mass', mass);
  if (!(rolling >= 0 && rolling < 1)) wrong('rolling resistance', rolling);
  if (!(dragArea >= 0 && dragArea < Infinity)) wrong('drag area', dragArea);
  if (!(wheelDragArea >= 0 && wheelDragArea < Infinity)) wrong('drag area of the wheels', wheelDragArea);
  if (!(airDensity >= 0 && airDensity < Infinity)) wrong('air density', airDensity);
  if (!(efficiency > 0 && efficiency <= 1)) wrong('efficiency', efficiency);
  if (!Number.isFinite(grade)) wrong('grade', grade);
}

/** Cosine and sine of the slope's angle. */
export const slopeOf = (grade: number): readonly [cos: number, sin: number] => {
  const cos = 1 / Math.sqrt(1 + grade * grade);
  return [cos, grade * cos];
};

/** Air met along the way (m/s; negative when it pushes) and across it. */
export function airSpeed(ground: number, wind: RoadLoad['wind']): readonly [along: number, across: number] {
  if (!wind) return [ground, 0];
  const angle = wind.from - wind.heading;
  return [ground + wind.speed * Math.cos(angle), wind.speed * Math.sin(angle)];
}

/** Force against the bicycle at a ground speed, N, without bearings and acceleration of the wheels. */
export function roadForce(load: RoadLoad, speed: number): number {
  const [cos, sin] = slopeOf(load.grade ?? 0);
  const [along] = airSpeed(speed, load.wind);
  const [a, b] = load.bearing ?? BEARING_DRAG;
  const k = 0.5 * (load.airDensity ?? AIR_DENSITY) * (load.dragArea + (load.wheelDragArea ?? 0));
  const weight = load.mass * (load.gravity ?? STANDARD_GRAVITY);
  return k * along * Math.abs(along) + weight * (cos * load.rolling + sin) + a + b * speed;
}

/** Power at a steady ground speed (m/s, 0 or more), or over a change of speed around it. @throws RangeError as `insistRoad`. */
export function roadPower(load: RoadLoad, speed: number, change?: SpeedChange): RoadPower {
  insistRoad(load);
  if (!(speed >= 0 && speed < Infinity)) throw new RangeError(`speed: ${speed} m/s is impossible`);
  const [cos, sin] = slopeOf(load.grade ?? 0);
  const [along, across] = airSpeed(speed, load.wind);
  const [a, b] = load.bearing ?? BEARING_DRAG;
  const k = 0.5 * (load.airDensity ?? AIR_DENSITY) * (load.dragArea + (load.wheelDragArea ?? 0));
  const weight = load.mass * (load.gravity ?? STANDARD_GRAVITY);
  const air = k * along * Math.abs(along) * speed;
  const rolling = cos * load.rolling * weight * speed;
  const bearing = speed * (a + b * speed);
  const grade = weight * sin * speed;
  const r = load.wheelRadius ?? 0;
  const moving = load.mass + (r > 0 ? (load.wheelInertia ?? 0) / (r * r) : 0);
  const kinetic = change ? (0.5 * moving * (change.to * change.to - change.from * change.from)) / change.seconds : 0;
  const wheel = air + rolling + bearing + grade + kinetic;
  return {
    air,
    rolling,
    bearing,
    grade,
    kinetic,
    wheel,
    pedals: Math.max(0, wheel) / (load.efficiency ?? 1),
    yaw: Math.atan2(across, along),
  };
}
