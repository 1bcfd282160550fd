/**
 * Two figures of a quayside frame worked by hand, as docs/methods/frame-by-hand.md prints them: the page's figures are
 * recomputed here from the file's own sizes, and the beam model must lie within 15 % of them.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type Judged, judgeForChoice } from '#study';
import { expectWithin } from './expect-within.ts';
import { quayside } from './fixtures/quayside.ts';

/** A hand sum leaves shear, walls and the handlebar's taper out. */
const BY_HAND = 0.15;
/** Printed to three digits. */
const PRINTED = 5e-3;

const page = readFileSync(new URL('../docs/methods/frame-by-hand.md', import.meta.url), 'utf8');
/** The figure that the page prints after `**name** =`. */
function printed(name: string): number {
  const found = new RegExp(`\\*\\*${name}\\*\\* = ([0-9.]+)`).exec(page);
  if (!found) throw new Error(`the page prints no ${name}`);
  return Number(found[1]);
}

const w = quayside();
const candidate = w.candidates.find((c) => c.id === 'side_beam')!;
const judged: Judged = judgeForChoice(w, candidate);
const { results } = judged.evaluation;
const s = results.state;
const { names } = candidate.model.top;
const at = (station: string): readonly [number, number, number] => {
  const i = names.stations.indexOf(station);
  return [0, 1, 2].map((k) => 1e3 * s.station[3 * i + k]!) as unknown as readonly [number, number, number];
};
const between = (a: string, b: string): number => {
  const [p, q] = [at(a), at(b)];
  return Math.sqrt((p[0] - q[0]) ** 2 + (p[1] - q[1]) ** 2 + (p[2] - q[2]) ** 2);
};
const tube = (name: string) => results.frame!.model.bearing.tubes.find((t) => t.name === name)!;
const inertia = (od: number, wall: number): number => (Math.PI / 64) * (od ** 4 - (od - 2 * wall) ** 4);

const mast = tube('bar.mast').ends[0];
const steerer = tube('fork.steerer').ends[0];
const [iMast, iSteerer] = [inertia(mast.height, mast.wall), inertia(steerer.height, steerer.wall)];
const lean = (Math.PI / 180) * 72;
/** Along the steering axis from `b` to `a`, and how far `a` stands ahead of the axis through `b`; mm. */
function fromAxis(a: string, b: string): readonly [number, number] {
  const [p, q] = [at(a), at(b)];
  const [dx, dz] = [p[0] - q[0], p[2] - q[2]];
  return [-dx * Math.cos(lean) + dz * Math.sin(lean), dx * Math.sin(lean) + dz * Math.cos(lean)];
}
const [arm, ahead] = fromAxis('bar_clamp', 'head_top');

describe('by hand: the steerer under the bar', () => {
  // 1600 N at 45°, first stage of forward bending: across the steerer 1131 N, with the arm from the bar's clamp to the upper bearing,
  // and as much along it, beside the axis by how far the bar stands ahead
  const across = 1600 * Math.SQRT1_2;
  const area = Math.PI * (steerer.height - steerer.wall) * steerer.wall;
  const stress = (across * (arm + ahead) * steerer.height) / (2 * iSteerer) + across / area;

  it('stands on the page as its sizes give it', () => expectWithin(printed('σ'), stress, { relative: PRINTED }));
  it('agrees with the beam model', () => {
    const worst = results.frame!.cases.get('bar_forward')!.worst;
    const point = results.frame!.points.points[worst.point]!;
    expect(results.frame!.model.bearing.tubes[point.tube]!.name).toBe('fork.steerer');
    expectWithin(worst.stress, stress, { relative: BY_HAND });
    // a sum that forgot the arm of the mast would be caught
    expect(Math.abs(worst.stress - stress / 2)).toBeGreaterThan(BY_HAND * worst.stress);
  });
});

describe('by hand: the bar, fore and aft', () => {
  const hinge = results.frame!.model.bearing.hinges.find((h) => h.name === 'bar_hinge')!;
  // the folding axis lies across the corner: half of the bending goes about it, half across it
  const k = 2 / (1 / hinge.laws[4].closed + 1 / hinge.laws[5].closed);
  const [long] = fromAxis('bar_clamp', 'bar_foot');
  const elastic = long - hinge.cutOut;
  const span = between('head_top', 'head_bottom');
  const over = between('bar_foot', 'head_top');
  const perNewton =
    (long * long) / k +
    (elastic * elastic * elastic) / (3 * 70e3 * iMast) +
    (arm * arm * span) / (3 * 200e3 * iSteerer) +
    (((arm + long) / 2) ** 2 * over) / (200e3 * iSteerer);
  const bar = 207 ** 3 / (2 * 3 * 70e3 * inertia(24, 2.2));
  const stiffness = 1 / (perNewton * Math.sin(lean) ** 2 + bar);

  it('stands on the page as its sizes give it', () => expectWithin(printed('k'), stiffness, { relative: PRINTED }));
  it('agrees with the beam model', () => {
    const value = results.stiffness!.get('bar_fore_aft')!.value;
    expectWithin(value, stiffness, { relative: BY_HAND });
    const hingeShare = ((long * long) / k) * Math.sin(lean) * Math.sin(lean) * stiffness;
    const { softest } = results.stiffness!.get('bar_fore_aft')!;
    expect(softest!.name).toBe('bar_hinge');
    expectWithin(softest!.share, hingeShare, { relative: BY_HAND });
  });
});
