/**
 * Force that a point or edge from the side needs to dent a round tube: to rank tubes, nothing more.
 *
 * m_p = f_y t²/4. Ellinas & Walker 1983: P = 150 m_p √(δ/D). Wierzbicki & Suh 1988: P = 16 m_p √(2πδ/3t) √(1 − ¼(1 − N/N_p)³),
 * N positive in tension. Both from memory; they come from offshore tubes with D/t 20–60 and differ by a third here.
 * Units: mm, N, MPa. Not here: spring-back, rate, the length of the edge, tubes that are not round.
 */
import { insist, insistPositive } from './refusal.ts';

export interface Dent {
  readonly diameter: number;
  readonly wall: number;
  readonly yield: number;
  /** Depth of the dent, mm. */
  readonly depth: number;
}
const plastic = ({ yield: fy, wall }: Dent): number => (fy * wall * wall) / 4;

/** N; @throws CheckRefusal for sizes that are not positive. */
export function dentForceEllinasWalker(d: Dent): number {
  insistPositive(d, ['diameter', 'wall', 'yield', 'depth']);
  return 150 * plastic(d) * Math.sqrt(d.depth / d.diameter);
}

/** N; `axialShare` = N/N_p, −1…1, tension positive. @throws CheckRefusal for sizes that are not positive. */
export function dentForceWierzbickiSuh(d: Dent, axialShare = 0): number {
  insistPositive(d, ['diameter', 'wall', 'yield', 'depth']);
  insist(Math.abs(axialShare) <= 1, 'axialShare', 'the axial force cannot exceed the squash load');
  const rest = 1 - axialShare;
  // The root falls to 0 at N/N_p = 1 − 4^⅓ = −0.587: such a tube holds no dent
  const root = Math.max(1 - (rest * rest * rest) / 4, 0);
  return 16 * plastic(d) * Math.sqrt((2 * Math.PI * d.depth) / (3 * d.wall)) * Math.sqrt(root);
}
