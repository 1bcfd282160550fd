/**
 * Does the folded package fit a place: margins in three directions, the attitude and the yaw that give the best of them.
 *
 * Method: for each attitude in which the package may be stowed (a given upward axis), its height is h(u) + h(−u) and its
 * plan is the convex shadow along u; the yaw with the largest least margin is found by branch and bound over the support
 * angles (`shadow`), so the margin is within `SPACE_TOLERANCE` of the best one at any yaw. Attitudes are compared by least margin.
 * A box takes the package from any side; an opening also asks for a way in (`opening` says what is proven for each).
 * Sizes that are only estimated come in as two solids: the margin is then an interval, each end with its own best yaw.
 * Assumptions: rigid package, walls flat and square, the same clearance in each direction, both sides together.
 * Source: rotating support lines after Toussaint 1983 (Solving geometric problems with the rotating calipers), carried
 * over to round shapes by the sinusoid bounds named in `bound-search`.
 * Not here: upward axes between the given ones (a package propped up askew), settling (`stand`), bags and covers.
 */
import { cross, dot, unit, type Vec3 } from '../math/rigid.ts';
import { type Approach, approachMargin, type EntryKind, rolledEntry, SPACE_TOLERANCE } from './opening.ts';
import { bestTurn, shadowOf } from './shadow.ts';
import { type Solid, solidExtent } from './solid.ts';

export type Place =
  | {
      readonly kind: 'box';
      /** Length, width, height; Infinity where it is open. */
      readonly size: Vec3;
      /** Room asked for in each direction, both sides together. */
      readonly clearance?: number;
    }
  | {
      readonly kind: 'opening';
      /** Width, height. */
      readonly opening: readonly [number, number];
      readonly depth: number;
      /** Width and height behind the opening where they are larger. */
      readonly room?: readonly [number, number];
      readonly approach?: Approach;
      readonly clearance?: number;
      /** Largest roll about the push axis that may be used to get in, rad. Default 20°. */
      readonly roll?: number;
    };

/** An attitude in which the package may be stowed: its name and the unit axis of the package that points up. */
export interface Attitude {
  readonly name: string;
  readonly up: Vec3;
}

export interface FitOptions {
  /** Unit vector towards the chain's side of the package. */
  readonly chainSide?: Vec3;
  /** Refuse attitudes in which the chain's side does not face up (within 45°): the side that is down lies on the wet floor. */
  readonly cleanSideUp?: boolean;
}

export interface PlaceFit {
  readonly fits: boolean;
  /** Least margin, m, over all directions, beyond the clearance asked for. */
  readonly margin: number;
  readonly binding: 'along' | 'across' | 'up' | 'turn';
  /** Margin before clearance in each direction: along the depth (or length), across, up; and of the turn on the way in (Infinity: none needed). */
  readonly margins: { readonly along: number; readonly across: number; readonly up: number; readonly turn: number };
  readonly extents: { readonly along: number; readonly across: number; readonly up: number };
  readonly attitude: string;
  readonly up: Vec3;
  /** Package direction that points along the depth (or length). */
  readonly along: Vec3;
  readonly entry: EntryKind;
  /** Roll about the push axis while passing the opening, rad. */
  readonly roll: number;
  /** Proven: without rolling no yaw in this attitude has a margin above the one at the best yaw plus this. */
  readonly gap: number;
  readonly refused: readonly { readonly attitude: string; readonly reason: 'chain side not up' }[];
}

const COS_45 = Math.SQRT1_2;
const DEFAULT_ROLL = (20 * Math.PI) / 180;
/** Directions of push tried for a rolled entry when the straight one fails: every 5°. */
const ROLL_DIRECTIONS = 36;

/** The six attitudes by name. `lateral` is the package's left, `standing` its up when it stands; units, not parallel. */
export function attitudes(lies: 'flat' | 'standing' | 'any', lateral: Vec3, standing: Vec3): readonly Attitude[] {
  const minus = (v: Vec3): Vec3 => [-v[0], -v[1], -v[2]];
  const flat: Attitude[] = [
    { name: 'on its left side', up: minus(lateral) },
    { name: 'on its right side', up: lateral },
  ];
  if (lies === 'flat') return flat;
  if (lies === 'standing') return [{ name: 'standing', up: standing }];
  const ahead = unit(cross(lateral, standing));
  return [
    ...flat,
    { name: 'standing', up: standing },
    { name: 'upside down', up: minus(standing) },
    { name: 'nose up', up: ahead },
    { name: 'nose down', up: minus(ahead) },
  ];
}

type One = Omit<PlaceFit, 'refused' | 'fits' | 'margin' | 'binding'>;

const leastOf = (m: PlaceFit['margins']): number => Math.min(m.along, m.across, m.up, m.turn);
const bindingOf = (m: PlaceFit['margins']): PlaceFit['binding'] =>
  (['along', 'across', 'up', 'turn'] as const).reduce((a, b) => (m[b] < m[a] ? b : a));

function fitAttitude(solid: Solid, place: Place, attitude: Attitude): One {
  const { up: u } = attitude;
  const shadow = shadowOf(solid, u);
  const up = solidExtent(solid, u);
  const [length, width, height] =
    place.kind === 'box'
      ? place.size
      : [
          place.depth,
          Math.min(place.opening[0], place.room?.[0] ?? Infinity),
          Math.min(place.opening[1], place.room?.[1] ?? Infinity),
        ];
  const approach = place.kind === 'opening' ? place.approach : undefined;
  const opening = place.kind === 'opening' ? place.opening : undefined;
  const into = (along: number, across: number): { margin: number; turned: boolean } =>
    approach && opening ? approachMargin(approach, opening, along, across, up) : { margin: Infinity, turned: false };
  const best = bestTurn(
    shadow,
    0,
    Math.PI,
    (along, across) => Math.max(along - length, across - width, -into(along, across).margin),
    SPACE_TOLERANCE,
  );
  const w = shadow.width(best.at);
  const way = into(w.along, w.across);
  const straight: One = {
    margins: { along: length - w.along, across: width - w.across, up: height - up, turn: way.margin },
    extents: { along: w.along, across: w.across, up },
    attitude: attitude.name,
    up: u,
    along: shadow.direction(best.at),
    entry: way.turned ? 'turned' : 'straight',
    roll: 0,
    gap: best.residual,
  };
  if (place.kind === 'box' || leastOf(straight.margins) >= (place.clearance ?? 0)) return straight;

  // Rolled about the push axis: directions of push are sampled, the roll at each is proven. Half turns differ only in name.
  let chosen = straight;
  for (let k = -1; k < ROLL_DIRECTIONS; k++) {
    const yaw = k < 0 ? best.at : (Math.PI * k) / ROLL_DIRECTIONS;
    const { along, across } = shadow.width(yaw);
    const { margin: turn, turned } = into(along, across);
    const reach = Math.min(length - along, turn);
    if (turned || reach <= leastOf(chosen.margins)) continue;
    const push = shadow.direction(yaw);
    const side = shadow.direction(yaw + Math.PI / 2);
    const tolerance = k < 0 ? SPACE_TOLERANCE : 1e-4;
    const { opening: o, room } = place;
    const rolled = rolledEntry(solid, push, side, u, o, room, place.roll ?? DEFAULT_ROLL, tolerance);
    if (Math.min(reach, rolled.margin) <= leastOf(chosen.margins)) continue;
    chosen = {
      ...straight,
      margins: {
        along: length - along,
        across: Math.min(o[0] - rolled.across, (room?.[0] ?? Infinity) - across),
        up: Math.min(o[1] - rolled.up, (room?.[1] ?? Infinity) - up),
        turn: Math.min(
          turn,
          rolled.margin < Math.min(o[0] - rolled.across, o[1] - rolled.up) ? rolled.margin : Infinity,
        ),
      },
      extents: { along, across: rolled.across, up: rolled.up },
      along: push,
      entry: 'rolled',
      roll: rolled.roll,
    };
  }
  return chosen;
}

/**
 * The best way to stow `solid` in `place` among the given attitudes.
 * @throws RangeError for an empty solid, or when no attitude is given.
 */
export function fitPlace(
  solid: Solid,
  place: Place,
  given: readonly Attitude[],
  options: FitOptions = {},
): PlaceFit | { readonly fits: false; readonly margin: undefined; readonly refused: PlaceFit['refused'] } {
  if (given.length === 0) throw new RangeError('no attitude to stow the package in');
  const refused: { attitude: string; reason: 'chain side not up' }[] = [];
  const clearance = place.clearance ?? 0;
  let best: One | undefined;
  for (const attitude of given) {
    if (options.cleanSideUp && options.chainSide && dot(options.chainSide, attitude.up) < COS_45) {
      refused.push({ attitude: attitude.name, reason: 'chain side not up' });
      continue;
    }
    const one = fitAttitude(solid, place, attitude);
    if (!best || leastOf(one.margins) > leastOf(best.margins)) best = one;
  }
  if (!best) return { fits: false, margin: undefined, refused };
  const margin = leastOf(best.margins) - clearance;
  return { ...best, fits: margin >= 0, margin, binding: bindingOf(best.margins), refused };
}

export interface PlaceFitInterval {
  /** With estimated hardware at its largest: what may be promised. */
  readonly largest: ReturnType<typeof fitPlace>;
  /** With estimated hardware at its smallest. */
  readonly smallest: ReturnType<typeof fitPlace>;
}

/** Margins as an interval for a package whose hardware is only estimated: `largest` must contain `smallest`. */
export const fitPlaceInterval = (
  largest: Solid,
  smallest: Solid,
  place: Place,
  given: readonly Attitude[],
  options: FitOptions = {},
): PlaceFitInterval => ({
  largest: fitPlace(largest, place, given, options),
  smallest: fitPlace(smallest, place, given, options),
});
