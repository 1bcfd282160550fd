/**
 * Published bicycles, typed in the sources' axes (x forward, z down) and converted here once.
 *
 * Benchmark: Meijaard, Papadopoulos, Ruina & Schwab 2007, Proc. R. Soc. A 463:1955–1982, Table 1.
 * Measured bicycles, riderless: J. K. Moore, Human Control of a Bicycle, PhD thesis, University of California Davis
 * 2012 (CC BY), Tables 5.9–5.12; measurement standard deviations there are ±2 mm of trail and 0.3–1 % of inertia.
 */
import { betweenIsoAndPaper, type WheelInertia, type WhippleBicycle } from '#kernel';

type Body = readonly [m: number, x: number, z: number, Ixx: number, Ixz: number, Izz: number];
type Wheel = readonly [r: number, m: number, Ixx: number, Iyy: number];
interface Printed {
  readonly w: number;
  readonly c: number;
  readonly headAngle: number;
  readonly R: Wheel;
  readonly B: Body;
  readonly H: Body;
  readonly F: Wheel;
}

const wheel = ([radius, mass, Ixx, Iyy]: Wheel): WheelInertia => ({ radius, mass, Ixx, Iyy });
const body = ([mass, x, z, Ixx, Ixz, Izz]: Body) =>
  betweenIsoAndPaper({ mass, com: [x, 0, z], inertia: [Ixx, NaN, Izz, 0, Ixz, 0] });
export const bicycle = (p: Printed): WhippleBicycle => ({
  wheelbase: p.w,
  trail: p.c,
  headAngle: p.headAngle,
  gravity: 9.81,
  rearWheel: wheel(p.R),
  rearBody: body(p.B),
  frontBody: body(p.H),
  frontWheel: wheel(p.F),
});

export const BENCHMARK_PRINTED: Printed = {
  w: 1.02,
  c: 0.08,
  headAngle: Math.PI / 2 - Math.PI / 10,
  R: [0.3, 2, 0.0603, 0.12],
  B: [85, 0.3, -0.9, 9.2, 2.4, 2.8],
  H: [4, 0.9, -0.7, 0.05892, -0.00756, 0.00708],
  F: [0.35, 3, 0.1405, 0.28],
};
export const BENCHMARK = bicycle(BENCHMARK_PRINTED);

/** λ in rad as printed. Critical speeds: recomputed from the printed parameters by an independent program, m/s. */
export const MEASURED: readonly { name: string; bicycle: WhippleBicycle; weave: number; capsize: number }[] = [
  {
    name: 'city bicycle, sold as stable',
    bicycle: bicycle({
      w: 1.121,
      c: 0.069,
      headAngle: Math.PI / 2 - 0.4,
      R: [0.341, 3.11, 0.0904, 0.152],
      B: [9.86, 0.276, -0.538, 0.53, -0.116, 0.757],
      H: [3.22, 0.867, -0.748, 0.253, -0.072, 0.0956],
      F: [0.3435, 2.02, 0.0884, 0.149],
    }),
    weave: 4.1975,
    capsize: 4.3598,
  },
  {
    name: 'city bicycle with suspension fork',
    bicycle: bicycle({
      w: 1.101,
      c: 0.083,
      headAngle: Math.PI / 2 - 0.367,
      R: [0.34, 3.96, 0.0966, 0.144],
      B: [9.18, 0.312, -0.526, 0.5, -0.015, 0.739],
      H: [4.57, 0.907, -0.803, 0.384, -0.078, 0.166],
      F: [0.3426, 3.54, 0.0954, 0.166],
    }),
    weave: 4.8101,
    capsize: 6.1121,
  },
  {
    name: 'mountain bicycle',
    bicycle: bicycle({
      w: 1.07,
      c: 0.072,
      headAngle: Math.PI / 2 - 0.33,
      R: [0.3386, 1.94, 0.063, 0.101],
      B: [4.48, 0.367, -0.499, 0.283, 0.0559, 0.268],
      H: [2.52, 0.96, -0.719, 0.1147, -0.018, 0.0226],
      F: [0.3302, 1.5, 0.0631, 0.106],
    }),
    weave: 3.818,
    capsize: 6.1569,
  },
  {
    name: 'road bicycle',
    bicycle: bicycle({
      w: 1.089,
      c: 0.047,
      headAngle: Math.PI / 2 - 0.302,
      R: [0.3414, 2.57, 0.0877, 0.149],
      B: [3.31, 0.422, -0.603, 0.224, 0.0182, 0.216],
      H: [2.45, 0.948, -0.788, 0.1452, -0.0194, 0.0292],
      F: [0.3419, 1.9, 0.0852, 0.147],
    }),
    weave: 3.4741,
    capsize: 4.6771,
  },
  {
    name: 'instrumented bicycle',
    bicycle: bicycle({
      w: 1.0638,
      c: 0.0599,
      headAngle: Math.PI / 2 - 0.3175,
      R: [0.332528, 4.9, 0.0701, 0.1293],
      B: [22.9, 0.335, -0.736, 2.64, 0.654, 1.94],
      H: [5.4, 0.818, -0.986, 0.344, -0.092, 0.1031],
      F: [0.335573, 1.55, 0.0524, 0.0984],
    }),
    weave: 5.0,
    capsize: 6.4188,
  },
];
