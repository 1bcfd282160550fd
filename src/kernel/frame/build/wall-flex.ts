/** PLACEHOLDER until tube-wall.ts */
import { cross, dot, norm, scale, sub, unit, type Vec3 } from '../../math/rigid.ts';
import type { EndFlex } from '../structure.ts';
import type { FrameTube, TubeEnd } from './parts.ts';
export function wallFlex(
  _b: FrameTube,
  _bs: TubeEnd,
  _c: FrameTube,
  _cs: TubeEnd,
  away: Vec3,
  along: Vec3,
): { axes: EndFlex['axes']; compliance: EndFlex['compliance']; outside?: string } {
  const x = unit(away);
  const q = sub(along, scale(x, dot(along, x)));
  const y = norm(q) > 1e-6 ? unit(q) : unit(cross(x, [0, 1, 0]));
  return { axes: [x, y, cross(x, y)], compliance: [0, 0, 0, 0, 0, 0] };
}
