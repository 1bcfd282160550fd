/**
 * Loads and supports of one load case on a frame's sheet: a force is an arrow that ends where it acts, with its size; seen
 * end-on a ring with a dot (towards the reader) or a cross; what a fixture holds is a triangle on hatching, said in words.
 */
import { add, type CaseResult, norm, type Vec3 } from '#kernel';
import { arrowhead } from './dimension.ts';
import { d2, type FrameResult, type FrameSheet, tenth } from './frame-sheet.ts';
import { INK, NARROW, PAPER } from './ink.ts';
import { alongLine } from './ink-points.ts';
import type { Label } from './labels.ts';
import { element, line, type Point2 } from './svg.ts';
import { depth, flat } from './view.ts';

/** Forces of one state that are drawn: at least this share of the greatest. */
const SHOWN = 0.08;
/** Forces that act as near to one another, mm in the view, are drawn as one. */
const TOGETHER = 45;
/** A load counts as seen end-on where less than this share of it lies in the paper. */
const END_ON = 0.35;

export interface Drawn {
  readonly markup: string;
  readonly labels: readonly Label[];
  /** Forces too small to draw, N, the greatest of them; 0 where all are drawn. */
  readonly left: number;
}

/** Three digits at most. */
const newtons = (n: number): string => `${Number(n.toPrecision(3))} N`;

/** Arrows of a state's forces, with labels that say their size. */
export function drawLoads(frame: FrameResult, c: CaseResult, state: number, s: FrameSheet): Drawn {
  const { nodes } = frame.model.built.structure;
  const groups: { at: Vec3; where: Point2; force: Vec3 }[] = [];
  for (const load of c.loads.loads[state] ?? []) {
    if (!(norm(load.force) > 0)) continue;
    const at = load.at ?? nodes[load.node]!.at;
    const where = s.place(at);
    const near = groups.find((g) => d2(g.where, where) < (TOGETHER / 1000) * s.sheet.scale);
    if (near) near.force = add(near.force, load.force);
    else groups.push({ at, where, force: load.force });
  }
  const most = Math.max(...groups.map((g) => norm(g.force)), 1e-9);
  const shown = groups.filter((g) => norm(g.force) >= SHOWN * most);
  const left = Math.max(0, ...groups.filter((g) => norm(g.force) < SHOWN * most).map((g) => norm(g.force)));
  const labels: Label[] = [];
  const parts = shown.map(({ where, force }) => {
    const size = norm(force);
    const [fx, fy] = flat(s.view, force);
    const inPaper = Math.sqrt(fx * fx + fy * fy);
    if (inPaper < END_ON * size) {
      const away = depth(s.view, force) < 0;
      labels.push({ at: where, words: `${newtons(size)} ${away ? 'away from you' : 'towards you'}` });
      return endOn(where, away);
    }
    const length = 18 + (30 * inPaper) / most;
    const u: Point2 = [fx / inPaper, -fy / inPaper];
    const tail: Point2 = [where[0] - length * u[0], where[1] - length * u[1]];
    s.ink.push(...alongLine(tail, where));
    labels.push({ at: tail, words: newtons(size) });
    return (
      line(tail, where, { stroke: PAPER, 'stroke-width': 4 }) +
      line(tail, where, { stroke: INK, 'stroke-width': 1.8 }) +
      arrowhead(where, tail, 9)
    );
  });
  return { markup: parts.join(''), labels, left };
}

/** An arrow seen from ahead (dot) or from behind (cross). */
function endOn([x, y]: Point2, away: boolean): string {
  const pen = { fill: PAPER, stroke: INK, 'stroke-width': 1.2 };
  const ring = element('circle', { cx: x, cy: y, r: 5.5, ...pen });
  return away
    ? ring +
        element('path', {
          d: `M${tenth(x - 3.5)} ${tenth(y - 3.5)}l7 7M${tenth(x + 3.5)} ${tenth(y - 3.5)}l-7 7`,
          ...pen,
        })
    : ring + element('circle', { cx: x, cy: y, r: 1.6, fill: INK });
}

const AXES = ['along', 'sideways', 'up'] as const;
/** A support whose reaction is less than this share of the greatest force holds nothing: loads of service are in balance. */
const IDLE = 0.01;
/** Moments count by the force at this arm, mm. */
const ARM = 100;

/** Triangles with hatching under the nodes that a fixture holds, with what it holds there. */
export function drawSupports(frame: FrameResult, c: CaseResult, state: number, s: FrameSheet): Drawn {
  const { nodes } = frame.model.built.structure;
  const solution = c.solutions[state];
  const most = Math.max(1e-9, ...(c.loads.loads[state] ?? []).map((l) => norm(l.force)));
  const held = new Map<number, number[]>();
  const working = new Set<number>();
  c.loads.supports.forEach((support, i) => {
    held.set(support.node, [...(held.get(support.node) ?? []), support.component]);
    const reaction = Math.abs(solution?.reaction[i] ?? 0) / (support.component > 2 ? ARM : 1);
    if (reaction > IDLE * most) working.add(support.node);
  });
  const labels: Label[] = [];
  const parts = [...working].map((node) => {
    const [x, y] = s.place(nodes[node]!.at);
    labels.push({ at: [x, y + 10], words: heldWords(held.get(node)!) });
    for (const dx of [-8, 0, 8]) s.ink.push([x + dx, y + 6], [x + dx, y + 16]);
    let hatch = '';
    for (let k = -9; k <= 7; k += 4) hatch += `M${tenth(x + k + 4)} ${tenth(y + 13)}l-4 4`;
    return (
      element('path', {
        d: `M${tenth(x)} ${tenth(y + 2)}l7 11h-14Z`,
        fill: PAPER,
        stroke: INK,
        'stroke-width': 1.1,
        'stroke-linejoin': 'round',
      }) + element('path', { d: `M${tenth(x - 10)} ${tenth(y + 13)}h20${hatch}`, stroke: INK, 'stroke-width': NARROW })
    );
  });
  return { markup: parts.join(''), labels, left: 0 };
}

function heldWords(components: readonly number[]): string {
  if (components.length === 6) return 'clamped';
  const moves = components.filter((k) => k < 3).map((k) => AXES[k]!);
  const turns = components.some((k) => k > 2);
  return `held ${moves.join(', ')}${turns ? (moves.length ? ', turn' : 'against turning') : ''}`;
}
