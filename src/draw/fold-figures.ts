/**
 * The fold as numbered figures: one per motion, the start of what moves as a ghost, the end solid and picked out, an arrow
 * along the way, the least clearance marked where it can be seen at the end of the motion.
 */
import { type FoldSegment, newLinkageWorkspace, type Posture, poseAlong, type SegmentProof, type Vec3 } from '#kernel';
import { findings, type Judged, jointValue, moveSentence } from '#study';
import { arrowhead, nearMark } from './dimension.ts';
import { ACCENT, PAPER } from './ink.ts';
import { drawJoint } from './joints.ts';
import { type Scene, sceneAt } from './scene.ts';
import { drawSolids } from './solids.ts';
import { element, fixed, type Picture, type Point2 } from './svg.ts';
import { ASLANT, around, extentOf, flat, onSheet, pointAt, reductionFor, scaleOf, sheetFor } from './view.ts';
import { capital, spaced, typeset } from './words.ts';

export interface FoldFigure {
  readonly number: number;
  /** `turn main to 178°`, with the releases before it. */
  readonly sentence: string;
  /** What stands in the way, if anything. */
  readonly problem: string | undefined;
  /** `least clearance 4.8 mm: a and b, at 83°; nowhere less than 4.6 mm`. */
  readonly clearance: string;
  /** False where it touches, cannot be done or was not proven. */
  readonly clear: boolean;
  readonly picture: Picture;
}

const STEPS = 24;
/** Witness points are posed where the gap is least; they are marked when that is this near the end of the motion. */
const AT_THE_END = 0.03;
const WIDTH = 340;

/** Sentences of the steps that change nothing in place, and of the motion that follows them. */
function sentenceOf(j: Judged, move: number, before: number): string {
  const { model, state } = j.evaluation.results;
  const steps: string[] = [];
  for (let i = before; i <= move; i++) steps.push(moveSentence(model, state.value, i));
  return typeset(capital(steps.join(', ')));
}

/** What the study finds wrong with the moves `from` to `to`, in its own words. */
function problemOf(j: Judged, from: number, to: number): string | undefined {
  const { fold } = j.evaluation.results;
  const { moves } = j.candidate.paths;
  const within = (move: number): boolean => move >= from && move <= to;
  const places = new Set(moves.filter((_, i) => within(i)).map((path) => path.join('.')));
  const found = findings(j).filter((f) => places.has(f.path));
  if (found.length === 0) return undefined;
  const stops = fold!.plan.problems.some((p) => within(p.move) && p.severity === 'error');
  return `${stops ? 'Stops here' : 'Mind'}: ${found.map((f) => `${f.message}; ${f.hint}`).join('; ')}`;
}

function clearanceOf(j: Judged, proof: SegmentProof | undefined): { words: string; clear: boolean } {
  const { model } = j.evaluation.results;
  if (!proof) return { words: j.evaluation.results.failures.path ?? 'the clearance was not computed', clear: false };
  if (!proof.least) return { words: 'nothing moves past anything', clear: proof.complete };
  const { least } = proof;
  const name = (i: number): string => spaced(model.top.names.shapes[i] ?? 'no shape');
  const mm = (m: number): string => (m * 1000).toFixed(1);
  const where = `${name(least.shapes[0])} and ${name(least.shapes[1])}, at ${jointValue(model, proof.joint, least.at)}`;
  if (!proof.complete) return { words: `could not be followed to its end: ${proof.reason}`, clear: false };
  if (least.gap > 0) {
    const proven = Number.isFinite(least.proven)
      ? `; proved nowhere less than ${mm(Math.max(0, least.proven))} mm`
      : '';
    return { words: typeset(`least clearance ${mm(least.gap)} mm: ${where}${proven}`), clear: true };
  }
  const first = proof.firstContact;
  const touch = first
    ? `first touch at ${jointValue(model, proof.joint, first.at)}: ${name(first.shapes[0])} and ${name(first.shapes[1])}; `
    : '';
  return { words: typeset(`${touch}worst overlap about ${mm(-least.gap)} mm: ${where}`), clear: false };
}

/** The moving shape that travels farthest, as points on its way: where the arrow goes. */
function wayOf(scenes: readonly Scene[], moving: Uint8Array): Vec3[] {
  const { top } = scenes[0]!;
  const centre = ({ solid }: Scene, i: number): Vec3 => {
    if (i < top.nCapsule) {
      const [p, q] = [pointAt(solid.capsule, 7 * i), pointAt(solid.capsule, 7 * i + 3)];
      return [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2, (p[2] + q[2]) / 2];
    }
    const d = i - top.nCapsule;
    return d < top.nDisc ? pointAt(solid.disc, 8 * d) : pointAt(solid.box, 15 * (d - top.nDisc));
  };
  let best: Vec3[] = [];
  let most = 0;
  for (let i = 0; i < top.shapeBody.length; i++) {
    if (!moving[top.shapeBody[i]!]) continue;
    const way = scenes.map((s) => centre(s, i));
    let length = 0;
    for (let k = 1; k < way.length; k++) {
      const [a, b] = [flat(ASLANT, way[k - 1]!), flat(ASLANT, way[k]!)];
      length += Math.sqrt((b[0] - a[0]) * (b[0] - a[0]) + (b[1] - a[1]) * (b[1] - a[1]));
    }
    // a wheel's centre is the plainest thing to follow
    const wheel = i >= top.nCapsule && i < top.nCapsule + top.nDisc ? 1.15 : 1;
    if (length * wheel > most * 1.000001) {
      most = length * wheel;
      best = way;
    }
  }
  return best;
}

/** One figure per motion of the procedure; empty for a bicycle that does not fold or whose fold could not be planned. */
export function foldFigures(j: Judged, width = WIDTH): FoldFigure[] {
  const { fold, model, path, state } = j.evaluation.results;
  if (!fold || model.fold.length === 0) return [];
  const { top } = model;
  const { segments } = fold.plan;
  const ws = newLinkageWorkspace(top);
  const posture: Posture = {
    joint: state.joint,
    q: new Float64Array(top.kind.length),
    bodyT: new Float64Array(12 * top.bodyCount),
  };
  const motions = segments.map((segment, i) => {
    const scenes: Scene[] = [];
    for (let k = 0; k <= STEPS; k++) {
      poseAlong(model, fold.plan, i, (segment.reached * k) / STEPS, posture, ws);
      scenes.push(sceneAt(top, state, posture));
    }
    return scenes;
  });
  if (motions.length === 0) return [];
  // one frame for all figures, so that what stays put stays in its place; arrows may swing out beyond the shapes
  const ways = motions.map((scenes, i) => wayOf(scenes, segments[i]!.moving).map((p) => flat(ASLANT, p)));
  const extent = around([
    ...motions.flatMap((scenes) => [scenes[0]!, scenes.at(-1)!]).map((s) => extentOf(s.solid, ASLANT)),
    ...ways.flat().map(([x, y]) => ({ left: x, right: x, bottom: y, top: y })),
  ]);
  const margin = 5;
  const reduction = reductionFor(extent.right - extent.left, width - 2 * margin, 15);
  const px = scaleOf(reduction);
  const height = (extent.top - extent.bottom) * px + 2 * margin;
  const sheet = sheetFor(extent, px, (width - (extent.right - extent.left) * px) / 2, height - margin);
  let before = 0;
  return segments.map((segment, i): FoldFigure => {
    const scenes = motions[i]!;
    const proof = path?.proofs.find((p) => p.move === segment.move);
    const { words, clear } = clearanceOf(j, proof);
    const sentence = sentenceOf(j, segment.move, before);
    const problem = problemOf(j, before, segment.move);
    const picture = { width, height, body: figure(scenes, segment, proof, ways[i]!, sheet) };
    before = segment.move + 1;
    return {
      number: i + 1,
      sentence,
      problem,
      clearance: words,
      clear: clear && !problem?.startsWith('Stops'),
      picture,
    };
  });
}

function figure(
  scenes: readonly Scene[],
  segment: FoldSegment,
  proof: SegmentProof | undefined,
  flatWay: readonly Point2[],
  sheet: Parameters<typeof onSheet>[0],
): string {
  const [start, end] = [scenes[0]!, scenes.at(-1)!];
  const { moving } = segment;
  const parts = [
    drawSolids(start, ASLANT, sheet, { ghost: true, bodies: moving, pen: 0.8 }),
    drawSolids(end, ASLANT, sheet, { marked: moving, pen: 0.7 }),
    drawJoint(end, segment.joint, ASLANT, sheet, 0.6),
  ];
  const way = flatWay.map((p) => onSheet(sheet, p));
  if (way.length > 1) {
    const d = `M${way.map(([x, y]) => `${fixed(x)} ${fixed(y)}`).join('L')}`;
    const pen = { fill: 'none', 'stroke-linejoin': 'round' };
    parts.push(element('path', { d, ...pen, stroke: PAPER, 'stroke-width': 5, 'stroke-opacity': '0.8' }));
    parts.push(element('path', { d, ...pen, stroke: ACCENT, 'stroke-width': 1.8 }));
    parts.push(arrowhead(way.at(-1)!, way.at(-3) ?? way[0]!, 11, ACCENT));
  }
  const least = proof?.least;
  if (least && Math.abs(least.at - proof.to) <= AT_THE_END * Math.abs(proof.to - proof.from)) {
    const [p, q] = least.points;
    parts.push(nearMark(onSheet(sheet, flat(ASLANT, [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2, (p[2] + q[2]) / 2]))));
  }
  return parts.join('');
}

/** Steps after the last motion (locks and the like), as one sentence; undefined when there are none. */
export function lastSteps(j: Judged): string | undefined {
  const { fold, model } = j.evaluation.results;
  const from = (fold?.plan.segments.at(-1)?.move ?? -1) + 1;
  return fold && from < model.fold.length ? sentenceOf(j, model.fold.length - 1, from) : undefined;
}
