/**
 * How much of its strength each place of the frame uses in one state of a load case, along the members on the elevation:
 * a black band whose width is stress over strength. Up to the whole strength it is solid; what goes beyond is hatched.
 *
 * Stress is the closed-form bound that the figures of the ledger use; between the places looked at it runs straight, which is
 * on the safe side. Values in words: the worst place by a leader, the worst of the other tubes beside them.
 */
import { type CaseResult, stressBound } from '#kernel';
import { type Judged, placeWords } from '#study';
import { drawLoads, drawSupports } from './frame-loads.ts';
import { d2, type FrameResult, type FrameSheet, frameSheet, tenth, xy } from './frame-sheet.ts';
import { ACCENT, INK, NARROW, PAPER } from './ink.ts';
import { alongLine } from './ink-points.ts';
import { type Label, placeLabels } from './labels.ts';
import { element, type Picture, type Point2, text } from './svg.ts';

export interface StressPicture extends Picture {
  readonly reduction: number;
  /** `0.82 of yield, HAZ, seat tube of rear, 121 mm`. */
  readonly worst: string;
  readonly use: number;
}

/** Width of the band at the greatest use, or at the whole strength where nothing reaches it, px. */
const BAND = 20;
/** A tube shows its value where it uses this share of the greatest, as many at most. */
const NAMED = 0.2;
const NAMES = 7;
const HATCH = 4;

interface Place {
  readonly index: number;
  readonly at: Point2;
  readonly use: number;
}

/** Uses of a state at every point, member by member in their order along it. */
function usesOf(frame: FrameResult, c: CaseResult, state: number, s: FrameSheet): Place[][] {
  const { points } = frame.points;
  const breaking = c.loads.fracture?.includes(state) ?? false;
  const members = new Map<number, (Place & { readonly along: number })[]>();
  points.forEach((p, i) => {
    const stress = stressBound(p.section, c.forces, 6 * (points.length * state + i));
    const place = { index: i, at: s.place(p.at), use: stress / (breaking ? p.ultimate : p.strength), along: p.s };
    members.set(p.member, [...(members.get(p.member) ?? []), place]);
  });
  return [...members.values()].map((list) => list.sort((a, b) => a.along - b.along));
}

/** Where a weakened zone ends the use jumps: the piece takes the higher of the two there. */
export function frameStress(j: Judged, frame: FrameResult, c: CaseResult, state: number): StressPicture {
  const s = frameSheet(j, frame);
  const list = usesOf(frame, c, state, s);
  const all = list.flat();
  const worst = all.reduce((a, b) => (b.use > a.use ? b : a));
  const half = BAND / 2 / Math.max(1, worst.use);
  const solid: string[] = [];
  const beyond: string[] = [];
  const hatch: string[] = [];
  for (const member of list)
    for (let i = 0; i + 1 < member.length; i++) {
      const [a, b] = [member[i]!, member[i + 1]!];
      const l = d2(a.at, b.at);
      if (l < 0.5) continue;
      const n: Point2 = [-(b.at[1] - a.at[1]) / l, (b.at[0] - a.at[0]) / l];
      const side = (p: Point2, w: number): Point2 => [p[0] + w * n[0], p[1] + w * n[1]];
      const [wa, wb] = [half * Math.min(1, a.use), half * Math.min(1, b.use)];
      solid.push(`M${xy(side(a.at, wa))}L${xy(side(b.at, wb))}L${xy(side(b.at, -wb))}L${xy(side(a.at, -wa))}Z`);
      for (const w of wa + wb > 8 ? [wa + wb, -wa - wb] : [])
        s.ink.push(...alongLine(side(a.at, w / 2), side(b.at, w / 2)));
      if (a.use <= 1 && b.use <= 1) continue;
      const mix = (t: number): { p: Point2; use: number } => ({
        p: [a.at[0] + t * (b.at[0] - a.at[0]), a.at[1] + t * (b.at[1] - a.at[1])],
        use: a.use + t * (b.use - a.use),
      });
      const crossing = (1 - a.use) / (b.use - a.use);
      const ends = [a.use > 1 ? 0 : crossing, b.use > 1 ? 1 : crossing].map(mix) as [
        ReturnType<typeof mix>,
        ReturnType<typeof mix>,
      ];
      for (const sign of [1, -1]) {
        const edge = ends.map((e) => side(e.p, sign * half * e.use)) as [Point2, Point2];
        const core = ends.map((e) => side(e.p, sign * half)) as [Point2, Point2];
        beyond.push(`M${xy(core[0])}L${xy(edge[0])}L${xy(edge[1])}L${xy(core[1])}`);
        s.ink.push(...alongLine(...edge));
        const steps = Math.max(1, Math.floor(d2(...core) / HATCH));
        for (let k = 0; k <= steps; k++) {
          const t = k / steps;
          const from: Point2 = [core[0][0] + t * (core[1][0] - core[0][0]), core[0][1] + t * (core[1][1] - core[0][1])];
          const to: Point2 = [edge[0][0] + t * (edge[1][0] - edge[0][0]), edge[0][1] + t * (edge[1][1] - edge[0][1])];
          if (d2(from, to) > 1) hatch.push(`M${xy(from)}L${xy(to)}`);
        }
      }
    }
  const words = worstWords(frame, c, state, worst);
  const { points } = frame.points;
  const byTube = new Map<number, Place>();
  for (const place of all) {
    const { tube } = points[place.index]!;
    if (!byTube.has(tube) || place.use > byTube.get(tube)!.use) byTube.set(tube, place);
  }
  const others = [...byTube.values()]
    .filter((p) => points[p.index]!.tube !== points[worst.index]!.tube && p.use > NAMED * worst.use)
    .sort((a, b) => b.use - a.use);
  // tubes one behind the other would say the same twice
  const named: Place[] = [];
  for (const p of others)
    if (named.length < NAMES && ![worst, ...named].some((q) => d2(p.at, q.at) < 14)) named.push(p);
  const labels: Label[] = [
    { at: worst.at, words, most: 48 },
    ...named.map((p) => ({ at: p.at, words: `${over(p.use)}${p.use.toFixed(2)}` })),
  ];
  const loads = drawLoads(frame, c, state, s);
  const supports = drawSupports(frame, c, state, s);
  const body = [
    s.base,
    element('path', { d: solid.join(''), fill: INK }),
    beyond.length
      ? element('path', { d: beyond.join('') + hatch.join(''), fill: 'none', stroke: ACCENT, 'stroke-width': 0.9 })
      : '',
    loads.markup,
    supports.markup,
    element('circle', { cx: worst.at[0], cy: worst.at[1], r: 5, fill: PAPER, stroke: ACCENT, 'stroke-width': 1.8 }),
    bandScale([s.width - 26, s.height - 8], half),
    placeLabels([...labels, ...loads.labels, ...supports.labels], s.ink, s.width, s.height - 30),
  ];
  return {
    width: s.width,
    height: s.height,
    reduction: s.reduction,
    body: body.join(''),
    worst: words,
    use: worst.use,
  };
}

/** Over the limit is said by a sign before the figure, as in the ledger. */
const over = (use: number): string => (use > 1 ? '× ' : '');

function worstWords(frame: FrameResult, c: CaseResult, state: number, worst: Place): string {
  const p = frame.points.points[worst.index]!;
  const breaking = c.loads.fracture?.includes(state) ?? false;
  const tube = placeWords(frame.model.bearing.tubes[p.tube]!.name);
  return `${over(worst.use)}${worst.use.toFixed(2)} of ${breaking ? 'ultimate' : 'yield'}, ${p.haz ? 'HAZ, ' : ''}${tube}, ${p.s.toFixed(0)} mm`;
}

/** How wide the band is where the whole strength is used, and half of it. */
function bandScale([x, y]: Point2, half: number): string {
  const long = 34;
  const d = `M${tenth(x - long)} ${tenth(y - 2 * half)}h${long}v${tenth(2 * half)}h${-long}Z`;
  return (
    element('path', { d, fill: INK, stroke: INK, 'stroke-width': NARROW }) +
    text([x - long - 6, y - half + 4], 'this wide: 1.0 of strength', { class: 'figure small', 'text-anchor': 'end' })
  );
}
