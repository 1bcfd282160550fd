/**
 * A tube's or bar's section as the beam model and the strength checks need it.
 *
 * Beam axes: x along the member, y along the section's height, z along its width (see `sectionAxes`), so that `iz` resists
 * bending in the direction of the height. Area and second moments: `sectionSpread`; torsion: `torsion.ts`; shear areas:
 * `shear-area.ts`. Elastic moduli at the extreme fibres; plastic moduli of ellipse (h²w/6) and rectangle (h²w/4), outer less
 * inner. Peak transverse shear per newton by Jourawski, S/(I b) at the neutral axis: S is half the plastic modulus, b both
 * walls (the whole breadth of a bar). Source: theory.
 * Units: mm, N, MPa. A wall outside (0, half of the smaller side] gives NaN throughout, as in `sectionSpread`.
 * Not here: tapers (one section at a time), corner radii, holes.
 */
import { type SectionShape, sectionSpread } from '../../mass/section.ts';
import type { BeamSection } from '../structure.ts';
import { shearCoefficient } from './shear-area.ts';
import { isSolid, torsionConstant, torsionModulus } from './torsion.ts';

/** Outside height × width and wall, mm; round: height = width = outside diameter; a bar: wall = half its smaller side. */
export interface TubeSize {
  readonly shape: SectionShape;
  readonly height: number;
  readonly width: number;
  readonly wall: number;
}

/** Everything about one section; mm, mm², mm³, mm⁴. */
export interface TubeProperties extends BeamSection, TubeSize {
  readonly solid: boolean;
  /** Elastic moduli about y and z. */
  readonly wy: number;
  readonly wz: number;
  /** Torsion modulus: torque over largest shear stress. */
  readonly wt: number;
  /** Plastic moduli about y and z. */
  readonly zy: number;
  readonly zz: number;
  /** Radii of gyration about y and z. */
  readonly ry: number;
  readonly rz: number;
  /** Largest shear stress per newton of a force along y and along z, 1/mm². */
  readonly peakY: number;
  readonly peakZ: number;
}

/** Section for the beam model; `nu` is Poisson's ratio. Nothing but the result is allocated. */
export function beamSection(shape: SectionShape, height: number, width: number, wall: number, nu: number): BeamSection {
  const { area, alongHeight, alongWidth } = sectionSpread(shape, height, width, wall);
  const asy = area * shearCoefficient(shape, height, width, wall, nu);
  return {
    area,
    iy: alongWidth,
    iz: alongHeight,
    j: torsionConstant(shape, height, width, wall, alongHeight + alongWidth),
    asy,
    asz: shape === 'round' ? asy : area * shearCoefficient(shape, width, height, wall, nu),
  };
}

/** All properties of one section; `nu` is Poisson's ratio. */
export function tubeProperties(size: TubeSize, nu: number): TubeProperties {
  const { shape, height, width, wall } = size;
  const { area, iy, iz, j, asy, asz } = beamSection(shape, height, width, wall, nu);
  const solid = isSolid(height, width, wall);
  const h = solid ? 0 : height - 2 * wall;
  const w = solid ? 0 : width - 2 * wall;
  const p = Number.isNaN(area) ? area : shape === 'rectangular' ? 1 / 4 : 1 / 6;
  const zz = p * (height * height * width - h * h * w);
  const zy = p * (width * width * height - w * w * h);
  return {
    shape,
    height,
    width,
    wall,
    area,
    iy,
    iz,
    j,
    asy,
    asz,
    solid,
    wy: (2 * iy) / width,
    wz: (2 * iz) / height,
    wt: torsionModulus(shape, height, width, wall, j),
    zy,
    zz,
    ry: Math.sqrt(iy / area),
    rz: Math.sqrt(iz / area),
    peakY: zz / (2 * iz * (solid ? width : 2 * wall)),
    peakZ: zy / (2 * iy * (solid ? height : 2 * wall)),
  };
}

/**
 * A section of unknown form inside an envelope of height × width, from its four figures: elastic moduli at the edges of the
 * envelope; torsion modulus J over the smaller side and shear peak 2/A (exact for a thin plate and a thin ring, more than a
 * solid form has); plastic moduli no larger than the elastic ones.
 */
export function envelopeProperties(given: BeamSection, height: number, width: number): TubeProperties {
  const { area, iy, iz, j } = given;
  const wall = Math.min(height, width) / 2;
  const [wy, wz] = [(2 * iy) / width, (2 * iz) / height];
  const wt = j / Math.min(height, width);
  const peak = 2 / area;
  return {
    ...given,
    shape: 'rectangular',
    height,
    width,
    wall,
    solid: true,
    wy,
    wz,
    wt,
    zy: wy,
    zz: wz,
    ry: Math.sqrt(iy / area),
    rz: Math.sqrt(iz / area),
    peakY: peak,
    peakZ: peak,
  };
}

/** kg/m of a section of `area` mm² in a material of `density` kg/m³. */
export const massPerMetre = (area: number, density: number): number => area * density * 1e-6;
