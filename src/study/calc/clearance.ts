import { z } from 'zod';
import { cross, dot, norm, type SolidShape, scale, shapeDistance, unit, type Vec3 } from '#kernel';
import { CalcRefusal, type CalcTopic } from './topic.ts';

const point = z.tuple([z.number(), z.number(), z.number()]);
const capsule = z.strictObject({
  capsule: z.strictObject({
    from_mm: point.describe('One end of the centre line, mm'),
    to_mm: point.describe('Other end of the centre line, mm; may equal the first (a ball)'),
    radius_mm: z.number().min(0).describe('Radius, mm'),
  }),
});
const disc = z.strictObject({
  disc: z.strictObject({
    centre_mm: point.describe('Centre, mm'),
    normal: point.describe('Direction of the axis, any length but 0'),
    radius_mm: z.number().min(0).describe('Radius, mm'),
    thickness_mm: z.number().min(0).describe('Full thickness along the axis, mm'),
  }),
});
const box = z.strictObject({
  box: z.strictObject({
    centre_mm: point.describe('Centre, mm'),
    axes: z
      .tuple([point, point, point])
      .optional()
      .describe('Three directions square to each other, any lengths but 0; x, y, z when absent'),
    half_mm: z
      .tuple([z.number().min(0), z.number().min(0), z.number().min(0)])
      .describe('Half sizes along the axes, mm'),
  }),
});
const shape = z.union([capsule, disc, box]);
type Shape = z.infer<typeof shape>;

const input = z.strictObject({
  a: shape.describe('First shape: a capsule, a disc (flat cylinder) or a box'),
  b: shape.describe('Second shape'),
});
const output = z.strictObject({
  distance_mm: z.number().describe('Least distance between the solids, mm; 0 when they meet'),
  point_a_mm: point.describe('Nearest point on a, mm; when they meet, a point within both'),
  point_b_mm: point.describe('Nearest point on b, mm'),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** Axes typed with four digits are square to about 1e-4; they are made exactly square. */
const SQUARE = 1e-3;

const metres = (p: Vec3): Vec3 => scale(p, 1e-3);

function direction(v: Vec3, path: string): Vec3 {
  if (!(norm(v) > 0)) throw new CalcRefusal('a direction of length 0 points nowhere', path);
  return unit(v);
}

function read(given: Shape, path: string): SolidShape {
  if ('capsule' in given) {
    const { from_mm, to_mm, radius_mm } = given.capsule;
    return { kind: 'capsule', from: metres(from_mm), to: metres(to_mm), radius: radius_mm / 1e3 };
  }
  if ('disc' in given) {
    const { centre_mm, normal, radius_mm, thickness_mm } = given.disc;
    return {
      kind: 'disc',
      centre: metres(centre_mm),
      normal: direction(normal, `${path}.disc.normal`),
      radius: radius_mm / 1e3,
      halfThickness: thickness_mm / 2e3,
    };
  }
  const { centre_mm, axes, half_mm } = given.box;
  const [x, y, z_] = (
    axes ?? [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ]
  ).map((v, k) => direction(v as Vec3, `${path}.box.axes.${k}`)) as [Vec3, Vec3, Vec3];
  if (Math.max(Math.abs(dot(x, y)), Math.abs(dot(y, z_)), Math.abs(dot(z_, x))) > SQUARE)
    throw new CalcRefusal('the axes of a box must be square to each other', `${path}.box.axes`);
  const third = unit(cross(x, y));
  return { kind: 'box', centre: metres(centre_mm), axes: [x, cross(third, x), third], half: metres(half_mm) };
}

/** Distance and nearest points of any two of capsule, disc and box. */
export const topic: CalcTopic<Input, Output> = {
  name: 'clearance',
  meaning: 'least distance and nearest points of two solids: capsule, disc (flat cylinder) or box',
  method:
    'capsules: clamped closed forms (Ericson 2005, 5.1.9) and a convex search along the centre line; discs and boxes: Gilbert, Johnson & Keerthi 1988 with exact supports; to 1e-6 mm',
  input,
  output,
  run({ a, b }) {
    const { distance, points } = shapeDistance(read(a, 'a'), read(b, 'b'));
    const [p, q] = points.map((x): [number, number, number] => [1e3 * x[0], 1e3 * x[1], 1e3 * x[2]]);
    return { distance_mm: 1e3 * distance, point_a_mm: p!, point_b_mm: q! };
  },
};
