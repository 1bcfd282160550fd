import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readBrief } from './brief.ts';
import { readDocument } from './text.ts';
import { DIMENSION } from './units.ts';

const TEXT = readFileSync(new URL('../../test/fixtures/harbour-brief.yaml', import.meta.url), 'utf8');
function read(...changes: readonly (readonly [string, string])[]) {
  const text = changes.reduce((t, [from, to]) => {
    expect(t).toContain(from);
    return t.replace(from, to);
  }, TEXT);
  const { document, problems } = readDocument('brief.yaml', text);
  expect(problems).toEqual([]);
  return { ...readBrief(document!), lines: text.split('\n') };
}

describe('a brief', () => {
  it('is read into SI, each limit with its unit and place', () => {
    const { brief, problems } = read();
    expect(problems).toEqual([]);
    expect(brief!.riders).toMatchObject({
      shortest: 1.5,
      tallest: 1.95,
      heaviest: 110,
      usual: { stature: 1.72, mass: 75, sex: 'mixed' },
    });
    expect(brief!.trip).toMatchObject({ stairs: 60, climb: 0.11, descent: 0.11, speed: 5 });
    expect(brief!.luggage).toEqual({ mass: 6, at: 'bag' });
    expect(brief!.market).toEqual({ volume: 2500, price: 1490, region: 'EU' });
    expect(brief!.stakes).toEqual({ prototype: 9000, days: 45 });
    expect(brief!.weightsSweep).toBe(0.3);
    expect(brief!.reference).toBe('city');
    const demand = brief!.demands[0]!;
    expect(demand.atMost).toMatchObject({ value: 12.5, dimension: DIMENSION.mass, unit: 'kg', zero: false });
    expect(demand.span).toMatchObject({ line: 19, length: 'mass.total'.length });
    expect(brief!.demands[1]!.atLeast).toMatchObject({ value: 0, zero: true });
    expect(brief!.wishes[0]).toMatchObject({ weight: 3, best: { value: 10 }, worst: { value: 13 } });
  });
  it('has three kinds of spaces', () => {
    const { brief } = read();
    expect(brief!.spaces).toMatchObject([
      { name: 'bench', kind: 'opening', width: 0.64, height: 0.33, depth: 0.95, margin: 0.01, lies: 'flat' },
      { name: 'locker', kind: 'box', size: [0.9, 0.65, 0.4], margin: 0.005, lies: 'any' },
      { name: 'aisle', kind: 'stand', footprint: [0.7, 0.4], height: 0.9, jerk: 0.15 },
    ]);
  });
  it('has load cases: only the figures that it changes, in SI', () => {
    const { brief } = read();
    expect(brief!.loads).toEqual({
      class: 'city',
      cases: { step: { height: 0.02, speed: 15 / 3.6 }, pedalling: { force: 1200, crank_angle: Math.PI / 2 } },
      use: { distance: 15e6, kerbs: 0.1 },
    });
  });
  it('names the nearest load case and the nearest figure for a slip', () => {
    const hint = (change: [string, string]) => read(change).problems.map((p) => p.hint);
    expect(hint(['pedalling:', 'pedaling:'])).toEqual(['did you mean `pedalling`?']);
    expect(hint(['height: 20 mm', 'hight: 20 mm'])).toEqual(['did you mean `height`?']);
    expect(hint(['kerbs: 0.1', 'kerb: 0.1'])).toEqual(['did you mean `kerbs`?']);
  });
  it('may say no more than its name; riders and sweep then have defaults, costs are not known', () => {
    const { document } = readDocument('brief.yaml', 'format: 1\nbrief: Short\n');
    const { brief } = readBrief(document!);
    expect(brief!.riders.heaviest).toBe(110);
    expect(brief!.stakes.prototype).toBeNaN();
    expect(brief!.loads).toEqual({ class: 'city', cases: {}, use: {} });
    expect(brief!.demands).toEqual([]);
  });
  it.each<[string, [string, string], string, string]>([
    [
      'a limit of no kind',
      ['at_most: 12.5 kg, because', 'because'],
      'demand.limit',
      '{quantity: mass.total, because: 60 steps in one hand}',
    ],
    [
      'limits that exclude one another',
      ['at_most: 12.5 kg', 'at_most: 12.5 kg, at_least: 13 kg'],
      'demand.limit',
      '13 kg',
    ],
    ['limits of different kinds', ['at_most: 12.5 kg', 'at_most: 12.5 kg, at_least: 1 mm'], 'expression.unit', '1 mm'],
    ['best and worst alike', ['worst: 13 kg', 'worst: 10 kg'], 'demand.limit', '10 kg'],
    ['best and worst of different kinds', ['worst: 13 kg', 'worst: 13 mm'], 'expression.unit', '13 mm'],
    ['a weight of nothing', ['weight: 3', 'weight: 0'], 'value.range', '0'],
    ['a stature in kilograms', ['shortest: 1.50 m', 'shortest: 50 kg'], 'expression.unit', '50 kg'],
    ['a rider of 17 metres', ['tallest: 1.95 m', 'tallest: 17 m'], 'value.range', '17 m'],
    ['shortest above tallest', ['shortest: 1.50 m', 'shortest: 1.98 m'], 'value.range', '1.98 m'],
    ['an opening without width', ['opening: [640 mm,', 'opening: [0,'], 'value.range', '0'],
    ['a space of an unknown kind', ['kind: stand', 'kind: stant'], 'value.choice', 'stant'],
    ['a key of another kind of space', ['jerk: 0.15', 'jrek: 0.15'], 'key.unknown', 'jrek'],
    [
      'the same demand twice',
      ['{quantity: space.bench.margin, at_least: 0}', '{quantity: mass.total, at_most: 12 kg}'],
      'name.duplicate',
      'mass.total',
    ],
    ['a name in a number', ['mass: 6 kg', 'mass: bag_mass'], 'expression.name', 'bag_mass'],
    ['an unknown load case', ['pedalling:', 'pedaling:'], 'key.unknown', 'pedaling'],
    ['an unknown figure', ['height: 20 mm', 'hight: 20 mm'], 'key.unknown', 'hight'],
    ['a step in newtons', ['height: 20 mm', 'height: 20 N'], 'expression.unit', '20 N'],
    ['a force without a unit', ['force: 1.2 kN', 'force: 1200'], 'expression.unit', '1200'],
    ['a step of the wrong size', ['height: 20 mm', 'height: 20 m'], 'value.range', '20 m'],
    ['a negative count', ['kerbs: 0.1', 'kerbs: -1'], 'value.range', '-1'],
    ['a class of no standard', ['class: city', 'class: citty'], 'value.choice', 'citty'],
    ['a sweep beyond the weights', ['weights_sweep: 30 %', 'weights_sweep: 130 %'], 'value.range', '130 %'],
  ])('is told of %s at its place', (_, change, code, text) => {
    const { brief, problems, lines } = read(change);
    const found = problems.map((p) => `${p.code} ${lines[p.line - 1]!.slice(p.column - 1, p.column - 1 + p.length)}`);
    expect(found).toContain(`${code} ${text}`);
    expect(brief).toBeUndefined();
  });
});
