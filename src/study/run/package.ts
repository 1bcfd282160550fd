/**
 * Package discipline: the folded bicycle as a thing to stow, stand, roll, carry and trust not to open.
 *
 * Spaces are judged with estimated joint hardware at its largest (what may be promised) and at its smallest. A standing place
 * is taken with the package as it comes to rest on the shapes that it is meant to stand on.
 */
import {
  attitudes,
  type CableResult,
  fitPlace,
  fitPlaceInterval,
  foldCables,
  type Model,
  type PackageHandling,
  type Place,
  type PlaceFitInterval,
  packageHandling,
  type State,
  slopeMargin,
} from '#kernel';
import type { Setting, SpaceSetting } from '../setting.ts';
import type { BoxResult } from './box.ts';
import type { FoldResult } from './fold.ts';

export interface StandIn {
  readonly kind: 'stand';
  /** rad; negative: it falls over. Undefined where it does not stand on what it is meant to stand on. */
  readonly margin: number | undefined;
  /** Least room on the footprint, m; undefined when the brief sets none. */
  readonly footprint: number | undefined;
}
export interface StowIn {
  readonly kind: 'stow';
  readonly fit: PlaceFitInterval;
}

export interface PackageResult {
  readonly handling: PackageHandling;
  readonly cables: readonly CableResult[];
  readonly spaces: ReadonlyMap<string, StandIn | StowIn>;
}

export function runPackage(m: Model, s: State, fold: FoldResult, box: BoxResult, setting: Setting): PackageResult {
  const { folded, solids, axle } = box;
  const handling = packageHandling(m, folded);
  const { standing } = handling;
  const up = standing.rest.converged ? standing.rest.up : folded.up;
  const spaces = new Map<string, StandIn | StowIn>();
  for (const space of setting.spaces) {
    if (space.kind === 'stand') {
      const room = space.footprint;
      const plan =
        room &&
        fitPlace(solids.largest, { kind: 'box', size: [Math.max(...room), Math.min(...room), Infinity] }, [
          { name: 'standing', up },
        ]);
      spaces.set(space.name, {
        kind: 'stand',
        margin: standing.asMeant ? slopeMargin(standing.tip, space.slope, space.jerk) : undefined,
        footprint: plan?.margin,
      });
      continue;
    }
    const lies = space.lies === 'upright' ? 'standing' : space.lies;
    const fit = fitPlaceInterval(solids.largest, solids.smallest, placeOf(space), attitudes(lies, axle, up), {
      ...(folded.chainSide ? { chainSide: folded.chainSide } : {}),
      cleanSideUp: space.cleanSideUp,
    });
    spaces.set(space.name, { kind: 'stow', fit });
  }
  return { handling, cables: foldCables(m, s, fold.plan), spaces };
}

function placeOf(space: SpaceSetting): Place {
  return space.kind === 'opening'
    ? { kind: 'opening', opening: space.opening!, depth: space.depth!, clearance: space.margin }
    : { kind: 'box', size: space.box!, clearance: space.margin };
}
