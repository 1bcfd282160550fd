/**
 * How a state of a load case bends the frame: the members as they stand, thin, and as they move, in the accent colour, so
 * many times too large; from the side, and from above where the motion goes sideways.
 */
import { add, type CaseResult, cross, norm, sub, type Vec3 } from '#kernel';
import { type Judged, memberLine, placeWords } from '#study';
import { drawLoads, drawSupports } from './frame-loads.ts';
import { d2, type FrameResult, type FrameSheet, frameSheet, PLAN, roundDown, through } from './frame-sheet.ts';
import { ACCENT, FAINT, HIDDEN_LINE } from './ink.ts';
import { alongLine } from './ink-points.ts';
import { type Label, placeLabels } from './labels.ts';
import { element, type Picture, type Point2, text } from './svg.ts';
import { flat, pointAt, SIDE, type View } from './view.ts';

export interface ShapePictures {
  readonly side: Picture;
  /** Where sideways motion is worth a look. */
  readonly above?: Picture;
  readonly reduction: number;
  /** How many times too large motions are drawn. */
  readonly times: number;
  /** mm, and the tube on which it is found. */
  readonly most: number;
  readonly where: string;
}

/** Greatest motion on the paper, px. */
const REACH = 40;
/** A view from above is drawn where sideways motion is at least this share of the greatest. */
const SIDEWAYS = 0.25;
const STEPS = 4;

export function frameShape(j: Judged, frame: FrameResult, c: CaseResult, state: number): ShapePictures {
  const { structure, spans, parts } = frame.model.built;
  const solution = c.solutions[state]!;
  const lines = structure.members.map((_, m) => memberLine(structure, solution, m, STEPS).points);
  let most = { size: 0, at: [0, 0, 0] as Vec3, moved: [0, 0, 0] as Vec3, member: 0 };
  let sideways = 0;
  lines.forEach((points, member) => {
    for (const p of points) {
      const size = norm(p.moved);
      sideways = Math.max(sideways, Math.abs(p.moved[1]));
      if (size > most.size) most = { size, at: p.at, moved: p.moved, member };
    }
  });
  const plan = sideways > SIDEWAYS * most.size;
  const first = frameSheet(j, frame, SIDE, { faint: true });
  const reach = (view: View): number =>
    Math.max(1e-9, ...lines.flat().map((p) => (d2([0, 0], flat(view, p.moved)) / 1000) * first.sheet.scale));
  const times = roundDown(REACH / Math.max(reach(SIDE), plan ? reach(PLAN) : 0));
  const words = `greatest motion ${most.size.toFixed(most.size < 10 ? 1 : 0)} mm`;
  const view = (s: FrameSheet, label: boolean): string => {
    const move = (at: Vec3, u: Vec3): Point2 =>
      s.place([at[0] + times * u[0], at[1] + times * u[1], at[2] + times * u[2]]);
    const shapes = lines.map((points) => points.map((p) => move(p.at, p.moved)));
    const node = (n: number): { at: Vec3; u: Vec3; turn: Vec3 } => ({
      at: structure.nodes[n]!.at,
      u: pointAt(solution.u, 6 * n),
      turn: pointAt(solution.u, 6 * n + 3),
    });
    const tie = (n: number, end: Point2): string[] => {
      const from = move(node(n).at, node(n).u);
      return d2(from, end) > 1.5 ? [through([from, end])] : [];
    };
    const ties = [
      ...structure.members.flatMap((m, i) => [...tie(m.from, shapes[i]![0]!), ...tie(m.to, shapes[i]!.at(-1)!)]),
      ...structure.joints.flatMap((joint) =>
        [joint.from, joint.to].flatMap((n) => {
          if (n < 0) return [];
          const { at, u, turn } = node(n);
          return tie(n, move(joint.at, add(u, cross(turn, sub(joint.at, at)))));
        }),
      ),
    ];
    for (const shape of shapes)
      for (let i = 0; i + 1 < shape.length; i++) s.ink.push(...alongLine(shape[i]!, shape[i + 1]!));
    const loads = drawLoads(frame, c, state, s);
    const supports = drawSupports(frame, c, state, s);
    const tip = move(most.at, most.moved);
    const labels: Label[] = label ? [{ at: tip, words }] : [];
    const pen = { fill: 'none', stroke: ACCENT, 'stroke-linejoin': 'round' };
    return [
      s.base,
      element('path', { d: ties.join(''), ...pen, 'stroke-width': 0.9, 'stroke-dasharray': HIDDEN_LINE }),
      element('path', { d: shapes.map(through).join(''), ...pen, 'stroke-width': 1.7 }),
      label
        ? element('path', { d: through([s.place(most.at), tip]), stroke: FAINT, 'stroke-width': 1, fill: 'none' })
        : '',
      loads.markup,
      supports.markup,
      placeLabels(
        [...labels, ...loads.labels, ...supports.labels],
        s.ink,
        s.width,
        s.height - (s.view === SIDE ? 30 : 0),
      ),
    ].join('');
  };
  const stated = `drawn ${timesTooLarge(times)}`;
  const where = placeWords(parts.tubes[spans[most.member]!.tube]!.name);
  const body = view(first, true) + text([first.width - 16, first.height - 12], stated, STATED);
  const side = { width: first.width, height: first.height, body };
  const facts = { reduction: first.reduction, times, most: most.size, where };
  if (!plan) return { side, ...facts };
  const above = frameSheet(j, frame, PLAN, { faint: true });
  return { side, above: { width: above.width, height: above.height, body: view(above, false) }, ...facts };
}
/** How many times too large motions are drawn, in words: once is as large as they are. */
export const timesTooLarge = (times: number): string => (times === 1 ? 'as large as it is' : `${times} × too large`);

const STATED = { class: 'figure', 'text-anchor': 'end' } as const;
