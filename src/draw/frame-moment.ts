/**
 * Bending moments in the plane of the elevation, drawn on the members: ordinates square to the member on the side that is
 * in tension, hatched as a drawing office hatches them, values where each tube bears most.
 *
 * Only the moment about the axis square to the paper is drawn; members that run into the paper (the bar) carry it as
 * torsion and are left out. Tubes that lie one behind the other on the paper (stays, blades) are drawn once, with their
 * moments added.
 */
import { type CaseResult, sub, type Vec3 } from '#kernel';
import { type Judged, memberLine, placeWords } from '#study';
import { drawLoads, drawSupports } from './frame-loads.ts';
import { d2, type FrameResult, type FrameSheet, frameSheet, roundDown, tenth, through, xy } from './frame-sheet.ts';
import { ACCENT, INK, NARROW } from './ink.ts';
import { alongLine } from './ink-points.ts';
import { type Label, placeLabels } from './labels.ts';
import { element, line, type Picture, type Point2, text } from './svg.ts';

export interface MomentPeak {
  readonly tube: string;
  /** N·m, in the plane of the elevation, of all tubes drawn together. */
  readonly moment: number;
  /** How many tubes lie one behind the other there. */
  readonly tubes: number;
}
export interface MomentPicture extends Picture {
  readonly reduction: number;
  /** Greatest first; one per tube. */
  readonly peaks: readonly MomentPeak[];
}

/** Greatest ordinate, px; and distance between hatching lines. */
const ORDINATE = 46;
const HATCH = 5;
/** A tube shows its value where it bears this share of the greatest moment, as many at most. */
const NAMED = 0.15;
const NAMES = 6;
/** A member whose axis is shortened to less than this share by the view runs into the paper. */
const INTO_PAPER = 0.35;

interface Strand {
  readonly tube: string;
  readonly count: number;
  readonly points: readonly { readonly at: Point2; readonly across: Point2; readonly moment: number }[];
}

function strands(frame: FrameResult, c: CaseResult, state: number, s: FrameSheet): Strand[] {
  const { structure, spans, parts } = frame.model.built;
  const found = new Map<string, Strand>();
  structure.members.forEach((_, m) => {
    const { points } = memberLine(structure, c.solutions[state]!, m, 1);
    const whole = points.map((p) => s.place(p.at));
    const paper = d2(whole[0]!, whole.at(-1)!) / s.sheet.scale;
    const span = sub(points.at(-1)!.at, points[0]!.at) as Vec3;
    if (1e3 * paper < INTO_PAPER * Math.sqrt(span[0] * span[0] + span[1] * span[1] + span[2] * span[2])) return;
    const drawn = points.map((p, i) => {
      const [a, b] = [whole[Math.max(0, i - 1)]!, whole[Math.min(whole.length - 1, i + 1)]!];
      const l = d2(a, b) || 1;
      // y points into the paper here: tension lies where x × M points, and x × y is up for a member that runs forward
      return {
        at: whole[i]!,
        across: [(b[1] - a[1]) / l, -(b[0] - a[0]) / l] as Point2,
        moment: 1e-3 * p.moment[1],
      };
    });
    const ends = [whole[0]!, whole.at(-1)!].map(([x, y]) => `${Math.round(x)} ${Math.round(y)}`).join(' ');
    const tube = parts.tubes[spans[m]!.tube]!.name;
    const twin = found.get(ends);
    found.set(
      ends,
      twin && twin.points.length === drawn.length
        ? {
            ...twin,
            count: twin.count + 1,
            points: twin.points.map((p, i) => ({ ...p, moment: p.moment + drawn[i]!.moment })),
          }
        : { tube, count: 1, points: drawn },
    );
  });
  return [...found.values()];
}

const peakOf = (strand: Strand) => strand.points.reduce((a, b) => (Math.abs(b.moment) > Math.abs(a.moment) ? b : a));
const newtonMetres = (m: number): string =>
  `${Math.abs(m) < 9.95 ? Math.abs(m).toFixed(1) : Math.abs(m).toFixed(0)} N·m`;

/** @param state index of the load vector. */
export function frameMoment(j: Judged, frame: FrameResult, c: CaseResult, state: number): MomentPicture {
  const s = frameSheet(j, frame);
  const list = strands(frame, c, state, s);
  const most = Math.max(1e-9, ...list.map((x) => Math.abs(peakOf(x).moment)));
  const px = ORDINATE / most;
  const tip = (p: Strand['points'][number]): Point2 => [
    p.at[0] + px * p.moment * p.across[0],
    p.at[1] + px * p.moment * p.across[1],
  ];
  const outline: string[] = [];
  const hatch: string[] = [];
  for (const { points } of list) {
    if (!points.some((p) => Math.abs(p.moment) * px > 1)) continue;
    const edge = points.map(tip);
    outline.push(through([points[0]!.at, ...edge, points.at(-1)!.at]));
    for (let i = 0; i + 1 < points.length; i++) {
      const [a, b] = [points[i]!, points[i + 1]!];
      const n = Math.floor(d2(a.at, b.at) / HATCH);
      for (let k = 1; k < n; k++) {
        const mix = (u: Point2, v: Point2): Point2 => [u[0] + ((v[0] - u[0]) * k) / n, u[1] + ((v[1] - u[1]) * k) / n];
        const [from, to] = [mix(a.at, b.at), mix(edge[i]!, edge[i + 1]!)];
        const long = d2(from, to);
        if (long > 1) hatch.push(`M${xy(from)}L${xy(to)}`);
        if (long > 8 && k % 2 === 0) s.ink.push(...alongLine(from, to));
      }
      s.ink.push(...alongLine(edge[i]!, edge[i + 1]!));
    }
  }
  const byTube = new Map<string, Strand>();
  for (const strand of list) {
    const known = byTube.get(strand.tube);
    if (!known || Math.abs(peakOf(strand).moment) > Math.abs(peakOf(known).moment)) byTube.set(strand.tube, strand);
  }
  const peaks = [...byTube.values()].sort((a, b) => Math.abs(peakOf(b).moment) - Math.abs(peakOf(a).moment));
  const named = peaks.filter((x, i) => i < NAMES && Math.abs(peakOf(x).moment) > NAMED * most);
  const values = named.map((x): Label => ({ at: tip(peakOf(x)), words: newtonMetres(peakOf(x).moment) }));
  const loads = drawLoads(frame, c, state, s);
  const supports = drawSupports(frame, c, state, s);
  const pen = { fill: 'none', stroke: INK, 'stroke-width': NARROW };
  const first = peaks[0] && peakOf(peaks[0]);
  const body = [
    element('path', { d: hatch.join(''), ...pen, 'stroke-width': 0.5 }),
    element('path', { d: outline.join(''), ...pen, 'stroke-linejoin': 'round' }),
    s.base,
    first ? line(first.at, tip(first), { stroke: ACCENT, 'stroke-width': 2 }) : '',
    loads.markup,
    supports.markup,
    ordinateScale([s.width - 26, s.height - 8], px, roundDown(most)),
    placeLabels([...values, ...loads.labels, ...supports.labels], s.ink, s.width, s.height - 30),
  ];
  return {
    width: s.width,
    height: s.height,
    reduction: s.reduction,
    body: body.join(''),
    peaks: peaks.map((x) => ({ tube: placeWords(x.tube), moment: Math.abs(peakOf(x).moment), tubes: x.count })),
  };
}

/** A hatched ordinate of a round moment, standing at the lower right. */
function ordinateScale([x, y]: Point2, px: number, moment: number): string {
  const top = y - px * moment;
  let d = `M${tenth(x - 8)} ${tenth(y)}H${tenth(x + 8)}M${tenth(x - 8)} ${tenth(top)}H${tenth(x + 8)}`;
  for (const dx of [-5, 0, 5]) d += `M${tenth(x + dx)} ${tenth(y)}V${tenth(top)}`;
  return (
    element('path', { d, stroke: INK, 'stroke-width': NARROW, fill: 'none' }) +
    text([x - 13, (y + top) / 2 + 4], `ordinate ${newtonMetres(moment)}`, {
      class: 'figure small',
      'text-anchor': 'end',
    })
  );
}
