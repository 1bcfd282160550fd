import { beforeAll, describe, expect, it } from 'vitest';
import { type Model, solidReach } from '#kernel';
import { readProject } from '#project';
import { eigenRows, type Judged, judgeCandidate, openWorkspace, stationAt } from '#study';
import { expectWithin } from '../../test/expect-within.ts';
import { beamYaml } from '../../test/fixtures/beam.ts';
import { eigenPlot } from './eigen-plot.ts';
import { elevation, rideMeasures } from './elevation.ts';
import { foldFigures } from './fold-figures.ts';
import { inLightColours } from './ink.ts';
import { boxPath, capsulePath, discPath } from './outline.ts';
import { boxFrame, packageViews, stowedFit } from './package-views.ts';
import { platesSheet } from './plates.ts';
import { standaloneSvg } from './svg.ts';
import { ASLANT, extentOf, reductionFor, SIDE, scaleOf, viewsAlong } from './view.ts';

/** Coordinates are written to a hundredth of a pixel. */
const WRITTEN_PX = 0.011;
const MM_PER_PX = 25.4 / 96;

const BRIEF = `format: 1
brief: Test
riders: {shortest: 1.5 m, tallest: 1.95 m, heaviest: 110 kg, usual: {stature: 1.72 m, mass: 75 kg, sex: mixed}}
spaces:
  bench: {kind: opening, opening: [640 mm, 330 mm], depth: 950 mm, margin: 10 mm, lies: flat}
demands: [{quantity: mass.total, at_most: 12 kg}]
`;
function judge(yaml: string, change: (m: Model) => Partial<Model> = () => ({})): Judged {
  const { project, problems } = readProject(
    new Map([
      ['foldwright.yaml', 'format: 1\nproject: p\n'],
      ['brief.yaml', BRIEF],
      ['candidates/beam.yaml', yaml],
    ]),
  );
  if (!project) throw new Error(problems.map((p) => p.message).join('\n'));
  const w = openWorkspace(project);
  const candidate = w.candidates[0]!;
  return judgeCandidate(w, { ...candidate, model: { ...candidate.model, ...change(candidate.model) } });
}
/** All coordinates of a path, absolute commands only. */
function points(d: string): [number, number][] {
  const out: [number, number][] = [];
  for (const [, command, list] of d.matchAll(/([MLA])([^MLAZ]*)/g)) {
    const n = list!.trim().split(/\s+/).map(Number);
    out.push(command === 'A' ? [n[5]!, n[6]!] : [n[0]!, n[1]!]);
  }
  return out;
}

describe('outlines', () => {
  const sheet = { scale: 100, origin: [0, 0] as const, left: 0, bottom: 0 };

  it('draws a tube of 1 m with its width true to scale', () => {
    const d = capsulePath([0, 0, 0, 1, 0, 0, 0.02], 0, SIDE, sheet);
    const xs = points(d).map((p) => p[0]);
    const ys = points(d).map((p) => p[1]);
    expectWithin(Math.max(...xs) - Math.min(...xs), 100, { absolute: WRITTEN_PX }, 'straight part of the outline');
    expectWithin(Math.max(...ys) - Math.min(...ys), 4, { absolute: WRITTEN_PX }, 'width of the tube');
    expect(d.match(/A2 2 /g)).toHaveLength(3 - 1);
  });

  it('draws a wheel square to the eye as a circle, edge-on as a rectangle, and aslant as an ellipse of the right axes', () => {
    expect(discPath([0, 0, 0, 0, 1, 0, 0.2, 0.02], 0, SIDE, sheet)).toMatch(/A20 20 /);
    const edge = points(discPath([0, 0, 0, 1, 0, 0, 0.2, 0.02], 0, SIDE, sheet));
    expectWithin(Math.max(...edge.map((p) => p[0])), 2, { absolute: WRITTEN_PX }, 'half thickness');
    expectWithin(Math.max(...edge.map((p) => p[1])), 20, { absolute: WRITTEN_PX }, 'radius');
    const half = Math.SQRT1_2;
    expect(discPath([0, 0, 0, half, half, 0, 0.2, 0], 0, SIDE, sheet)).toMatch(/A20 14\.14 /);
  });

  it('draws a box as the hull of its corners', () => {
    const d = boxPath([0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0, 1, 0.1, 0.2, 0.3], 0, SIDE, sheet);
    expect(points(d).map((p) => p.map(Math.abs))).toEqual(Array.from({ length: 4 }, () => [10, 30]));
  });
});

describe('views', () => {
  it('are right-handed: right × up points to the eye, aslant and along any axes', () => {
    const all = [
      SIDE,
      ASLANT,
      ...Object.values(
        viewsAlong([
          [1, 0, 0],
          [0, -1, 0],
          [0, 0, 1],
        ]),
      ),
    ];
    for (const { right: r, up: u, toward: t } of all) {
      const c = [r[1] * u[2] - r[2] * u[1], r[2] * u[0] - r[0] * u[2], r[0] * u[1] - r[1] * u[0]];
      for (const k of [0, 1, 2] as const) expectWithin(c[k]!, t[k], { absolute: 1e-12 }, 'unit vectors');
    }
  });

  it('print full size to the scale that they name', () => {
    expectWithin(scaleOf(10) * MM_PER_PX, 100, { absolute: 1e-9 }, '1 m at 1:10 is 100 mm');
    expect(reductionFor(1.5, 680, 10)).toBe(10);
    expect(reductionFor(1.9, 680, 10)).toBe(15);
  });
});

describe('pictures of the test candidate', () => {
  let beam: Judged;
  beforeAll(() => {
    beam = judge(beamYaml());
  });

  it('draws the wheelbase of the elevation to scale', () => {
    const { state, model } = beam.evaluation.results;
    const picture = elevation(beam);
    const metres = stationAt(state, model.wheels.front.station)[0] - stationAt(state, model.wheels.rear.station)[0];
    const marks = [...picture.body.matchAll(/d="M([\d.]+) ([\d.]+)H([\d.]+)M/g)].map(
      (m) => (Number(m[1]) + Number(m[3])) / 2,
    );
    expect(marks).toHaveLength(2);
    expectWithin(marks[1]! - marks[0]!, metres * scaleOf(picture.reduction), { absolute: 2 * WRITTEN_PX }, 'hub marks');
  });

  it('names every joint but the cranks, and carries the dimensions of the table beside it', () => {
    const { body } = elevation(beam);
    for (const name of ['main', 'steering', 'bar hinge', 'post clamp (slides)']) expect(body).toContain(`>${name}<`);
    const figure = new Map(rideMeasures(beam).map((m) => [m.name, m.value.toFixed(0)]));
    for (const name of ['wheelbase', 'saddle above the ground', 'grip height', 'bottom bracket height'])
      expect(body).toContain(`>${figure.get(name)}<`);
    expect(body).toContain(`>trail ${figure.get('trail')}<`);
  });

  it('puts the saddle where the seated rider needs it', () => {
    const { steer } = beam.evaluation.results;
    const saddle = rideMeasures(beam).find((m) => m.name === 'saddle above the ground')!;
    expectWithin(saddle.value, steer!.usual.saddle.saddle[2] * 1000, { absolute: 1e-9 }, 'same number');
  });

  it('draws the box of the package with the sides that the study computed, side, end and plan', () => {
    const picture = packageViews(beam)!;
    const px = scaleOf(picture.reduction);
    const boxes = [...picture.body.matchAll(/<rect class="box" [^>]*width="([\d.]+)" height="([\d.]+)"/g)].map((m) => [
      Number(m[1]),
      Number(m[2]),
    ]);
    const [length, width, height] = beam.evaluation.results.box!.size;
    // stowed flat: the axle, and with it the width, stands upright
    const expected = [
      [length, width],
      [height, width],
      [length, height],
    ];
    expect(boxes).toHaveLength(3);
    for (const [i, b] of boxes.entries())
      for (const k of [0, 1] as const)
        expectWithin(b[k]!, expected[i]![k]! * px, { absolute: WRITTEN_PX }, `side ${k} of box ${i}`);
  });

  it('fills the box in every view: the shapes reach all its sides', () => {
    const { box } = beam.evaluation.results;
    const frame = boxFrame(beam)!;
    const views = viewsAlong(frame.axes);
    const side = extentOf(box!.solids.nominal, views.side);
    const tolerance = 2e-5; // the least rectangle is searched to a hundredth of a millimetre
    expectWithin(side.right - side.left, frame.sides[0], { absolute: tolerance }, 'length');
    expectWithin(side.top - side.bottom, frame.sides[2], { absolute: tolerance }, 'height');
    const plan = extentOf(box!.solids.nominal, views.plan);
    expectWithin(plan.top - plan.bottom, frame.sides[1], { absolute: tolerance }, 'depth');
  });

  it('turns a rolled package the way in which the fit was proved', () => {
    const { fit } = stowedFit(beam)!;
    expect(fit.entry).toBe('rolled');
    const { along, up, roll } = fit;
    const across = [
      up[1] * along[2] - up[2] * along[1],
      up[2] * along[0] - up[0] * along[2],
      up[0] * along[1] - up[1] * along[0],
    ] as const;
    const [c, s] = [Math.cos(roll), Math.sin(roll)];
    const upright = [0, 1, 2].map((k) => c * up[k]! - s * across[k]!) as unknown as readonly [number, number, number];
    const solid = beam.evaluation.results.box!.solids.largest;
    const high =
      solidReach(solid, upright) +
      solidReach(solid, upright.map((x) => -x) as unknown as readonly [number, number, number]);
    expectWithin(high, fit.extents.up, { absolute: 1e-6 }, 'height as passed');
  });

  it('makes one figure per motion, with the releases before it and the clearance under it', () => {
    const figures = foldFigures(beam);
    expect(figures.map((f) => f.sentence)).toEqual([
      'Release main, turn main to 170°',
      'Release post clamp, lower post clamp to −180 mm',
      'Lock post clamp, release bar hinge, turn bar hinge to −170°',
    ]);
    figures.forEach((f, i) => {
      const proof = beam.evaluation.results.path!.proofs[i]!;
      expect(f.clear).toBe(proof.least!.gap > 0);
      expect(f.clearance).toContain((Math.abs(proof.least!.gap) * 1000).toFixed(1));
      expect(f.picture.body).toContain('stroke-dasharray="10 3 2 3 2 3"');
    });
    expect(new Set(figures.map((f) => `${f.picture.width} ${f.picture.height}`)).size).toBe(1);
  });

  it('keeps every arrow inside its figure', () => {
    for (const { picture } of foldFigures(beam)) {
      const [arrow] = [
        ...picture.body.matchAll(/<path d="([^"]*)" fill="none" stroke-linejoin="round" stroke="var\(--accent\)"/g),
      ];
      for (const [x, y] of points(arrow![1]!)) {
        expect(x).toBeGreaterThanOrEqual(0);
        expect(x).toBeLessThanOrEqual(picture.width);
        expect(y).toBeGreaterThanOrEqual(0);
        expect(y).toBeLessThanOrEqual(picture.height);
      }
    }
  });

  it('says where a procedure stops that forgets to release a lock', () => {
    const blocked = judge(beamYaml(), (m) => ({ fold: m.fold.slice(1) }));
    const [first] = foldFigures(blocked);
    expect(first!.problem).toMatch(/^Stops here: `main` is moved while it is locked/);
    expect(first!.clear).toBe(false);
  });

  it('marks the nearest points only in a figure that shows them where they are nearest', () => {
    foldFigures(beam).forEach((f, i) => {
      const { least, from, to } = beam.evaluation.results.path!.proofs[i]!;
      const shown = Math.abs(least!.at - to) <= 0.03 * Math.abs(to - from);
      expect(f.picture.body.includes('r="7"')).toBe(shown);
    });
  });

  it('leaves no CSS variable in a picture of its own', () => {
    const file = standaloneSvg(platesSheet([beam, beam]), 'two plates');
    expect(file).not.toContain('var(');
    expect(file).toContain('<style>');
    expect(inLightColours('var(--none)')).toBe('var(--none)');
  });
});

describe('the eigenvalue plot', () => {
  it('follows pairs as the study gives them: at the weave speed a pair has no growth', () => {
    const { steer } = judge(beamYaml()).evaluation.results;
    expect(steer!.weave).not.toBeNull();
    const [row] = eigenRows(steer!, [steer!.weave!]);
    const k = row!.im.findIndex((im) => im > 1e-6);
    expectWithin(row!.re[k]!, 0, { absolute: 1e-6 }, 'weave speed found to rounding');
    expectWithin(row!.im[k]!, -row!.im[k + 1]!, { absolute: 1e-12 }, 'conjugates, +im first');
  });

  it('draws one unbroken line per real part, does not join what is cut off, and marks the steady range', () => {
    const speeds = [0, 1, 2, 3, 4];
    const rows = speeds.map((v) => ({ speed_mps: v, re: [2 - v, -3, -3, -12], im: [0, 1, -1, 0] }));
    const { body } = eigenPlot(rows, 2, 3);
    const solid = [...body.matchAll(/<path d="([^"]*)" fill="none" stroke="var\(--ink\)" stroke-width="1.6"/g)].map(
      (m) => m[1]!,
    );
    expect(solid.map((d) => points(d).length)).toEqual([5, 5, 5]);
    expect(body).toContain('weave ends 2.0');
    expect(body).toContain('capsize from 3.0');
  });
});
