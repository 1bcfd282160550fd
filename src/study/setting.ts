/** What the brief says that a computation needs, in SI and with every gap filled by a stated default. */
import type { Rider } from '#kernel';
import type { Brief, Space } from '#project';

export interface SpaceSetting {
  readonly name: string;
  readonly kind: 'box' | 'opening' | 'stand';
  /** m: opening width and height, then the depth behind it; or the box; or the footprint. */
  readonly opening?: readonly [number, number];
  readonly depth?: number;
  readonly box?: readonly [number, number, number];
  readonly footprint?: readonly [number, number];
  readonly margin: number;
  readonly lies: 'flat' | 'upright' | 'any';
  readonly cleanSideUp: boolean;
  /** rad; and g. */
  readonly slope: number;
  readonly jerk: number;
}

export interface Setting {
  readonly usual: Rider;
  readonly shortest: Rider;
  /** The tallest rider at the heaviest mass: worst for pitch-over and for the front load. */
  readonly heaviest: Rider;
  readonly luggage: { readonly mass: number; readonly at: string } | undefined;
  /** Rise over run, and riding speed in m/s. */
  readonly descent: number;
  readonly climb: number;
  readonly speed: number;
  readonly spaces: readonly SpaceSetting[];
}

/** Body mass index of a usual rider, kg/m²: a shorter rider is taken as light as that (default, from memory). */
const SLIGHT_BMI = 21;

/** What the computations read from a brief. */
export function settingOf(brief: Brief): Setting {
  const { riders, trip } = brief;
  return {
    usual: riders.usual,
    shortest: { stature: riders.shortest, mass: SLIGHT_BMI * riders.shortest * riders.shortest, sex: 'female' },
    heaviest: { stature: riders.tallest, mass: riders.heaviest, sex: 'male' },
    luggage: brief.luggage,
    descent: Number.isFinite(trip.descent) ? trip.descent : 0,
    climb: Number.isFinite(trip.climb) ? trip.climb : 0,
    speed: trip.speed,
    spaces: brief.spaces.map(spaceSetting),
  };
}

function spaceSetting(space: Space): SpaceSetting {
  const common = { name: space.name, cleanSideUp: false, slope: 0, jerk: 0, margin: 0, lies: 'any' as const };
  if (space.kind === 'stand')
    return { ...common, kind: 'stand', footprint: space.footprint, slope: space.slope, jerk: space.jerk };
  const stowed = { ...common, margin: space.margin, lies: space.lies, cleanSideUp: space.chainSideUp };
  return space.kind === 'opening'
    ? { ...stowed, kind: 'opening', opening: [space.width, space.height], depth: space.depth }
    : { ...stowed, kind: 'box', box: space.size };
}
