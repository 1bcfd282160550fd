/** What of a candidate bears load, and where it stands and sits in its beam model. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { add, dot, norm, scale, sub, unit, type Vec3 } from '#kernel';
import { readProject } from '#project';
import { expectWithin } from '../../../test/expect-within.ts';
import { beamYaml, fixtureModel } from '../../../test/fixtures/beam.ts';
import { openWorkspace } from '../workspace.ts';
import { runBox } from './box.ts';
import { runFold } from './fold.ts';
import { foldedFrame, rideFrame } from './frame-context.ts';
import { loadBearing, stationMm } from './frame-parts.ts';
import { runHandling } from './package.ts';

const ROUNDOFF = { relative: 1e-12, absolute: 1e-9 };
const root = join(import.meta.dirname, '../../../examples/quayside');
const texts = new Map(
  readdirSync(root, { recursive: true, encoding: 'utf8' })
    .filter((f) => f.endsWith('.yaml'))
    .map((f) => [f.replaceAll('\\', '/'), readFileSync(join(root, f), 'utf8')]),
);
function quayside(id: string, ...changes: readonly (readonly [string, string])[]) {
  const file = `candidates/${id}.yaml`;
  const text = changes.reduce((t, [from, to]) => {
    if (!t.includes(from)) throw new Error(`${id} has no "${from}"`);
    return t.replace(from, to);
  }, texts.get(file)!);
  const workspace = openWorkspace(readProject(new Map([...texts, [file, text]])).project!);
  const candidate = workspace.project.candidates.find((c) => c.id === id)!;
  const s = candidate.model.newState();
  candidate.model.fill(candidate.model.x, s);
  return { candidate, s, bearing: loadBearing(candidate, s), setting: workspace.setting };
}
function fixture(...changes: readonly (readonly [string, string])[]) {
  const candidate = fixtureModel(undefined, beamYaml(...changes));
  const s = candidate.model.newState();
  candidate.model.fill(candidate.model.x, s);
  return { candidate, s, bearing: loadBearing(candidate, s) };
}
const LUG = '{name: lug, at: hinge_mid, size: [30, 50, 50 mm], offset: [-15 mm, 0, 0], mass: 0.12 kg}';

describe('what bears load', () => {
  it('is every tube of the file, then bought bars and posts with their own diameter', () => {
    const saddle = '  - {part: saddle city, body: seat_post, at: saddle}\n';
    const { bearing } = fixture([
      saddle,
      `${saddle}  - {part: seat post 27.2, name: inner, body: seat_post, at: saddle}\n`,
    ]);
    const named = (name: string) => bearing.tubes.find((t) => t.name.startsWith(name))!;
    const od = (name: string) => named(name).ends[0];
    expectWithin(od('inner').height, 27.2, ROUNDOFF);
    // a bar bears by its tube, not by the grips round it
    expect(od('handlebar').height).toBeLessThan(30);
    expect(od('front.beam')).toMatchObject({ height: expect.closeTo(56, 9), width: expect.closeTo(40, 9) });
    expect(named('handlebar').welded).toBe(false);
  });
  it('counts an axle once: that of the file, with or without a middle point, or one of its own', () => {
    const axles = (b: { readonly tubes: readonly { readonly name: string }[] }) =>
      b.tubes.map((t) => t.name).filter((n) => /axle/.test(n));
    const rear = '{name: axle, from: dropout_left, to: dropout_right, via: [rear_hub],';
    expect(axles(quayside('city').bearing)).toEqual(['frame.axle', 'fork.axle']);
    const straight = quayside('city', [rear, '{name: axle, from: dropout_left, to: dropout_right,']).bearing;
    expect(axles(straight)).toEqual(['frame.axle', 'fork.axle']);
    expect(straight.blocks.map((b) => b.name)).toContain('frame hub');
    expect(axles(quayside('four_bar').bearing)).toEqual(['rear axle (not drawn)', 'fork axle (not drawn)']);
  });
  it('takes a block with a section for a member between its stations, its box for the fibres', () => {
    const { bearing, s, candidate } = fixture([
      LUG,
      '{name: lug, at: hinge_mid, to: beam_rear, size: [60, 24, 40 mm], section: {area: 620 mm2, side: 210000 mm4, top: 90000 mm4, twist: 160000 mm4}, material: 6061-T6}',
    ]);
    const lug = bearing.tubes.find((t) => t.name === 'rear.lug')!;
    const { names } = candidate.model.top;
    expect(lug.points).toEqual(['hinge_mid', 'beam_rear'].map((n) => stationMm(s, names.stations.indexOf(n))));
    expectWithin(lug.ends[0].height, 40, ROUNDOFF);
    expectWithin(lug.ends[0].width, 24, ROUNDOFF);
    const { section } = lug.given as unknown as { section: Record<string, number> };
    for (const [key, value] of Object.entries({
      area: 620,
      iz: 210e3,
      iy: 90e3,
      j: 160e3,
      asy: 620 / 1.2,
      asz: 620 / 1.2,
    }))
      expectWithin(section[key]!, value, ROUNDOFF, key);
    expect(bearing.blocks.map((b) => b.name)).not.toContain('rear.lug');
  });
  it('takes a block with a matrix as the file gives it, material or not', () => {
    const rows = [9e4, 8e3, 4e3, 5e7, 6e7, 9e7].map(
      (k, i, all) => `[${all.map((_, j) => (i === j ? k : 0)).join(', ')}]`,
    );
    const { bearing } = fixture([
      LUG,
      `{name: lug, at: hinge_mid, to: beam_rear, size: [60, 24, 40 mm], stiffness: [${rows.join(', ')}], mass: 0.2 kg}`,
    ]);
    const { given } = bearing.tubes.find((t) => t.name === 'rear.lug')!;
    expect((given as { stiffness: number[] }).stiffness.filter((k) => k > 0)).toEqual([9e4, 8e3, 4e3, 5e7, 6e7, 9e7]);
  });
});

describe.each(['city', 'four_bar', 'side_beam', 'spine', 'swing_rear'])('%s as ridden', (id) => {
  const { candidate, s, bearing, setting } = quayside(id);
  const { model } = candidate;
  const { built, context, seated } = rideFrame(candidate, s, bearing, setting);
  const nodeAt = (place: keyof typeof context.places): Vec3 => built.structure.nodes[context.places[place]]!.at;

  it('stands with its seat post where the heaviest rider wants it, and its clamp where the file has it', () => {
    const joint = model.roles.seatPost;
    const axis: Vec3 = [0, 1, 2].map((k) => s.joint[6 * joint + 3 + k]!) as unknown as Vec3;
    const up = axis[2] < 0 ? scale(axis, -1) : axis;
    const raised = sub(context.saddle, stationMm(s, model.roles.saddle));
    const raise = 1e3 * seated!.saddle.raise;
    expect(raise).not.toBe(0);
    expectWithin(norm(sub(raised, scale(up, raise))), 0, ROUNDOFF);
    const clamp = [0, 1, 2].map((k) => 1e3 * s.joint[6 * joint + k]!) as unknown as Vec3;
    expectWithin(norm(sub(nodeAt('postClamp'), clamp)), 0, ROUNDOFF);
    // the saddle's clamp has moved along with it
    const post = bearing.tubes.find((t) => t.body === model.roles.saddleBody && t.points.length === 2)!;
    const ends = post.points.map((p) => norm(sub(add(p, scale(up, raise)), nodeAt('saddleClamp'))));
    expectWithin(Math.min(...ends), 0, ROUNDOFF);
  });
  it('is loaded where wheels, pedals and hands are', () => {
    const { roles, wheels } = model;
    for (const [place, station] of [
      ['rearAxle', wheels.rear.station],
      ['frontAxle', wheels.front.station],
      ['crank', roles.crank],
      ['gripLeft', roles.gripLeft],
      ['gripRight', roles.gripRight],
    ] as const)
      expectWithin(norm(sub(nodeAt(place), stationMm(s, station))), 0, { absolute: 1 }, place);
    expectWithin(norm(sub(nodeAt('crank'), stationMm(s, roles.crank))), 0, ROUNDOFF);
  });
  it('carries all of its mass, its rider by shares that sum to one, its luggage at the bag', () => {
    expectWithin(
      context.lumps.reduce((sum, l) => sum + l.mass, 0),
      context.mass,
      ROUNDOFF,
    );
    expectWithin(context.seated[0] + context.seated[1] + context.seated[2], 1, ROUNDOFF);
    for (const share of context.seated) expect(share).toBeGreaterThan(0.04);
    const bag = stationMm(s, model.top.names.stations.indexOf('bag'));
    expectWithin(norm(sub(context.luggageAt!, bag)), 0, ROUNDOFF);
    if (id === 'city') expect(context.places.luggage).toBe(context.places.rearAxle);
    else expect(built.nodeBody[context.places.luggage]).not.toBe(model.roles.saddleBody);
  });
});

describe.each(['four_bar', 'side_beam', 'spine', 'swing_rear'])('%s folded', (id) => {
  it('stands on level ground on all that its file names', () => {
    const { candidate, s, bearing, setting } = quayside(id);
    const { model } = candidate;
    const fold = runFold(model, s);
    const box = runBox(model, s, fold, new Float64Array(model.top.names.shapes.length));
    const { rest } = runHandling(model, box, setting).standing;
    const up = rest.converged ? rest.up : box.folded.up;
    const { context } = foldedFrame(candidate, s, bearing, setting, fold.plan, up);
    expect(context.stands.length).toBeGreaterThanOrEqual(3);
    const heights = context.stands.map((x) => x.at[2]);
    // a file's feet may hang a few millimetres above the ground that the others touch
    expect(Math.max(...heights) - Math.min(...heights)).toBeLessThan(6);
    for (const { node } of context.stands) expect(node).toBeGreaterThanOrEqual(0);
    // turned upside down it stands on its head
    const over = foldedFrame(candidate, s, bearing, setting, fold.plan, scale(unit(up), -1));
    expectWithin(over.context.com[2], -context.com[2], { absolute: 1e-6 });
    expectWithin(dot(context.steerAxis, context.steerAxis), 1, ROUNDOFF);
  });
});
