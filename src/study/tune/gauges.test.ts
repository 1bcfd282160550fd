import { expect, test } from 'vitest';
import { readProject, stockFor } from '#project';
import { plainBeamFiles } from '../../../test/fixtures/plain-beam.ts';
import { runFrame } from '../run/frame.ts';
import { openWorkspace, type Workspace } from '../workspace.ts';
import { sizable } from './gauges.ts';

function starter(edit: (text: string) => string = (t) => t): Workspace {
  const files = plainBeamFiles();
  files.set('candidates/side_beam.yaml', edit(files.get('candidates/side_beam.yaml')!));
  const { project, problems } = readProject(files);
  if (!project) throw new Error(JSON.stringify(problems));
  return openWorkspace(project);
}
function sizes(w: Workspace, outside = false) {
  const [c] = w.candidates;
  const s = c!.model.newState();
  c!.model.fill(c!.model.x, s);
  return sizable(c!, runFrame(c!, s, w.setting), outside);
}

test('tubes that are one on the other side are one group, by name', () => {
  const { groups } = sizes(starter());
  const stays = groups.find((g) => g.tubes.includes('rear.chain_stay_left'))!;
  expect(stays).toMatchObject({
    tubes: ['rear.chain_stay_left', 'rear.chain_stay_right'],
    words: 'chain stays of rear',
  });
  expect(groups.find((g) => g.tubes.includes('fork.blade_left'))!.tubes).toContain('fork.blade_right');
  expect(groups.find((g) => g.tubes.includes('rear.beam'))!.tubes).toEqual(['rear.beam']);
});

test('… and by place where their names do not tell', () => {
  const w = starter((t) =>
    t.replace('name: chain_stay_left', 'name: near_stay').replace('name: chain_stay_right', 'name: far_stay'),
  );
  expect(sizes(w).groups.find((g) => g.tubes.includes('rear.near_stay'))!.tubes).toEqual([
    'rear.near_stay',
    'rear.far_stay',
  ]);
  const uneven = starter((t) =>
    t
      .replace(
        'via: [{from: crank, by: [-115 mm, -24 mm, -12 mm]}',
        'via: [{from: crank, by: [-110 mm, -24 mm, -12 mm]}',
      )
      .replace('name: chain_stay_left', 'name: near_stay')
      .replace('name: chain_stay_right', 'name: far_stay'),
  );
  expect(sizes(uneven).groups.find((g) => g.tubes.includes('rear.near_stay'))!.tubes).toEqual(['rear.near_stay']);
});

test('two sides of different section are sized each by itself', () => {
  let first = true;
  const w = starter((t) =>
    t.replaceAll('section: round 20 x 1.5 mm', (s) => {
      const own = first;
      first = false;
      return own ? 'section: round 20 x 2 mm' : s;
    }),
  );
  const { groups } = sizes(w);
  expect(groups.find((g) => g.tubes.includes('rear.chain_stay_left'))!.tubes).toEqual(['rear.chain_stay_left']);
});

test('where a list has several walls for the outside they count, all of them and no others', () => {
  const { groups } = sizes(starter());
  const beam = groups.find((g) => g.tubes.includes('rear.beam'))!;
  expect(beam.gauges.map((g) => g.section)).toEqual(['round 50 x 2 mm', 'round 50 x 3 mm', 'round 50 x 5 mm']);
  const listed = stockFor('6061-T6').filter((t) => t.od_mm === 50 && !t.butted);
  expect(beam.gauges.map((g) => g.wall_mm)).toEqual(listed.map((t) => t.wall_mm));
  expect(beam.gauges[beam.now]!.section).toBe(beam.section);
});

test('where no list has the outside the wall series counts, between od/50 and od/6, 1 mm at least for light alloys', () => {
  const { groups } = sizes(starter());
  const mast = groups.find((g) => g.tubes.includes('bar.mast'))!;
  expect(mast.gauges.every((g) => g.from === 'drawn to order' && g.height_mm === 36)).toBe(true);
  expect(mast.gauges[0]!.wall_mm).toBe(1);
  expect(mast.gauges.at(-1)!.wall_mm).toBe(5);
});

test('a drawn wall that is thicker than its list stays possible', () => {
  const w = starter((t) => t.replace('section: round 28.6 x 2 mm', 'section: round 28.6 x 2.3 mm'));
  const steerer = sizes(w).groups.find((g) => g.tubes.includes('fork.steerer'))!;
  expect(steerer.gauges.map((g) => [g.wall_mm, g.from])).toEqual([
    [0.71, 'inch steel'],
    [0.91, 'inch steel'],
    [1.21, 'inch steel'],
    [1.63, 'inch steel'],
    [1.8, 'drawn to order'],
    [2, 'drawn to order'],
    [2.2, 'drawn to order'],
    [2.3, 'as drawn'],
  ]);
});

test('a tube in which another runs keeps its bore: left alone, or with another outside of that bore', () => {
  const { left } = sizes(starter());
  expect(left.find((l) => l.tubes.includes('rear.seat_tube'))!.because).toBe(
    'post of seat post runs in it: its bore of 34 mm stays',
  );
  expect(left.find((l) => l.tubes.includes('front.head'))!.because).toMatch(/steerer of fork runs in it/);
  const seatTube = sizes(starter(), true).groups.find((g) => g.tubes.includes('rear.seat_tube'))!;
  expect(seatTube.gauges.map((g) => g.section)).toEqual(['round 38 x 2 mm', 'round 40 x 3 mm']);
});

test('with other outsides a tube that runs in another keeps its own', () => {
  const post = sizes(starter(), true).groups.find((g) => g.tubes.includes('seat_post.post'))!;
  expect(new Set(post.gauges.map((g) => g.height_mm))).toEqual(new Set([34]));
  const mast = sizes(starter(), true).groups.find((g) => g.tubes.includes('bar.mast'))!;
  expect(new Set(mast.gauges.map((g) => g.height_mm)).size).toBeGreaterThan(2);
});

test.each([
  ['round beam_wall * 25 x beam_wall', 'its section follows beam_wall: change that'],
  ['round 50 mm x 2 mm * 1', 'its wall is a formula, not a number'],
  ['round 50 x 2 to 40 x 1.5 mm', 'it tapers, and the lists have plain tubes'],
  ['round 30 x 15 mm', 'it is a solid bar'],
])('%s is left alone with the reason', (section, because) => {
  const w = starter((t) =>
    t
      .replace('  beam_height: 500 mm', '  beam_height: 500 mm\n  beam_wall: 2 mm')
      .replace(
        '{name: beam, from: hinge_mid, to: head_top, section: round 50 x 2 mm',
        `{name: beam, from: hinge_mid, to: head_top, section: ${section}`,
      ),
  );
  expect(sizes(w).left.find((l) => l.tubes.includes('front.beam'))!.because).toBe(because);
});

test('a material without a list is left alone', () => {
  const w = starter((t) =>
    t.replace(
      '{name: mast, from: bar_foot, to: bar_clamp, section: round 36 x 2 mm, material: 6061-T6}',
      '{name: mast, from: bar_foot, to: bar_clamp, section: round 36 x 2 mm, material: 7075-T6}',
    ),
  );
  expect(sizes(w).left.find((l) => l.tubes.includes('bar.mast'))!.because).toBe('no stock list has 7075-T6');
});

test('a wall is written in the unit of its section', () => {
  const w = starter((t) => t.replace('section: round 36 x 2 mm', 'section: round 36 mm x 0.2 cm'));
  const mast = sizes(w).groups.find((g) => g.tubes.includes('bar.mast'))!;
  expect(mast.gauges.map((g) => g.section)).toContain('round 36 mm x 0.25 cm');
  expect(mast.gauges[mast.now]!.wall_mm).toBe(2);
});
