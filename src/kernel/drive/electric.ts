/**
 * Electric assistance: what the law calls a bicycle, how far the battery reaches, what may fly.
 *
 * Limits are data with their sources. The verdict compares the figures that a candidate states; that the motor keeps them is for
 * a type test to show.
 * Range: the motor gives a/(1 + a) of the power at the wheel (a: motor over rider) up to its continuous power and not
 * beyond the speed where assistance ends; the battery gives that over the efficiency of controller and motor. No energy
 * comes back downhill. Usable share and cold: defaults, from memory.
 * SI, but Wh for batteries. Not here: ageing (500 to 1000 cycles are usual), heat on long climbs, lights.
 */
export interface MotorFigures {
  /** Continuous rated power, W. */
  readonly power: number;
  /** Speed at which assistance ends, m/s. */
  readonly assistsTo: number;
  /** Speed that the motor gives without pedalling, m/s; 0: none. */
  readonly walksAt: number;
  readonly volts: number;
  /** Drives without pedalling beyond walking speed. */
  readonly throttle: boolean;
}
export interface LegalRule {
  readonly id: 'power' | 'speed' | 'walk' | 'volts' | 'throttle';
  readonly meaning: string;
  readonly unit: 'W' | 'm/s' | 'V' | '';
  readonly limit: number;
  /** The limit itself is not allowed. */
  readonly below: boolean;
  readonly source: string;
  readonly standing: 'published' | 'memory';
}
const KMH = 1 / 3.6;
const MPH = 0.44704;
const EN = 'EN 15194:2017, scope';
export const LEGAL_RULES: Readonly<Record<'EU' | 'US', readonly LegalRule[]>> = {
  EU: [
    {
      id: 'power',
      meaning: 'continuous rated power',
      unit: 'W',
      limit: 250,
      below: false,
      source: EN,
      standing: 'published',
    },
    {
      id: 'speed',
      meaning: 'assistance ends',
      unit: 'm/s',
      limit: 25 * KMH,
      below: false,
      source: EN,
      standing: 'published',
    },
    {
      id: 'volts',
      meaning: 'rated voltage, direct current',
      unit: 'V',
      limit: 48,
      below: false,
      source: `${EN}, from memory`,
      standing: 'memory',
    },
    {
      id: 'walk',
      meaning: 'start-up and walking help',
      unit: 'm/s',
      limit: 6 * KMH,
      below: false,
      source: 'EN 15194, from memory',
      standing: 'memory',
    },
    {
      id: 'throttle',
      meaning: 'drives on when pedalling stops',
      unit: '',
      limit: 0,
      below: false,
      source: EN,
      standing: 'published',
    },
  ],
  US: [
    {
      id: 'power',
      meaning: 'motor power',
      unit: 'W',
      limit: 750,
      below: true,
      source: '16 CFR 1512.2(a)(2)',
      standing: 'published',
    },
    {
      id: 'speed',
      meaning: 'speed by the motor alone',
      unit: 'm/s',
      limit: 20 * MPH,
      below: true,
      source: '16 CFR 1512.2(a)(2)',
      standing: 'published',
    },
  ],
};
export type LegalRegion = keyof typeof LEGAL_RULES;

export interface LegalVerdict {
  readonly rule: LegalRule;
  readonly value: number;
  readonly holds: boolean;
}
const figureOf = (m: MotorFigures, id: LegalRule['id']): number =>
  ({ power: m.power, speed: m.assistsTo, walk: m.walksAt, volts: m.volts, throttle: m.throttle ? 1 : 0 })[id];
/** A figure typed as 25 km/h is 25 km/h. */
const ROUNDING = 1e-9;

export const legalVerdicts = (m: MotorFigures, region: LegalRegion): readonly LegalVerdict[] =>
  LEGAL_RULES[region].map((rule) => {
    const value = figureOf(m, rule.id);
    const most = rule.limit * (1 + ROUNDING);
    return { rule, value, holds: rule.below ? value < rule.limit : value <= most };
  });

/** Wh of a battery as baggage in the air; from memory: rules of the air carriers, ask the one that flies. */
export const AIR_FREE = 100;
export const AIR_WITH_APPROVAL = 160;
export type AirTravel = 'free' | 'with the carrier’s approval' | 'refused';
export const airTravel = (energy_Wh: number): AirTravel =>
  energy_Wh <= AIR_FREE ? 'free' : energy_Wh <= AIR_WITH_APPROVAL ? 'with the carrier’s approval' : 'refused';

/** Motor and controller together; battery's usable share; what is left of it at 0 °C. From memory. */
export const MOTOR_EFFICIENCY = 0.75;
export const USABLE_SHARE = 0.9;
export const COLD_SHARE = 0.8;
/** Motor over rider, a middle setting; from memory. */
export const USUAL_ASSIST = 1;

export interface Assist {
  readonly rider: number;
  readonly motor: number;
  /** Drawn from the battery, W. */
  readonly battery: number;
  /** The motor is at its continuous power. */
  readonly saturated: boolean;
}
/** How a power demanded at the pedals (W) is shared at a speed; the motor counted as if it turned the cranks. */
export function assistAt(
  demand: number,
  speed: number,
  motor: { readonly power: number; readonly assistsTo: number; readonly assist: number; readonly efficiency?: number },
): Assist {
  const { power, assistsTo, assist, efficiency = MOTOR_EFFICIENCY } = motor;
  if (!(demand > 0) || speed > assistsTo * (1 + ROUNDING))
    return { rider: Math.max(0, demand), motor: 0, battery: 0, saturated: false };
  const wished = (demand * assist) / (1 + assist);
  const given = Math.min(power, wished);
  return { rider: demand - given, motor: given, battery: given / efficiency, saturated: given < wished };
}

/** m for a battery of so many Wh at a draw per way (J/m). */
export const batteryRange = (energy_Wh: number, drawPerMetre: number, usable = USABLE_SHARE): number =>
  (energy_Wh * 3600 * usable) / drawPerMetre;
