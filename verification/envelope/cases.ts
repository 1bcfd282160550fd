/** Distances and least boxes: agreement with published hard cases, closed forms and independent exact arithmetic. */
import {
  BOX_FINE,
  boxAlong,
  convexHull,
  hullVolume,
  minBox,
  newFoldBox,
  newPosedShapes,
  packShape,
  type SolidShape,
  scale,
  shapeDistance,
  type Vec3,
} from '#kernel';
import type { Case, Row } from '../case.ts';

const EBERLY = 'D. Eberly, Robust Computation of Distance Between Line Segments, Geometric Tools (2015, revised)';
const ERICSON = 'C. Ericson, Real-Time Collision Detection, Morgan Kaufmann 2005, 5.1.9';
const OROURKE = 'J. O’Rourke, Finding minimal enclosing boxes, Int. J. Computer and Information Sciences 14(3), 1985';

type Segment = readonly [Vec3, Vec3];
const rod = ([from, to]: Segment, radius = 0): SolidShape => ({ kind: 'capsule', from, to, radius });
const between = (a: Segment, b: Segment): number => shapeDistance(rod(a), rod(b)).distance;

/** The unclamped determinant formula, s and t of the infinite lines cut to [0, 1] one after the other without re-projection. */
function unclamped([p0, p1]: Segment, [q0, q1]: Segment): number {
  const d = (x: Vec3, y: Vec3): number => x[0] * y[0] + x[1] * y[1] + x[2] * y[2];
  const minus = (x: Vec3, y: Vec3): Vec3 => [x[0] - y[0], x[1] - y[1], x[2] - y[2]];
  const u = minus(p1, p0),
    v = minus(q1, q0),
    r = minus(p0, q0);
  const a = d(u, u),
    b = d(u, v),
    e = d(v, v),
    det = a * e - b * b;
  const cut = (x: number): number => Math.min(1, Math.max(0, x));
  const s = cut((b * d(v, r) - e * d(u, r)) / det),
    t = cut((a * d(v, r) - b * d(u, r)) / det);
  const w = minus([r[0] + s * u[0], r[1] + s * u[1], r[2] + s * u[2]], scale(v, t));
  return Math.sqrt(d(w, w));
}

const E1: readonly [Segment, Segment] = [
  [
    [-1.0264718499965966, 9.6163341007195407e-7, 0],
    [0.91950808032415809, -1.0094441192690283e-6, 0],
  ],
  [
    [-1.062944738380611, 9.2709540082141753e-7, 0],
    [1.0811583868227901, -1.0670017179567367e-6, 0],
  ],
];
const E2: readonly [Segment, Segment] = [
  [
    [-1.0896217473782599, 9.7236145595088601e-7, 0],
    [0.91220578597858548, -9.4369829432107506e-7, 0],
  ],
  [
    [-0.90010447502136237, 9.0671446351334441e-7, 0],
    [1.073087717872113, -9.818578763399274e-7, 0],
  ],
];
const d4 = 0.25e-4,
  e4 = Math.sqrt(d4),
  p4 = 1e-5;
const E4: readonly [Segment, Segment] = [
  [
    [0, 0, 0],
    [1, 0, 0],
  ],
  [
    [-e4, p4 + d4, 0],
    [e4, p4 - d4, 0],
  ],
];
const NANOMETRE = { absolute: 1e-9, why: 'asked: 1e-9 m' } as const;

const segments: Case = {
  id: 'segments-near-parallel',
  title: 'Distance of nearly parallel segments',
  source: `${EBERLY}; his data, exact values by rational arithmetic (his solver gives 9.73e-10 for the first, which cross)`,
  standing: 'recomputed',
  rows: [
    {
      quantity: 'first case, segments cross',
      unit: 'm',
      published: 0,
      computed: () => between(...E1),
      tolerance: NANOMETRE,
    },
    {
      quantity: 'second case',
      unit: 'm',
      published: 1.15750461386e-7,
      computed: () => between(...E2),
      tolerance: { absolute: 1e-15, why: 'twelve digits known exactly; coordinates of 1 m in doubles' },
      wrong: { what: 'determinant formula, each parameter cut by itself', computed: () => unclamped(...E2) },
    },
    {
      quantity: 'fourth case, segments cross',
      unit: 'm',
      published: 0,
      computed: () => between(...E4),
      tolerance: NANOMETRE,
    },
  ],
};

const plain: Case = {
  id: 'segments-plain',
  title: 'Distance of segments: one case of each kind',
  source: `${ERICSON} (method); values by inspection`,
  standing: 'theory',
  rows: (
    [
      [
        'crossing with gap 1',
        [
          [-1, 0, 0],
          [1, 0, 0],
        ],
        [
          [0, -1, 1],
          [0, 1, 1],
        ],
        1,
      ],
      [
        'collinear with gap 1',
        [
          [0, 0, 0],
          [1, 0, 0],
        ],
        [
          [2, 0, 0],
          [3, 0, 0],
        ],
        1,
      ],
      [
        'parallel, overlapping, offset 2',
        [
          [0, 0, 0],
          [3, 0, 0],
        ],
        [
          [1, 2, 0],
          [5, 2, 0],
        ],
        2,
      ],
      [
        'ends of an L',
        [
          [0, 0, 0],
          [1, 0, 0],
        ],
        [
          [2, 1, 0],
          [2, 5, 0],
        ],
        Math.SQRT2,
      ],
      [
        'point and segment',
        [
          [1, 2, 3],
          [1, 2, 3],
        ],
        [
          [0, 0, 3],
          [4, 0, 3],
        ],
        2,
      ],
    ] as [string, Segment, Segment, number][]
  ).map(
    ([quantity, a, b, published]): Row => ({
      quantity,
      unit: 'm',
      published,
      computed: () => between(a, b),
      tolerance: { absolute: 1e-15, why: 'rounding of one operation' },
    }),
  ),
};

const disc = (centre: Vec3, normal: Vec3, radius: number, halfThickness: number): SolidShape => ({
  kind: 'disc',
  centre,
  normal,
  radius,
  halfThickness,
});
const box = (centre: Vec3, half: Vec3): SolidShape => ({
  kind: 'box',
  centre,
  axes: [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ],
  half,
});
/**
 * Two discs at right angles, rims towards each other: the rim circle of one against the flat circle of the other in its
 * plane. Alternating projections (point to disc, back and forth, stopped when a step gains less than 1e-6) are the method to
 * avoid: they stop early where the two are skew.
 */
function alternating(): number {
  const [n, c]: [Vec3, Vec3] = [
    [0.6, 0, 0.8],
    [0.1, 0.05, 0.46],
  ];
  let p: Vec3 = [0.2, 0, 0];
  let last = Infinity;
  for (let k = 0; k < 1000; k++) {
    const project = (x: Vec3, o: Vec3, m: Vec3, r: number): Vec3 => {
      const y: Vec3 = [x[0] - o[0], x[1] - o[1], x[2] - o[2]];
      const h = y[0] * m[0] + y[1] * m[1] + y[2] * m[2];
      const q: Vec3 = [y[0] - h * m[0], y[1] - h * m[1], y[2] - h * m[2]];
      const l = Math.sqrt(q[0] * q[0] + q[1] * q[1] + q[2] * q[2]);
      const f = l > r ? r / l : 1;
      return [o[0] + f * q[0], o[1] + f * q[1], o[2] + f * q[2]];
    };
    const a = project(p, [0, 0, 0], [0, 0, 1], 0.2);
    p = project(a, c, n, 0.2);
    const d = Math.sqrt((p[0] - a[0]) * (p[0] - a[0]) + (p[1] - a[1]) * (p[1] - a[1]) + (p[2] - a[2]) * (p[2] - a[2]));
    if (last - d < 1e-4) return d;
    last = d;
  }
  return last;
}
/** The same by a scan of one rim with the exact distance of a point to a disc, closer and closer around the best. */
function skewDiscs(): number {
  const c: Vec3 = [0.1, 0.05, 0.46];
  const u: Vec3 = [0.8, 0, -0.6],
    v: Vec3 = [0, 1, 0];
  const at = (r: number, a: number): number => {
    const x = c[0] + r * (Math.cos(a) * u[0] + Math.sin(a) * v[0]),
      y = c[1] + r * (Math.cos(a) * u[1] + Math.sin(a) * v[1]),
      z = c[2] + r * (Math.cos(a) * u[2] + Math.sin(a) * v[2]);
    const rho = Math.sqrt(x * x + y * y);
    const over = Math.max(0, rho - 0.2);
    return Math.sqrt(over * over + z * z);
  };
  let best = Infinity,
    angle = 0,
    wide = Math.PI;
  for (let level = 0; level < 40; level++) {
    const middle = angle;
    for (let k = -50; k <= 50; k++) {
      const a = middle + (wide * k) / 50;
      const d = at(0.2, a);
      if (d < best) {
        best = d;
        angle = a;
      }
    }
    wide /= level === 0 ? 25 : 2;
  }
  return best;
}

const solids: Case = {
  id: 'solids',
  title: 'Distance of discs, boxes and capsules: closed forms',
  source: 'closed forms by inspection; skew discs by scan of one rim with the exact distance of a point to a disc',
  standing: 'theory',
  rows: [
    {
      quantity: 'wheels side by side, 60 mm apart',
      unit: 'm',
      published: 0.06,
      computed: () =>
        shapeDistance(disc([0, 0, 0.2], [0, 1, 0], 0.2, 0.02), disc([0.15, 0.1, 0.25], [0, 1, 0], 0.2, 0.02)).distance,
      tolerance: NANOMETRE,
    },
    {
      quantity: 'wheels in one plane, centres 0.5 apart, radii 0.2 and 0.25',
      unit: 'm',
      published: 0.05,
      computed: () =>
        shapeDistance(disc([0, 0, 0], [0, 1, 0], 0.2, 0.02), disc([0.3, 0, 0.4], [0, 1, 0], 0.25, 0.02)).distance,
      tolerance: NANOMETRE,
    },
    {
      quantity: 'rims aside and apart: 3-4-5',
      unit: 'm',
      published: 0.05,
      computed: () =>
        shapeDistance(disc([0, 0, 0], [0, 1, 0], 0.2, 0.02), disc([0.44, 0.07, 0], [0, 1, 0], 0.2, 0.02)).distance,
      tolerance: NANOMETRE,
    },
    {
      quantity: 'two flat discs at a skew',
      unit: 'm',
      published: skewDiscs(),
      computed: () =>
        shapeDistance(disc([0, 0, 0], [0, 0, 1], 0.2, 0), disc([0.1, 0.05, 0.46], [0.6, 0, 0.8], 0.2, 0)).distance,
      tolerance: NANOMETRE,
      wrong: { what: 'alternating projections, stopped when they gain less than 0.1 mm', computed: alternating },
    },
    {
      quantity: 'boxes corner to corner: 1-2-2',
      unit: 'm',
      published: 0.03,
      computed: () => shapeDistance(box([0, 0, 0], [0.1, 0.1, 0.1]), box([0.21, 0.22, 0.22], [0.1, 0.1, 0.1])).distance,
      tolerance: NANOMETRE,
    },
    {
      quantity: 'tube through the air above a box: radius off',
      unit: 'm',
      published: 0.03,
      computed: () =>
        shapeDistance(
          box([0, 0, 0], [0.1, 0.1, 0.1]),
          rod(
            [
              [-1, 0, 0.14],
              [1, 0, 0.14],
            ],
            0.01,
          ),
        ).distance,
      tolerance: NANOMETRE,
    },
    {
      quantity: 'tube beside a rim, 45° to the axis',
      unit: 'm',
      published: 0.1 * Math.SQRT2 - 0.01,
      computed: () =>
        shapeDistance(
          disc([0, 0, 0], [0, 1, 0], 0.2, 0.02),
          rod(
            [
              [0.3, 0.12, 0],
              [0.5, 0.32, 0],
            ],
            0.01,
          ),
        ).distance,
      tolerance: NANOMETRE,
    },
  ],
};

const S3 = Math.sqrt(3);
const grid = (a: number, b: number, c: number): Vec3[] =>
  [0, 1].flatMap((i) => [0, 1].flatMap((j) => [0, 1].map((k): Vec3 => [i * a, j * b, k * c])));
const TETRAHEDRON: Vec3[] = [
  [0.5, 0.5, 0.5],
  [0.5, -0.5, -0.5],
  [-0.5, 0.5, -0.5],
  [-0.5, -0.5, 0.5],
];
const CORNER: Vec3[] = [
  [0, 0, 0],
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];
const OCTAHEDRON: Vec3[] = [0, 1, 2].flatMap((k) =>
  [1, -1].map((s): Vec3 => [k === 0 ? s : 0, k === 1 ? s : 0, k === 2 ? s : 0]),
);
const PRISM: Vec3[] = [0, 1].flatMap((z): Vec3[] => [
  [0, 0, z],
  [1, 0, z],
  [0.5, S3 / 2, z],
]);
/** A fixed rotation with untidy numbers (quaternion 0.5, 0.1, −0.7, 0.5: unit). */
const turn = ([x, y, z]: Vec3): Vec3 => {
  const [w, a, b, c] = [0.5, 0.1, -0.7, 0.5];
  return [
    (1 - 2 * (b * b + c * c)) * x + 2 * (a * b - w * c) * y + 2 * (a * c + w * b) * z,
    2 * (a * b + w * c) * x + (1 - 2 * (a * a + c * c)) * y + 2 * (b * c - w * a) * z,
    2 * (a * c - w * b) * x + 2 * (b * c + w * a) * y + (1 - 2 * (a * a + b * b)) * z,
  ];
};
/** Least box with a face flush with a hull face and a side of it, the obvious method that O’Rourke shows to be wrong. */
function faceFlush(points: readonly Vec3[]): number {
  let best = Infinity;
  for (const { corners, normal } of convexHull(points).faces)
    for (let k = 0; k < 3; k++) {
      const a = points[corners[k]!]!,
        b = points[corners[(k + 1) % 3]!]!;
      const e: Vec3 = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
      const u = scale(e, 1 / Math.sqrt(e[0] * e[0] + e[1] * e[1] + e[2] * e[2]));
      const v: Vec3 = [
        normal[1] * u[2] - normal[2] * u[1],
        normal[2] * u[0] - normal[0] * u[2],
        normal[0] * u[1] - normal[1] * u[0],
      ];
      let volume = 1;
      for (const n of [normal, u, v]) {
        const h = points.map((p) => p[0] * n[0] + p[1] * n[1] + p[2] * n[2]);
        volume *= Math.max(...h) - Math.min(...h);
      }
      best = Math.min(best, volume);
    }
  return best;
}

const EXACT = { relative: 1e-12, why: 'exact value known; a few dozen roundings' } as const;
const boxes: Case = {
  id: 'least-boxes',
  title: 'Box of least volume around polyhedra',
  source: `${OROURKE} (method; the tetrahedron is his example of a least box without a flush face); other values by inspection and from memory`,
  standing: 'memory',
  rows: (
    [
      ['regular tetrahedron, edge √2', TETRAHEDRON, 1],
      ['corner of a cube', CORNER, 1],
      ['octahedron ±e', OCTAHEDRON, 64 / 27],
      ['unit cube', grid(1, 1, 1), 1],
      ['1 × 2 × 3', grid(1, 2, 3), 6],
      ['equilateral prism, side 1, height 1', PRISM, S3 / 2],
    ] as [string, Vec3[], number][]
  ).flatMap(([quantity, points, published], i): Row[] => [
    {
      quantity,
      unit: 'm³',
      published,
      computed: () => minBox(points).volume,
      tolerance: EXACT,
      ...(i === 0
        ? { wrong: { what: 'only boxes with a face flush with a hull face', computed: () => faceFlush(points) } }
        : {}),
    },
    {
      quantity: `${quantity}, turned`,
      unit: 'm³',
      published,
      computed: () => minBox(points.map(turn)).volume,
      tolerance: EXACT,
    },
  ]),
};
const hulls: Case = {
  id: 'hull-volumes',
  title: 'Volume of convex hulls',
  source: 'elementary solid geometry',
  standing: 'theory',
  rows: (
    [
      ['regular tetrahedron, edge √2', TETRAHEDRON, 1 / 3],
      ['corner of a cube', CORNER, 1 / 6],
      ['octahedron ±e', OCTAHEDRON, 4 / 3],
      ['1 × 2 × 3', grid(1, 2, 3), 6],
      ['equilateral prism, side 1, height 1', PRISM, S3 / 4],
    ] as [string, Vec3[], number][]
  ).map(
    ([quantity, points, published]): Row => ({
      quantity,
      unit: 'm³',
      published,
      computed: () => {
        const turned = points.map(turn);
        return hullVolume(turned, convexHull(turned));
      },
      tolerance: EXACT,
    }),
  ),
};

/** The box with one axis along y around two wheels turned into one plane. */
function axleBox(): number {
  const posed = newPosedShapes({ nCapsule: 0, nDisc: 2, nBox: 0 });
  posed.disc.set(packShape(disc([0, 0, 0], [0, 1, 0], 0.2, 0.02)), 0);
  posed.disc.set(packShape(disc([0.3, 0.06, 0.4], [0, 1, 0], 0.2, 0.02)), 8);
  const out = newFoldBox(posed);
  boxAlong(posed, [0, 1, 0], out, BOX_FINE);
  return out.volume;
}
const alongAxle: Case = {
  id: 'box-along-axle',
  title: 'Box with one axis along the wheel axle',
  source: 'two equal wheels, centres 0.5 m apart: least rectangle of two equal circles lies along the line of centres',
  standing: 'theory',
  rows: [
    {
      quantity: 'volume of 0.9 × 0.4 × 0.1',
      unit: 'm³',
      published: 0.9 * 0.4 * 0.1,
      computed: axleBox,
      tolerance: { relative: 1e-9, why: 'area searched to 1e-12 of a smooth minimum' },
    },
  ],
};

export const cases: readonly Case[] = [segments, plain, solids, boxes, hulls, alongAxle];
