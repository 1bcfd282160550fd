/** Blocks that bear load from one station to another: what the file must say, and what becomes of it. */
import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { beamYaml, fixtureModel } from '../../../test/fixtures/beam.ts';
import { resolveCandidate } from '../resolve.ts';
import { readDocument } from '../text.ts';

const LUG = '{name: lug, at: hinge_mid, size: [30, 50, 50 mm], offset: [-15 mm, 0, 0], mass: 0.12 kg}';
const FORM = 'name: lug, at: hinge_mid, size: [60, 24, 40 mm]';
const SECTION = 'section: {area: 620 mm2, side: 210000 mm4, top: 90000 mm4, twist: 160000 mm4}';
const DIAGONAL = [9e4, 8e3, 4e3, 5e7, 6e7, 9e7];
const matrix = (change: (i: number, j: number, value: number) => number = (_i, _j, v) => v): string =>
  `stiffness: [${DIAGONAL.map((_, i) => `[${DIAGONAL.map((d, j) => change(i, j, i === j ? d : 0)).join(', ')}]`).join(
    ', ',
  )}]`;
const withBlock = (rest: string): string => beamYaml([LUG, `{${FORM}, ${rest}}`]);
const problems = (rest: string) =>
  resolveCandidate(readDocument('candidates/beam.yaml', withBlock(rest)).document!).problems.map((p) => ({
    place: p.path,
    words: [p.message, p.expected, p.hint].join(' | '),
  }));
const only = (rest: string, words: RegExp): void =>
  expect(problems(rest)).toMatchObject([
    { place: expect.stringMatching(/^bodies\.rear\.blocks\.1/), words: expect.stringMatching(words) },
  ]);
const block = (rest: string) => {
  const { model } = fixtureModel(undefined, withBlock(rest));
  const s = model.newState();
  model.fill(model.x, s);
  return { model, s, beam: model.blocks.find((b) => b.name === 'rear.lug')! };
};
const ROUNDOFF = { relative: 1e-12, absolute: 1e-15 };

describe('a block with a far end', () => {
  it('keeps its section in slots, SI', () => {
    const { model, s, beam } = block(`to: beam_rear, ${SECTION}, material: 6061-T6`);
    expect(beam.beam!.to).toBe(model.top.names.stations.indexOf('beam_rear'));
    const { area, side, top, twist } = beam.beam!.section!;
    const found = [area, side, top, twist].map((slot) => s.value[slot]!);
    [620e-6, 210e-9, 90e-9, 160e-9].forEach((v, i) => {
      expectWithin(found[i]!, v, ROUNDOFF, i);
    });
  });
  it('keeps its matrix as the file gives it', () => {
    const { beam } = block(`to: beam_rear, ${matrix()}, mass: 0.2 kg`);
    expect(beam.beam!.stiffness!.map((row, i) => row[i])).toEqual(DIAGONAL);
  });
  it('lies between its ends, along them, unless axis and offset say otherwise', () => {
    const { model, s, beam } = block(`to: beam_rear, ${SECTION}, material: 6061-T6`);
    const o = 15 * (beam.shape - model.top.nCapsule - model.top.nDisc);
    const [a, b] = [beam.station, beam.beam!.to].map((i) => s.station.subarray(3 * i, 3 * i + 3));
    const d = [0, 1, 2].map((k) => b![k]! - a![k]!);
    const length = Math.sqrt(d.reduce((sum, x) => sum + x * x, 0));
    for (let k = 0; k < 3; k++) {
      expectWithin(s.box[o + k]!, (a![k]! + b![k]!) / 2, ROUNDOFF, k);
      expectWithin(s.box[o + 3 + k]!, d[k]! / length, ROUNDOFF, k);
    }
    const given = block(`to: beam_rear, axis: z, offset: [0, 0, 10 mm], ${SECTION}, material: 6061-T6`);
    expectWithin(given.s.box[o + 2]!, a![2]! + 0.01, ROUNDOFF);
    expect([...given.s.box.subarray(o + 3, o + 6)]).toEqual([0, 0, 1]);
  });
});

describe('is refused', () => {
  it('without its far end', () => {
    only(`${SECTION}, material: 6061-T6`, /without its far end.*write `to:`/);
    only(`${matrix()}, material: 6061-T6`, /without its far end/);
  });
  it('with a far end that does not exist', () => {
    only(`to: beam_reer, ${SECTION}, material: 6061-T6`, /beam_rear/);
  });
  it('ending where it begins', () => {
    only(`to: hinge_mid, ${SECTION}, material: 6061-T6`, /ends where it begins/);
  });
  it('with nothing that says how stiff it is, or with both', () => {
    only('to: beam_rear, material: 6061-T6', /nothing says how stiff.*section:/);
    only(`to: beam_rear, ${SECTION}, ${matrix()}, material: 6061-T6`, /one of them is enough/);
  });
  it('with a section and no material', () => {
    only(`to: beam_rear, ${SECTION}, mass: 0.2 kg`, /needs its material/);
  });
  it('with a matrix that is not symmetric, naming the place', () => {
    const skew = matrix((i, j, v) => (i === 5 && j === 1 ? 2e5 : v));
    only(`to: beam_rear, ${skew}, mass: 0.2 kg`, /not symmetric \(row 6, column 2\)/);
  });
  it('with a matrix that lets some motion go free, or pushes along', () => {
    only(
      `to: beam_rear, ${matrix((i, j, v) => (i === 3 && j === 3 ? 0 : v))}, mass: 0.2 kg`,
      /no motion in direction 4/,
    );
    only(`to: beam_rear, ${matrix((i, j, v) => (i === 2 && j === 2 ? -v : v))}, mass: 0.2 kg`, /direction 3/);
    // sideways and turning couple so strongly that one combination costs nothing
    const coupled = Math.sqrt(DIAGONAL[1]! * DIAGONAL[5]!);
    const free = matrix((i, j, v) => ((i === 1 && j === 5) || (i === 5 && j === 1) ? coupled : v));
    only(`to: beam_rear, ${free}, mass: 0.2 kg`, /no motion in direction 6/);
  });
});
