/** The motor of a candidate: law, consumption on the brief's way, range, air travel. */
import {
  ADHESION,
  type AirTravel,
  airTravel,
  batteryRange,
  COLD_SHARE,
  type DriveMotor,
  type Helped,
  type LegalRegion,
  type LegalVerdict,
  legalVerdicts,
  type Model,
  type MotorFigures,
  RIDER_POWER,
  type Ridden,
  type RoadLoad,
  ridden,
  STANDARD_GRAVITY,
  type State,
  slopeOf,
  wheelLoads,
} from '#kernel';
import type { Setting } from '../setting.ts';
import type { SteerResult } from './steer.ts';

export interface MotorResult {
  readonly place: DriveMotor['place'];
  readonly figures: MotorFigures;
  readonly helped: Helped;
  readonly region: LegalRegion;
  readonly law: readonly LegalVerdict[];
  /** Wh; 0 where there is no battery among the parts. */
  readonly battery: number;
  readonly flat: Ridden;
  readonly climb: Ridden | undefined;
  /** J of the battery per m of the brief's way. */
  readonly perMetre: number;
  /** m; Infinity where nothing is drawn. */
  readonly range: number;
  readonly rangeCold: number;
  readonly air: AirTravel;
  /** A motor in the front wheel pulling up the steepest street: its thrust, and what the wet road holds there, N. */
  readonly grip: { readonly thrust: number; readonly wet: number } | undefined;
}

export function runMotor(
  motor: DriveMotor,
  m: Model,
  s: State,
  setting: Setting,
  load: RoadLoad,
  steer: SteerResult | undefined,
): MotorResult {
  const figures: MotorFigures = {
    power: s.value[motor.power]!,
    assistsTo: s.value[motor.assistsTo]!,
    walksAt: s.value[motor.walksAt]!,
    volts: motor.volts,
    throttle: motor.throttle,
  };
  const region: LegalRegion = setting.region === 'US' ? 'US' : 'EU';
  const battery = motor.batteries.reduce((sum, i) => sum + s.value[i]!, 0);
  // without a battery it is dead weight
  const helped: Helped = {
    power: battery > 0 ? figures.power : 0,
    assistsTo: figures.assistsTo,
    assist: s.value[motor.assist]!,
  };
  const body = setting.usual.mass;
  const flat = ridden(load, RIDER_POWER.everyday * body, setting.speed, helped);
  const climb =
    setting.climb > 0
      ? ridden({ ...load, grade: setting.climb }, RIDER_POWER.minutes * body, setting.speed, helped)
      : undefined;
  const { distance, climbLength } = setting.journey;
  const up = climb ? climbLength : 0;
  const drawn = flat.battery / flat.speed;
  const perMetre =
    distance > 0 && climb ? ((distance - up) * drawn + up * (climb.battery / climb.speed)) / distance : drawn;
  const range = perMetre > 0 ? batteryRange(battery, perMetre) : Number.POSITIVE_INFINITY;
  return {
    place: motor.place,
    figures,
    helped,
    region,
    law: legalVerdicts(figures, region),
    battery,
    flat,
    climb,
    perMetre,
    range,
    rangeCold: range * COLD_SHARE,
    air: airTravel(battery),
    grip:
      climb && steer && motor.station === m.wheels.front.station
        ? {
            thrust: (climb.motor * (load.efficiency ?? 1)) / climb.speed,
            wet:
              ADHESION.wet *
              wheelLoads(steer.pitchLoad, setting.climb).frontShare *
              load.mass *
              STANDARD_GRAVITY *
              slopeOf(setting.climb)[0],
          }
        : undefined,
  };
}
