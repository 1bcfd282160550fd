/** Frames of the verification cases as calculations of `calc frame`, and columns as the textbooks draw them. */
import {
  type BeamMember,
  type BeamSection,
  cross,
  type FrameSolution,
  type FrameStructure,
  frameSolver,
  type LoadGroup,
  type NodeLoad,
  type Piece,
  type Support,
  sub,
  unit,
  type Vec3,
} from '#kernel';

export const ALL = [0, 1, 2, 3, 4, 5] as const;
/** Area, Iy, Iz, J; shear areas or none. */
export const section = (area: number, iy: number, iz: number, j: number, as = Infinity): BeamSection => ({
  area,
  iy,
  iz,
  j,
  asy: as,
  asz: as,
});
/** Round tube, thick-ring formulas. */
export function pipe(od: number, wall: number, as = Infinity): BeamSection {
  const id = od - 2 * wall;
  const iy = (Math.PI / 64) * (od * od * od * od - id * id * id * id);
  return section((Math.PI / 4) * (od * od - id * id), iy, iy, 2 * iy, as);
}

export interface Bar {
  readonly from: number;
  readonly to: number;
  readonly section: BeamSection;
  readonly E: number;
  readonly G: number;
  /** Direction whose part normal to the bar is local y; global z (x for a vertical bar) where absent. */
  readonly y?: Vec3;
}

export function frameOf(points: readonly Vec3[], bars: readonly Bar[]): FrameStructure {
  return {
    nodes: points.map((at, i) => ({ name: `${i + 1}`, at })),
    members: bars.map((bar): BeamMember => {
      const [from, to] = [points[bar.from]!, points[bar.to]!];
      const x = unit(sub(to, from));
      const up: Vec3 = bar.y ?? (Math.abs(x[2]) > 1 - 1e-9 ? [1, 0, 0] : [0, 0, 1]);
      const y = unit(cross(cross(x, up), x));
      const piece: Piece = { from, to, y, E: bar.E, G: bar.G, section: bar.section };
      return { name: `${bar.from + 1}-${bar.to + 1}`, from: bar.from, to: bar.to, pieces: [piece], flex: [] };
    }),
    joints: [],
  };
}

export const hold = (node: number, ...components: readonly number[]): Support[] =>
  components.map((component) => ({ node, component }));
export const pull = (node: number, force: Vec3, moment: Vec3 = [0, 0, 0]): NodeLoad => ({ node, force, moment });
export const groupOf = (supports: readonly Support[], ...loads: readonly NodeLoad[]): LoadGroup => ({
  supports,
  fixtures: [],
  loads: [loads],
});
export const solved = (
  s: FrameStructure,
  supports: readonly Support[],
  ...loads: readonly NodeLoad[]
): FrameSolution => {
  const group = groupOf(supports, ...loads);
  return frameSolver(s, [group]).solve(group)[0]!;
};
