/**
 * The give of a tube's wall under the end of another one, as end compliance of the beam model.
 *
 * Axes at the weld: along the tube that ends, in the plane of both tubes, out of it. Bending in the plane turns about the
 * third axis. Shear across the weld and twist about the ending tube are left rigid: the published formulas have none.
 * Two tubes that run nearly along each other have no plane and are lapped, not standing: no give.
 * Source: `check/tube-wall.ts`. Units: mm, N, MPa, rad.
 */
import { cross, dot, norm, scale, sub, unit, type Vec3 } from '../../math/rigid.ts';
import { tubeWallFlex } from '../check/index.ts';
import type { EndFlex } from '../structure.ts';
import type { FrameTube, TubeEnd } from './parts.ts';

/** Sine of the angle under which tubes are lapped. */
const LAPPED = 0.17;

/** @param away direction of the ending tube; @param along that of the tube on whose side it stands. */
export function wallFlex(
  brace: FrameTube,
  braceSize: TubeEnd,
  chord: FrameTube,
  chordSize: TubeEnd,
  away: Vec3,
  along: Vec3,
): { axes: EndFlex['axes']; compliance: EndFlex['compliance']; outside: readonly string[] } {
  const x = unit(away);
  const inPlane = sub(along, scale(x, dot(along, x)));
  const sine = norm(inPlane) / norm(along);
  const y = sine > LAPPED ? unit(inPlane) : unit(cross(x, Math.abs(x[1]) < 0.9 ? [0, 1, 0] : [1, 0, 0]));
  const axes = [x, y, cross(x, y)] as const;
  if (sine <= LAPPED) return { axes, compliance: [0, 0, 0, 0, 0, 0], outside: [] };
  const flex = tubeWallFlex(
    { shape: chord.shape, ...chordSize },
    { shape: brace.shape, ...braceSize },
    chord.E,
    Math.asin(Math.min(1, sine)),
  );
  return { axes, compliance: [flex.axial, 0, 0, 0, flex.outOfPlane, flex.inPlane], outside: flex.outside };
}
