import { Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { BENCHMARK as SAMPLE } from '../../../verification/steer/bicycles.ts';
import { exponential, identity, solveInto } from './dense.ts';
import { LANE, LANE_RIDER, laneChange, lanePath } from './lane-change.ts';
import { regulator } from './riccati.ts';
import { whipple } from './whipple.ts';

const system = whipple(SAMPLE);

describe('the regulator', () => {
  it('reaches the gains of a long backward recursion', () => {
    const A = [
      [1.1, 0.1, 0],
      [0.2, 0.9, 0.1],
      [0, -0.1, 1.05],
    ];
    const B = [0.1, 0.3, 0.2];
    const a = new Matrix(A);
    const b = Matrix.columnVector(B);
    let x = Matrix.eye(3, 3);
    let k = Matrix.zeros(1, 3);
    for (let i = 0; i < 2000; i++) {
      const d = 2 + b.transpose().mmul(x).mmul(b).get(0, 0);
      k = b
        .transpose()
        .mmul(x)
        .mmul(a)
        .mul(1 / d);
      x = Matrix.add(
        Matrix.eye(3, 3),
        a
          .transpose()
          .mmul(x)
          .mmul(Matrix.sub(a, b.mmul(k))),
      );
    }
    const found = regulator(3, Float64Array.from(A.flat()), Float64Array.from(B), identity(3), 2);
    expect(found.converged).toBe(true);
    for (let j = 0; j < 3; j++) expectWithin(found.K[j]!, k.get(0, j), { relative: 1e-10 });
  });

  it('says so when no gain can stabilise', () => {
    // The second state grows and the input does not reach it.
    const found = regulator(2, Float64Array.from([0.5, 0, 0, 1.2]), Float64Array.from([1, 0]), identity(2), 1);
    expect(found.converged).toBe(false);
    expect(found.K[0]).toBeNaN();
  });
});

describe('small matrices', () => {
  it('have the exponential of a rotation', () => {
    const e = exponential(2, Float64Array.from([0, -7, 7, 0]));
    expectWithin(e[0]!, Math.cos(7), { absolute: 1e-13 });
    expectWithin(e[2]!, Math.sin(7), { absolute: 1e-13 });
  });

  it('solve with row exchange and report a singular matrix', () => {
    const x = Float64Array.from([3, 5]);
    expect(solveInto(2, Float64Array.from([0, 1, 2, 1]), x, 1)).toBeGreaterThan(0.1);
    expect([...x]).toEqual([1, 3]);
    expect(solveInto(2, Float64Array.from([1, 2, 2, 4]), Float64Array.from([1, 1]), 1)).toBeLessThan(1e-15);
  });
});

describe('the lane change', () => {
  it.each([1, 2, 3, 4.5, 6, 9])('is ridden at %s m/s, whether or not the bicycle balances itself', (v) => {
    const lane = laneChange(system, v);
    expect(lane.stabilised).toBe(true);
    expectWithin(lane.path.at(-1)!, LANE.width, { absolute: 0.02 }, lane.path.at(-1));
    for (const x of [lane.peakTorque, lane.peakSteer, lane.peakLean, lane.peakRollRate, lane.pathError]) {
      expect(x).toBeGreaterThan(0);
      expect(x).toBeLessThan(10);
    }
  });

  it('starts with counter-steer: torque to the left leans the bicycle right and its track swings left first', () => {
    const { torque, lean, path } = laneChange(system, 6);
    const leans = lean.findIndex((x) => Math.abs(x) > 0.02);
    expect(lean[leans]!).toBeGreaterThan(0);
    expect(torque[leans]!).toBeLessThan(-0.1);
    expect(path[leans]!).toBeLessThan(-0.001);
  });

  it('leans as the path’s curvature asks', () => {
    // Peak lateral acceleration of the blend: 10/√3 · width/duration², reached at (3 ± √3)/6 of it.
    const peak = ((10 / Math.sqrt(3)) * LANE.width) / (LANE.duration * LANE.duration);
    const lean = laneChange(system, 6).peakLean;
    expectWithin(lean, peak / 9.81, { relative: 0.35 }); // the rider smooths the path and the roll dynamics cut its peak
    expectWithin(lanePath(LANE.start + LANE.duration / 2), LANE.width / 2, { relative: 1e-12 });
  });

  it('is ridden closer to the path by a rider who minds torque less', () => {
    const keen = laneChange(system, 3, { ...LANE_RIDER, torque: 8 });
    expect(keen.pathError).toBeLessThan(laneChange(system, 3).pathError);
  });

  it('refuses to stand still', () => {
    expect(() => laneChange(system, 0)).toThrow(expect.objectContaining({ path: 'speed' }));
  });
});
