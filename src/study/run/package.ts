/**
 * The folded bicycle as a thing to stow, stand, roll, carry and trust not to open, and its cables on the way there.
 *
 * Three disciplines, so that a search for room does not wait for cables: `stow`, `handling`, `cables`.
 * Spaces are judged with estimated joint hardware at its largest, which is what may be promised. A standing place is taken with
 * the package as it comes to rest on the shapes that it is meant to stand on.
 */
import {
  attitudes,
  fitPlace,
  type Model,
  type PackageHandling,
  type Place,
  packageHandling,
  slopeMargin,
  standing,
} from '#kernel';
import type { Setting, SpaceSetting } from '../setting.ts';
import type { BoxResult } from './box.ts';

/** Without margin where no attitude is allowed. */
export type StowFit = ReturnType<typeof fitPlace>;
/** By name of the space: those to stow in. */
export type StowResult = ReadonlyMap<string, StowFit>;

export interface StandIn {
  /** rad; negative: it falls over. Undefined where it does not stand on what it is meant to stand on. */
  readonly margin: number | undefined;
  /** Least room on the footprint, m; undefined when the brief sets none. */
  readonly footprint: number | undefined;
}
export interface HandlingResult extends PackageHandling {
  /** By name of the space: those to stand in. */
  readonly stands: ReadonlyMap<string, StandIn>;
}

export function runStow(m: Model, box: BoxResult, setting: Setting): StowResult {
  const { folded, solids, axle } = box;
  const out = new Map<string, StowFit>();
  for (const space of setting.spaces) {
    if (space.kind === 'stand') continue;
    const lies = space.lies === 'upright' ? 'standing' : space.lies;
    // lying flat needs no upward direction of its own
    const rest = lies === 'flat' ? undefined : standing(folded.solid, folded.whole.com, m.standsOn, folded.up).rest;
    const up = rest?.converged ? rest.up : folded.up;
    const options = { ...(folded.chainSide ? { chainSide: folded.chainSide } : {}), cleanSideUp: space.cleanSideUp };
    out.set(space.name, fitPlace(solids.largest, placeOf(space), attitudes(lies, axle, up), options));
  }
  return out;
}

export function runHandling(m: Model, box: BoxResult, setting: Setting): HandlingResult {
  const { folded, solids } = box;
  const handling = packageHandling(m, folded);
  const { rest, tip, asMeant } = handling.standing;
  const up = rest.converged ? rest.up : folded.up;
  const stands = new Map<string, StandIn>();
  for (const space of setting.spaces) {
    if (space.kind !== 'stand') continue;
    const floor = space.footprint;
    const size = floor && ([Math.max(...floor), Math.min(...floor), Infinity] as const);
    stands.set(space.name, {
      margin: asMeant ? slopeMargin(tip, space.slope, space.jerk) : undefined,
      footprint: size && fitPlace(solids.largest, { kind: 'box', size }, [{ name: 'standing', up }]).margin,
    });
  }
  return { ...handling, stands };
}

function placeOf(space: SpaceSetting): Place {
  return space.kind === 'opening'
    ? { kind: 'opening', opening: space.opening!, depth: space.depth!, clearance: space.margin }
    : { kind: 'box', size: space.box!, clearance: space.margin };
}
