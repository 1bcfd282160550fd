import { describe, expect, it } from 'vitest';
import { beamYaml } from '../../test/fixtures/beam.ts';
import type { Problem } from './problems.ts';
import { type ResolvedCandidate, resolveCandidate } from './resolve.ts';
import { readDocument } from './text.ts';

function resolveText(yaml: string, variant?: string): { candidate?: ResolvedCandidate; problems: Problem[] } {
  const { document, problems } = readDocument('candidates/beam.yaml', yaml);
  expect(problems).toEqual([]);
  return resolveCandidate(document!, variant === undefined ? {} : { variant });
}
/** Problems of the fixture after replacing texts, with the text that the caret underlines. */
function faults(...changes: readonly (readonly [string, string])[]) {
  const yaml = beamYaml(...changes);
  const lines = yaml.split('\n');
  return resolveText(yaml).problems.map((p) => ({
    code: p.code,
    path: p.path,
    text: lines[p.line - 1]!.slice(p.column - 1, p.column - 1 + p.length),
    all: [p.message, p.expected, p.found, p.hint].join(' | '),
    severity: p.severity,
  }));
}
describe('problems of a candidate', () => {
  it.each<[string, [string, string], string, string, RegExp]>([
    [
      'a missing station',
      ['{name: head, from: head_bottom', '{name: head, from: head_botom'],
      'station.missing',
      'head_botom',
      /did you mean `head_bottom`/,
    ],
    [
      'a zero-length tube',
      ['{name: head, from: head_bottom', '{name: head, from: head_top'],
      'tube.zero_length',
      'head_top',
      /no length.*head_top and head_top are the same point/,
    ],
    [
      'a wall above the radius',
      ['round 38 x 2 mm', 'round 38 x 20 mm'],
      'section.wall',
      'round 38 x 20 mm',
      /thicker than its radius.*at most 19 mm.*wall 20 mm/,
    ],
    [
      'a wall that is not positive',
      ['round 38 x 2 mm', 'round 38 x 0 mm'],
      'section.wall',
      'round 38 x 0 mm',
      /above 0/,
    ],
    [
      'a section that cannot be read',
      ['round 38 x 2 mm', 'round 38 mm'],
      'section.syntax',
      'round 38 mm',
      /DIAMETER x WALL/,
    ],
    [
      'an unknown shape of section',
      ['rectangular 30 x 20 x 1.5 mm', 'rectangel 30 x 20 x 1.5 mm'],
      'section.syntax',
      'rectangel 30 x 20 x 1.5 mm',
      /did you mean `rectangular`/,
    ],
    [
      'bends that do not fit',
      ['bend_radius: 50 mm', 'bend_radius: 500 mm'],
      'value.range',
      '500 mm',
      /do not fit.*smaller bend radius/,
    ],
    [
      'a joint of a body with itself',
      ['between: [rear, front]', 'between: [rear, rear]'],
      'joint.same_body',
      '[',
      /connects rear to itself/,
    ],
    [
      'a gap at a joint',
      ['at: [bar_foot, bar_foot]', 'at: [bar_foot, head_top]'],
      'joint.gap',
      '[',
      /are 31\.544 mm apart.*at most 0\.1 mm.*move one of the two/,
    ],
    ['an axis without direction', ['axis: [0.7, -0.7, 0]', 'axis: [0, 0, 0]'], 'joint.axis', '[', /no direction/],
    [
      'a cycle',
      ['wheelbase: 1000 mm', 'wheelbase: 2 * half_base'],
      'expression.cycle',
      '2 * half_base',
      /wheelbase → half_base → wheelbase/,
    ],
    ['a unit of the wrong kind', ['beam_od x 2 mm', 'beam_od x 2 kg'], 'expression.unit', '2 kg', /length/],
    ['an unknown name in an expression', ['beam_od x 2 mm', 'beam_do x 2 mm'], 'expression.name', 'beam_do', /beam_od/],
    [
      'a number that is not finite',
      ['hub_height: 190 mm', 'hub_height: 190 mm / 0'],
      'expression.not_finite',
      '190 mm / 0',
      /finite/,
    ],
    ['NaN', ['beam_height: 500 mm', 'beam_height: .nan'], 'expression.syntax', '.', /number/],
    ['infinity', ['beam_height: 500 mm', 'beam_height: 1e999 mm'], 'expression.not_finite', '1e999', /too large/],
    ['an unknown key', ['cut_out: 45 mm', 'cutout: 45 mm'], 'key.unknown', 'cutout', /did you mean `cut_out`/],
    [
      'an unknown key deep inside',
      ['preload: 2.5 kN', 'pre_load: 2.5 kN'],
      'key.unknown',
      'pre_load',
      /did you mean `preload`/,
    ],
    ['a missing key', [', section: round 44 x 3 mm', ''], 'key.missing', '{', /lacks `section`/],
    ['a word that is no choice', ['held: clamp', 'held: clam'], 'value.choice', 'clam', /did you mean `clamp`/],
    [
      'a name that is none',
      ['  hub_height: 190', '  Hub: 3 mm\n  hub_height: 190'],
      'name.invalid',
      'Hub',
      /small letters/,
    ],
    [
      'a list for a name',
      ['{name: head, from: head_bottom', '{name: head, from: [1, 2]'],
      'type.wrong',
      '[',
      /should be a text, not a list/,
    ],
    [
      'an unknown body',
      ['between: [front, fork]', 'between: [front, frok]'],
      'name.unknown',
      'frok',
      /did you mean `fork`/,
    ],
    [
      'an unknown material',
      ['x 3 mm, material: 6061-T6', 'x 3 mm, material: 6061-T66'],
      'material.unknown',
      '6061-T66',
      /6061-T6/,
    ],
    [
      'an unknown part',
      ['part: saddle city', 'part: sadle city'],
      'part.unknown',
      'sadle city',
      /did you mean `saddle city`/,
    ],
    ['a field that a part does not have', ['ring: 52', 'rings: 52'], 'key.unknown', 'rings', /did you mean `ring`/],
    [
      'a part without a body',
      ['{part: saddle city, body: seat_post,', '{part: saddle city,'],
      'key.missing',
      '{',
      /on which body it sits/,
    ],
    [
      'two parts of one name',
      ['name: bag, body', 'name: saddle, body'],
      'name.duplicate',
      '{',
      /two parts are called `saddle`/,
    ],
    [
      'no front wheel',
      ['  - {part: wheel 40-305 front, body: fork, at: front_hub}\n', ''],
      'role.missing',
      'parts',
      /no front wheel/,
    ],
    ['no steerer', ['kind: steerer', 'kind: pivot'], 'role.missing', 'joints', /no joint is the steerer/],
    ['no saddle', ['  - {part: saddle city, body: seat_post, at: saddle}\n', ''], 'role.missing', 'parts', /no saddle/],
    [
      'a body that nothing ties',
      ['    between: [fork, bar]', '    between: [fork, seat_post]'],
      'body.unconnected',
      'bar',
      /no joint ties the body `bar`/,
    ],
    [
      'a body with nothing in it',
      ['  bar:\n', '  spare: {}\n  bar:\n'],
      'body.empty',
      'spare',
      /no members and no parts/,
    ],
    [
      'a move of an unknown joint',
      ['{move: turn, joint: main', '{move: turn, joint: mian'],
      'name.unknown',
      'mian',
      /did you mean `main`/,
    ],
    [
      'a turn of a slide',
      ['{move: lower, joint: post_clamp', '{move: turn, joint: post_clamp'],
      'fold.move',
      'turn',
      /does not turn/,
    ],
    [
      'a move beyond the range',
      ['to: 170 deg', 'to: 190 deg'],
      'fold.range',
      '190 deg',
      /between 0 deg and 178 deg.*190 deg/,
    ],
    [
      'a move of a joint that is held',
      ['  - {move: release, joint: main}\n', ''],
      'fold.move',
      'turn',
      /still held by its latch/,
    ],
    [
      'a release of what nothing holds',
      ['  - {move: lock, joint: post_clamp}', '  - {move: release, joint: steering}'],
      'fold.move',
      'release',
      /nothing to release/,
    ],
    [
      'a range without the ride posture',
      ['travel: [-190 mm, 0]', 'travel: [-190 mm, -10 mm]'],
      'value.range',
      '[',
      /leaves out the ride posture/,
    ],
    ['a post that turns', ['travel: [-190 mm, 0]', 'turn: [0, 10 deg]'], 'key.unknown', 'turn', /a post has no `turn`/],
    [
      'negative hardware',
      ['preload: 2.5 kN', 'preload: -2.5 kN'],
      'value.range',
      '-2.5 kN',
      /preload of main cannot be/,
    ],
    ['stiffness of nothing', ['twist: 20 kN.m/rad', 'twist: 0'], 'value.range', '0', /more than 0/],
    [
      'a stiffness in the wrong unit',
      ['twist: 20 kN.m/rad', 'twist: 20 kN/mm'],
      'expression.unit',
      '20 kN/mm',
      /kN\/mm/,
    ],
    [
      'a hardware shape that is none',
      ['shape: box 50 x 44 x 50 mm', 'shape: ball 50 mm'],
      'section.syntax',
      'ball 50 mm',
      /box ALONG/,
    ],
    [
      'an exclusion of nothing',
      ['between: [fork.steerer, front.head]', 'between: [fork.steer, front.head]'],
      'name.unknown',
      'fork.steer',
      /did you mean `fork.steerer`/,
    ],
    [
      'rolling on nothing',
      ['rolls_on: [rear_wheel', 'rolls_on: [rear_whel'],
      'name.unknown',
      'rear_whel',
      /did you mean `rear_wheel`/,
    ],
    [
      'a weighing of an unknown body',
      ['  fork: {mass: 2.4 kg', '  frok: {mass: 2.4 kg'],
      'name.unknown',
      '{',
      /did you mean `fork`/,
    ],
    [
      'a weighed total that is impossible',
      ['  fork: {mass: 2.4 kg', '  fork: {mass: -2.4 kg'],
      'value.range',
      '{',
      /cannot be used/,
    ],
    ['a block without mass', [', mass: 0.12 kg}', '}'], 'key.missing', '{', /has no mass/],
  ])('%s is told at its place', (_, change, code, text, words) => {
    const found = faults(change);
    const problem = found.find((p) => p.code === code);
    expect(
      found.map((p) => `${p.code} ${p.text}`),
      code,
    ).toContainEqual(expect.stringContaining(code));
    expect(problem!.text.startsWith(text), `${problem!.text} should begin with ${text}`).toBe(true);
    expect(problem!.all.replaceAll('\n', ' ')).toMatch(words);
    expect(problem!.severity).toBe('error');
  });
  it('come all in one pass', () => {
    const found = faults(
      ['round 38 x 2 mm', 'round 38 x 20 mm'],
      ['between: [front, fork]', 'between: [front, frok]'],
      ['part: saddle city', 'part: sadle city'],
    ).map((p) => p.code);
    expect(found).toEqual(expect.arrayContaining(['section.wall', 'name.unknown', 'part.unknown']));
  });
  it('tell one cause once: what depends on a broken number is not complained about again', () => {
    expect(faults(['wheelbase: 1000 mm', 'wheelbase: 1000 mmm']).map((p) => p.code)).toEqual(['expression.unit']);
    expect(faults(['hub_height: 190 mm', 'hub_height: 190 mm / 0']).map((p) => p.code)).toEqual([
      'expression.not_finite',
    ]);
  });
  it('tell one cause once: what refers to a joint, a tube or a part that cannot be read is not unknown', () => {
    const only = (change: [string, string]) => faults(change).map((p) => `${p.code} ${p.path}`);
    expect(only(['between: [rear, front]', 'between: [rear, rear]'])).toEqual(['joint.same_body joints.main.between']);
    expect(only(['between: [rear, front]', 'between: [rear, frnt]'])).toEqual(['name.unknown joints.main.between.1']);
    expect(only(['between: [front, fork]', 'between: [front, frok]'])).toEqual([
      'name.unknown joints.steering.between.1',
    ]);
    expect(only(['wheel 40-305 rear, body: rear', 'whel 40-305 rear, body: rear'])).toEqual([
      expect.stringMatching(/^part\.unknown parts\.\d+\.part$/),
    ]);
    expect(only(['part: saddle city', 'part: sadle city'])).toEqual([
      expect.stringMatching(/^part\.unknown parts\.\d+\.part$/),
    ]);
  });
  it('tell a length in the wrong unit once, by the first station out of reach', () => {
    const found = faults(['wheelbase: 1000 mm', 'wheelbase: 1000 m']);
    expect(found.map((p) => p.code)).toEqual(['value.range']);
    expect(found[0]!.all).toMatch(/more than 100 m from the origin.*a unit is mistyped/);
  });
  it('say what a name of the wrong unit stands for, and where', () => {
    const [first] = faults(['wheelbase: 1000 mm', 'wheelbase: 1000 deg']);
    expect(first).toMatchObject({ code: 'expression.unit', text: 'wheelbase' });
    expect(first!.all).toMatch(/`wheelbase` is 1000 deg \(line \d+\)/);
  });
  it('tell a cycle of stations once for all three coordinates', () => {
    const found = faults(
      ['beam_rear: {from: crank,', 'beam_rear: {from: hinge_back,'],
      ['  hinge: [', '  hinge_back: {from: beam_rear, by: [0, 0, 0]}\n  hinge: ['],
    );
    expect(found.filter((p) => p.code === 'expression.cycle').length).toBe(1);
  });
  it('caution where a wheel does not stand on the ground, and refuse another origin', () => {
    expect(faults(['hub_height: 190 mm', 'hub_height: 203 mm'])).toMatchObject([
      { code: 'value.range', severity: 'caution', path: 'stations.front_hub' },
      { code: 'value.range', severity: 'caution', path: 'stations.rear_hub' },
    ]);
    expect(faults(['rear_hub: [0, 0', 'rear_hub: [5 mm, 0'])).toMatchObject([
      { code: 'value.range', severity: 'error', path: 'stations.rear_hub' },
    ]);
  });
  it('refuse a wheel that is not at its hub', () => {
    const found = faults(['body: fork, at: front_hub', 'body: fork, at: bag_point']);
    expect(found.map((p) => p.code)).toContain('role.missing');
    expect(found[0]!.all).toMatch(/should be at front_hub/);
  });
  it('only caution where a drive crosses a moving joint off its axis', () => {
    const crossing = faults(
      ['wheel 40-305 rear, body: rear', 'wheel 40-305 rear, body: front'],
      ['{part: chain, body: rear, at: crank}', '{part: chain, body: front, at: crank}'],
    );
    expect(crossing).toMatchObject([{ code: 'drive.crosses', severity: 'caution' }]);
    expect(crossing[0]!.all).toMatch(/common practice, no source/);
    const released = faults(
      ['wheel 40-305 rear, body: rear', 'wheel 40-305 rear, body: front'],
      ['to: rear_hub, side: right}', 'to: rear_hub, side: right, releasable: yes}'],
    );
    expect(released).toEqual([]);
  });
});
