import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { EPS, expectWithin } from '../../../test/expect-within.ts';
import { BENCHMARK as SAMPLE } from '../../../verification/steer/bicycles.ts';
import {
  capsizeCrossings,
  capsizeSpeed,
  characteristic,
  eigenvalues,
  mergeSpeed,
  weaveCrossings,
  weaveSpeed,
} from './characteristic.ts';
import { accelerationRows, whipple } from './whipple.ts';

const system = whipple(SAMPLE);
const p = characteristic(system);
const at = (c: typeof p, v: number): Float64Array => {
  const out = new Float64Array(8);
  expect(eigenvalues(c, v, out).converged).toBe(true);
  return out;
};

describe('eigenvalues', () => {
  it('agree with a general QR routine on the state matrix', () => {
    for (let v = 0; v <= 12; v += 0.75) {
      const a = accelerationRows(system, v);
      const evd = new EigenvalueDecomposition(
        new Matrix([[0, 0, 1, 0], [0, 0, 0, 1], [...a.slice(0, 4)], [...a.slice(4)]]),
      );
      const theirs = evd.realEigenvalues
        .map((re, i) => [re, evd.imaginaryEigenvalues[i]!] as const)
        .sort(([r1, i1], [r2, i2]) => (Math.abs(r1 - r2) > 1e-9 ? r2 - r1 : i2 - i1));
      const ours = at(p, v);
      theirs.forEach(([re, im], i) => {
        expectWithin(ours[2 * i]!, re, { absolute: 1e-11, relative: 1e-12 }, v);
        expectWithin(ours[2 * i + 1]!, im, { absolute: 1e-11, relative: 1e-12 }, v);
      });
    }
  });

  it('stay within the square root of rounding through the double root where weave is born', () => {
    const merge = mergeSpeed(p, 4);
    expect(merge.converged).toBe(true);
    const out = at(p, merge.speed);
    // A change of ε in any coefficient moves a double root by √ε: no method that starts from doubles does better.
    expectWithin(out[0]!, merge.eigenvalue, { relative: 8 * Math.sqrt(EPS) });
    expectWithin(out[2]!, merge.eigenvalue, { relative: 8 * Math.sqrt(EPS) });
    expectWithin(out[0]! + out[2]!, 2 * merge.eigenvalue, { relative: 1e-12 });
    expect(at(p, merge.speed * (1 - 1e-6))[1]).toBe(0);
    expect(at(p, merge.speed * (1 + 1e-6))[1]).toBeGreaterThan(0);
  });

  it('say that there is no merge where there is none', () => {
    expect(mergeSpeed(p, 0.3).converged).toBe(false);
  });
});

describe('critical speeds', () => {
  it('lie where the eigenvalues change sign, in the direction stated', () => {
    for (const trail of [0.02, 0.05, 0.08, 0.12])
      for (const factor of [0.6, 1, 1.4]) {
        const f = SAMPLE.frontWheel;
        const c = characteristic(
          whipple({ ...SAMPLE, trail, frontWheel: { ...f, Ixx: f.Ixx * factor, Iyy: f.Iyy * factor } }),
        );
        for (const crossing of [...weaveCrossings(c), ...capsizeCrossings(c)]) {
          const { speed, direction, frequency } = crossing;
          const nearest = (v: number): number => {
            const out = at(c, v);
            let best = 0;
            for (let k = 2; k < 8; k += 2) if (away(out, k) < away(out, best)) best = k;
            return out[best]!;
          };
          const away = (out: Float64Array, k: number): number => Math.abs(out[k]!) + Math.abs(out[k + 1]! - frequency);
          expectWithin(nearest(speed), 0, { absolute: 1e-10 }, crossing);
          expect(Math.sign(nearest(speed * 1.001) - nearest(speed * 0.999))).toBe(direction);
        }
        expect(weaveCrossings(c).length).toBeGreaterThan(0);
      }
  });

  it('agree with a fine sweep of speeds on how many unstable modes there are', () => {
    const events = [
      ...weaveCrossings(p).map((x) => ({ ...x, modes: 2 })),
      ...capsizeCrossings(p).map((x) => ({ ...x, modes: 1 })),
    ];
    let unstable = 2; // two positive real eigenvalues at rest
    let last = 0;
    for (let v = 0.005; v < 15; v += 0.01) {
      for (const e of events) if (e.speed > last && e.speed <= v) unstable += e.direction * e.modes;
      last = v;
      const out = at(p, v);
      expect([0, 2, 4, 6].filter((k) => out[k]! > 0)).toHaveLength(unstable);
    }
  });

  it('are null where there are none', () => {
    const noSpin = {
      ...SAMPLE,
      trail: 0,
      rearWheel: { ...SAMPLE.rearWheel, Iyy: 0 },
      frontWheel: { ...SAMPLE.frontWheel, Iyy: 0 },
    };
    const c = characteristic(whipple({ ...noSpin, trail: 0.08 }));
    for (let v = 0.1; v < 30; v += 0.1) {
      const out = at(c, v);
      // Without gyroscopic action the benchmark never becomes stable, so no weave speed may be claimed.
      expect(out[0]!).toBeGreaterThan(0);
    }
    expect(weaveSpeed(c)).toBeNull();
    expect(capsizeSpeed(characteristic(whipple({ ...SAMPLE, trail: -0.08 })))).toBeNull();
  });
});
