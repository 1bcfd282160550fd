import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type BeamMember, type FrameStructure, frameSolver, type LoadGroup, norm, type Vec3 } from '#kernel';
import { readBrief, readDocument } from '#project';
import { expectWithin } from '../../../test/expect-within.ts';
import { fixtureModel } from '../../../test/fixtures/beam.ts';
import { evaluate, plan } from '../evaluate.ts';
import { settingOf } from '../setting.ts';
import { memberLine } from './frame-line.ts';

/** Sums of some hundred terms of one size. */
const ROUNDOFF = 1e-9;
/** Simpson's rule with four steps on a tapered tube; observed 1e-7 of the greatest motion. */
const TAPER = 1e-5;

const BRIEF = readFileSync(new URL('../../../test/fixtures/harbour-brief.yaml', import.meta.url), 'utf8');
const SETTING = settingOf(readBrief(readDocument('brief.yaml', BRIEF).document!).brief!);

const [E, G, L, P] = [70_000, 26_300, 600, 250];
const SECTION = { area: 300, iy: 60_000, iz: 40_000, j: 90_000, asy: 150, asz: 160 };

/** A cantilever along (1, 0, 0.75)/1.25 with a rigid offset of 20 mm at its root and a spring at its beginning. */
function cantilever(compliance = 0): { s: FrameStructure; group: LoadGroup; x: Vec3; z: Vec3 } {
  const x: Vec3 = [0.8, 0, 0.6];
  const z: Vec3 = [-0.6, 0, 0.8];
  const along = (d: number): Vec3 => [d * x[0], 0, d * x[2]];
  const member: BeamMember = {
    name: 'arm',
    from: 0,
    to: 1,
    pieces: [{ from: along(20), to: along(20 + L), y: [0, 1, 0], E, G, section: SECTION }],
    flex: [{ end: 0, what: 'wall', axes: [x, [0, 1, 0], z], compliance: [0, 0, 0, 0, compliance, 0] }],
  };
  return {
    s: {
      nodes: [
        { name: 'root', at: [0, 0, 0] },
        { name: 'tip', at: along(20 + L) },
      ],
      members: [member],
      joints: [],
    },
    group: {
      supports: [0, 1, 2, 3, 4, 5].map((component) => ({ node: 0, component })),
      fixtures: [],
      loads: [[{ node: 1, force: [-P * z[0], 0, -P * z[2]], moment: [0, 0, 0] }]],
    },
    x,
    z,
  };
}

describe('the line of a loaded member', () => {
  it('is the cubic of a cantilever with its shear, point by point, and carries the moment of its load', () => {
    const { s, group, x, z } = cantilever();
    const { points, gap } = memberLine(s, frameSolver(s, [group]).solve(group)[0]!, 0, 8);
    expect(points).toHaveLength(9);
    const dot = (a: Vec3, b: Vec3) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
    const whole = (P * L * L * L) / (3 * E * SECTION.iy);
    for (const p of points) {
      const t = dot(p.at, x) - 20;
      const bent = (P * t * t * (3 * L - t)) / (6 * E * SECTION.iy) + (P * t) / (G * SECTION.asz);
      expectWithin(-dot(p.moved, z), bent, { absolute: ROUNDOFF * whole }, `at ${t} mm`);
      expectWithin(p.moment[1], P * (L - t), { absolute: ROUNDOFF * P * L }, `moment at ${t} mm`);
    }
    expectWithin(gap, 0, { absolute: ROUNDOFF * whole }, 'nothing to put right');
  });

  it('begins with the turn of the wall that it is welded to', () => {
    const { s, group, z } = cantilever(1e-8);
    const { points, gap } = memberLine(s, frameSolver(s, [group]).solve(group)[0]!, 0, 4);
    const rigid = cantilever();
    const stiff = memberLine(rigid.s, frameSolver(rigid.s, [group]).solve(group)[0]!, 0, 4);
    points.forEach((p, i) => {
      const more = norm([0, 1, 2].map((k) => p.moved[k]! - stiff.points[i]!.moved[k]!) as unknown as Vec3);
      // the turn times the distance from the root of the elastic part
      expectWithin(more, 1e-8 * P * L * ((i * L) / 4), { absolute: ROUNDOFF * 10 }, `point ${i}`);
    });
    expect(points.at(-1)!.moved[2] * z[2]).toBeLessThan(0);
    expectWithin(gap, 0, { absolute: ROUNDOFF * 10 }, 'nothing to put right');
  });

  it('ends at the second node of every member of a bicycle, in every case, bent and tapered tubes included', () => {
    const wanted = new Set(['frame.service_use']);
    const { frame, failures } = evaluate(plan(fixtureModel(), SETTING, undefined, ['drag'], wanted)).results;
    expect(failures).toEqual({});
    const { structure } = frame!.model.built;
    for (const [id, c] of frame!.cases)
      c.solutions.forEach((solution) => {
        const lines = structure.members.map((_, m) => memberLine(structure, solution, m, 4));
        const most = Math.max(...lines.flatMap((l) => l.points.map((p) => norm(p.moved))));
        lines.forEach((l, m) => {
          expectWithin(l.gap, 0, { absolute: TAPER * most }, `${id}, ${structure.members[m]!.name}`);
        });
      });
  });
});
