/** What the brief says that a computation needs, in SI and with every gap filled by a stated default. */
import {
  type BikeClass,
  CASE_IDS,
  type CaseFigure,
  type CaseId,
  caseFigures,
  type FigureValues,
  type Rider,
  USE_FIGURES,
} from '#kernel';
import { type Brief, type GivenFigures, parseUnit, type Space } from '#project';

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

/** What frame, fork, bar and post must carry, as the kernel's load cases read it: edits in the units of their tables (mm, N, kg). */
export interface LoadSetting {
  readonly class: BikeClass;
  readonly cases: Readonly<Partial<Record<CaseId, FigureValues>>>;
  readonly use: FigureValues;
}

export interface PeopleSetting
  extends Pick<Brief['riders'], 'women' | 'public' | 'female' | 'male' | 'sample' | 'seed' | 'hands' | 'limits'> {
  /** Greatest rider's mass that the bicycle is rated for, kg. */
  readonly rating: number;
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
  readonly loads: LoadSetting;
  /** Who shall ride it and lift it. */
  readonly people: PeopleSetting;
  /** The way from door to door. */
  readonly journey: Brief['trip'];
  /** Where it is sold: `EU`, `US`, …; '' where the brief does not say. */
  readonly region: string;
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
    loads: loadSetting(brief),
    people: { ...riders, rating: riders.heaviest },
    journey: trip,
    region: brief.market.region,
    spaces: brief.spaces.map(spaceSetting),
  };
}

function loadSetting({ loads }: Brief): LoadSetting {
  const cases: Partial<Record<CaseId, FigureValues>> = {};
  for (const id of CASE_IDS) {
    const given = loads.cases[id];
    if (given) cases[id] = inTableUnits(caseFigures(id), given);
  }
  return { class: loads.class, cases, use: inTableUnits(USE_FIGURES, loads.use) };
}

/** SI → the table's units, once. Twelve digits: 90 deg stays 90 and inside a range that ends there. */
const inTableUnits = (list: readonly CaseFigure[], given: GivenFigures): FigureValues =>
  Object.fromEntries(
    list.flatMap(({ key, unit }) => {
      const value = given[key];
      return value === undefined ? [] : [[key, Number((value / parseUnit(unit)!.factor).toPrecision(12))]];
    }),
  );

function spaceSetting(space: Space): SpaceSetting {
  const common = { name: space.name, cleanSideUp: false, slope: 0, jerk: 0, margin: 0, lies: 'any' as const };
  if (space.kind === 'stand')
    return { ...common, kind: 'stand', footprint: space.footprint, slope: space.slope, jerk: space.jerk };
  const stowed = { ...common, margin: space.margin, lies: space.lies, cleanSideUp: space.chainSideUp };
  return space.kind === 'opening'
    ? { ...stowed, kind: 'opening', opening: [space.width, space.height], depth: space.depth }
    : { ...stowed, kind: 'box', box: space.size };
}
