/** A member whose flexibility is given, laid beside the beam whose textbook flexibility it is. */
import { expect, test } from 'vitest';
import { expectWithin } from '../../../../test/expect-within.ts';
import { cross, scale, unit, type Vec3 } from '../../math/rigid.ts';
import type { BeamMember, FrameStructure, Piece } from '../structure.ts';
import { memberStiffness } from './member-flexibility.ts';
import { refineStructure } from './refine.ts';

const [E, G] = [70_000, 26_300];
const section = { area: 300, iy: 40_000, iz: 70_000, j: 90_000, asy: 160, asz: 140 };
const A: Vec3 = [120, -40, 300];
const B: Vec3 = [520, 90, 410];
const L = Math.sqrt(400 * 400 + 130 * 130 + 110 * 110);
const x = unit([400, 130, 110]);
const y = unit(cross([0.3, 0.2, 1], x));
const z = cross(x, y);
const piece: Piece = { from: A, to: B, y, E, G, section };
const beam: BeamMember = { name: 'beam', from: 0, to: 1, pieces: [piece], flex: [] };

/** Cantilever, Timoshenko: tip motion by tip force and moment in x, y, z. */
function cantilever(): number[] {
  const f = new Array<number>(36).fill(0);
  const set = (i: number, j: number, v: number): void => {
    f[6 * i + j] = v;
    f[6 * j + i] = v;
  };
  set(0, 0, L / (E * section.area));
  set(1, 1, (L * L * L) / (3 * E * section.iz) + L / (G * section.asy));
  set(2, 2, (L * L * L) / (3 * E * section.iy) + L / (G * section.asz));
  set(3, 3, L / (G * section.j));
  set(4, 4, L / (E * section.iy));
  set(5, 5, L / (E * section.iz));
  set(1, 5, (L * L) / (2 * E * section.iz));
  set(2, 4, -(L * L) / (2 * E * section.iy));
  return f;
}
const given = (axes: readonly [Vec3, Vec3, Vec3], flexibility: readonly number[]): BeamMember => ({
  ...beam,
  given: { axes, flexibility },
});
/** Two inversions of a 6 × 6 matrix with entries from 1e-6 to 1e-9: conditioning, not method. */
const INVERTED = 1e-11;

function same(a: Float64Array, b: Float64Array): void {
  const size = Math.max(...b.map(Math.abs));
  for (let i = 0; i < 144; i++) expectWithin(a[i]!, b[i]!, { absolute: INVERTED * size, relative: 1e-10 }, i);
}

test('a textbook cantilever given as a matrix is the beam', () => {
  same(memberStiffness(given([x, y, z], cantilever()), A, B), memberStiffness(beam, A, B));
});

test('in turned axes (y and z change places, one of them backward) the matrix is another and the beam the same', () => {
  // about x by a right angle: new axes x, z, −y; a row of y becomes minus the third, a row of z the second
  const f = cantilever();
  const old = [0, 2, 1, 3, 5, 4];
  const sign = [1, 1, -1, 1, 1, -1];
  const turned = f.map((_, n) => {
    const [i, j] = [Math.floor(n / 6), n % 6];
    return sign[i]! * sign[j]! * f[6 * old[i]! + old[j]!]!;
  });
  same(memberStiffness(given([x, z, scale(y, -1)], turned), A, B), memberStiffness(beam, A, B));
});

test('its end compliances come on top, as on a beam', () => {
  const flex = [{ end: 1, what: 'wall', axes: [x, y, z], compliance: [0, 0, 0, 0, 1e-7, 3e-7] }] as const;
  same(memberStiffness({ ...given([x, y, z], cantilever()), flex }, A, B), memberStiffness({ ...beam, flex }, A, B));
});

test('a matrix that some motion does not resist is refused by the member’s name', () => {
  const f = cantilever();
  f[21] = 0;
  expect(() => memberStiffness(given([x, y, z], f), A, B)).toThrow(/member beam: no finite stiffness/);
});

test('it is not cut where others are', () => {
  const structure: FrameStructure = {
    nodes: [
      { name: 'a', at: A },
      { name: 'b', at: B },
    ],
    members: [given([x, y, z], cantilever()), beam],
    joints: [],
  };
  const { structure: fine, first } = refineStructure(structure, () => 4);
  expect([...first]).toEqual([0, 1, 5]);
  expect(fine.members[0]).toHaveProperty('given');
});
