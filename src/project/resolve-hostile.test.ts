import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BEAM_YAML } from '../../test/fixtures/beam.ts';
import { resolveCandidate } from './resolve.ts';
import { readDocument } from './text.ts';

const SCALAR = /(?<=[:[,] )[^\s,[\]{}#:][^,[\]{}#\n:]*/g;
const places = [...BEAM_YAML.matchAll(SCALAR)].map((m) => [m.index, m[0].length] as const);
const nasty = fc.constantFrom(
  '0',
  '-1',
  '0 mm',
  '-5 mm',
  '1e9 mm',
  '1e-300 mm',
  '3 kg',
  '90 deg',
  '1/0',
  'crank',
  'crank.x',
  'wheelbase',
  'rear',
  'front',
  'main',
  'steering',
  'x',
  'round 0 x 0 mm',
  'round 1e9 x 1 mm',
  'wheel 40-406 front',
  'crankset 165',
  'pedal flat',
  'null',
  '~',
  'yes',
  '[]',
  '{}',
  '[1, 2, 3]',
  '{to: crank}',
  '""',
  'toString',
  '__proto__',
  'constructor',
  'sqrt(-1)',
  'hinge.x - hinge.x',
);
function check(yaml: string): void {
  const { document, problems } = readDocument('candidates/beam.yaml', yaml);
  if (!document) return void expect(problems.length).toBeGreaterThan(0);
  const lines = yaml.split('\n').length;
  const result = resolveCandidate(document);
  for (const p of result.problems) {
    expect(p.message).not.toBe('');
    expect(p.line).toBeGreaterThanOrEqual(1);
    expect(p.line).toBeLessThanOrEqual(lines);
  }
  if (!result.candidate) return void expect(result.problems.some((p) => p.severity === 'error')).toBe(true);
  expect(result.problems.every((p) => p.severity === 'caution')).toBe(true);
  const { model } = result.candidate;
  const s = model.newState();
  model.fill(model.x, s);
  for (const array of [s.value, s.station, s.joint, s.range, s.capsule, s.disc, s.box, s.mass])
    expect(array.every(Number.isFinite), yaml).toBe(true);
}

describe('a candidate spoilt at random', () => {
  it('gives problems or a model of finite numbers, and never throws', () => {
    const change = fc.tuple(fc.nat(places.length - 1), nasty);
    fc.assert(
      fc.property(fc.array(change, { minLength: 1, maxLength: 2 }), (changes) => {
        const unique = [...new Map(changes)].sort(([a], [b]) => b - a);
        let yaml = BEAM_YAML;
        for (const [i, text] of unique) {
          const [at, length] = places[i]!;
          yaml = yaml.slice(0, at) + text + yaml.slice(at + length);
        }
        check(yaml);
      }),
      { numRuns: 150 },
    );
  });
  it('is no trouble with lines left out', () => {
    const lines = BEAM_YAML.split('\n');
    fc.assert(
      fc.property(fc.nat(lines.length - 1), fc.integer({ min: 1, max: 3 }), (from, count) => {
        check(lines.toSpliced(from, count).join('\n'));
      }),
      { numRuns: 60 },
    );
  });
});

describe('dimensions swept at random', () => {
  it('never throw while filling, and leave a state that fills right again', () => {
    const { document } = readDocument('candidates/beam.yaml', BEAM_YAML);
    const { model } = resolveCandidate(document!).candidate!;
    const s = model.newState();
    model.fill(model.x, s);
    const right = structuredClone(s);
    const any = fc.oneof(
      fc.double({ min: -2, max: 2 }),
      fc.constantFrom(0, Number.NaN, Number.POSITIVE_INFINITY, 1e300),
    );
    fc.assert(
      fc.property(fc.array(any, { minLength: model.x.length, maxLength: model.x.length }), (values) => {
        model.fill(Float64Array.from(values), s);
        model.fill(model.x, s);
        expect(s).toEqual(right);
      }),
      { numRuns: 100 },
    );
  });
});
