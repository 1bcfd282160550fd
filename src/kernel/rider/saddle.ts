/**
 * How far a rider raises the saddle, within what the post allows.
 *
 * Method: the saddle moves along the post by `raise` until its top is 0.883 × inseam from the crank's centre; quadratic in
 * `raise`, the upper root. The post's travel and its minimum insertion limit it.
 * Source: see `body-links.ts`. Units SI. Not here: saddle tilt and fore-aft rails.
 */
import { dot, sub, type Vec3 } from '../math/rigid.ts';
import { type Rider, saddleDistance } from './body-links.ts';

export interface SeatPost {
  /** Saddle top in the file's ride posture, and the crank's centre. */
  readonly saddle: Vec3;
  readonly crank: Vec3;
  /** Unit direction in which the saddle rises. */
  readonly up: Vec3;
  /** Lowest and highest raise from the file's posture, m. */
  readonly range: readonly [number, number];
  /** Length inside the frame in the file's posture, and the least that the mark allows; m. */
  readonly insertion?: { readonly now: number; readonly least: number };
}
export interface SaddleSetting {
  /** Along the post from the file's posture, m. */
  readonly raise: number;
  readonly saddle: Vec3;
  /** Crank to saddle: wanted by the rule, and reached; m. */
  readonly wanted: number;
  readonly reached: number;
  readonly limit: 'none' | 'lowest' | 'highest' | 'minimum insertion';
}

/**
 * How far the saddle is raised to stand `wanted` from the crank, with `b` = r·up and `rr` = r² of the saddle from the crank. A
 * post that passes the crank farther away than wanted comes nearest at −b.
 */
export const raiseFor = (wanted: number, b: number, rr: number): number =>
  -b + Math.sqrt(Math.max(0, b * b - rr + wanted * wanted));

/** The highest raise that travel and least insertion allow, and what the insertion mark alone would (Infinity: no mark). */
export function highestRaise(post: SeatPost): { readonly highest: number; readonly marked: number } {
  const marked = post.insertion ? post.insertion.now - post.insertion.least : Number.POSITIVE_INFINITY;
  return { highest: Math.min(post.range[1], marked), marked };
}

/** The raise that the 0.883 rule asks for, clamped to what the post allows. */
export function saddleForRider(rider: Rider, post: SeatPost): SaddleSetting {
  const wanted = saddleDistance(rider).mean;
  const r = sub(post.saddle, post.crank);
  const b = dot(r, post.up);
  const rr = dot(r, r);
  const ideal = raiseFor(wanted, b, rr);
  const { marked, highest } = highestRaise(post);
  let limit: SaddleSetting['limit'] = b * b - rr + wanted * wanted < 0 ? 'lowest' : 'none';
  let raise = ideal;
  if (raise < post.range[0]) [raise, limit] = [post.range[0], 'lowest'];
  if (raise > highest) [raise, limit] = [highest, marked < post.range[1] ? 'minimum insertion' : 'highest'];
  const saddle: Vec3 = [
    post.saddle[0] + raise * post.up[0],
    post.saddle[1] + raise * post.up[1],
    post.saddle[2] + raise * post.up[2],
  ];
  const d = sub(saddle, post.crank);
  return { raise, saddle, wanted, reached: Math.sqrt(dot(d, d)), limit };
}
