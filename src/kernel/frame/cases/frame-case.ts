/**
 * What a load case is: a named record with its figures and a pure function from the bicycle to loads and fixtures.
 * Units: mm, N, N·mm, kg. Every state is a whole load vector; a range is a set of states between which the stress swings.
 */
import type { Vec3 } from '../../math/rigid.ts';
import type { FrameContext, Places } from '../places.ts';
import type { LoadGroup, NodeLoad } from '../structure.ts';
import type { CaseId, FigureValues } from './figures.ts';

/** `screening`: an estimate that ranks designs; never a demand by default. */
export type FrameCaseKind = 'test_static' | 'test_fatigue' | 'service' | 'screening';
export type CasePosture = 'ride' | 'folded';

/** The unloaded state, in `LoadRange.states`. */
export const UNLOADED = -1;

/** One kind of cycle: stress at a point ranges from its least to its greatest over these states (indices of `loads`, or `UNLOADED`). */
export interface LoadRange {
  readonly label: string;
  readonly states: readonly number[];
  /** Cycles of a test; 1 for a service case, whose number of times is the user's (`useSpectrum`). */
  readonly cycles: number;
}

/** A blow: the state `state` is a reference force whose work against the structure takes up `energy` (N·mm). */
export interface CaseBlow {
  readonly state: number;
  /** The reference force, N, and the weight that goes on pressing while the structure gives way, N (0 where it acts across). */
  readonly reference: number;
  readonly weight: number;
  readonly energy: number;
  /** Blows of the same energy one after another. */
  readonly drops: number;
  /** Permanent set allowed along the force, mm; NaN where the source limits none. */
  readonly limit: number;
}

/** A figure that the case worked out on the way, for its sheet. */
export interface CaseFinding {
  readonly what: string;
  readonly unit: string;
  readonly value: number;
}

export interface CaseLoads extends LoadGroup {
  readonly applicable: true;
  /** One per load vector. */
  readonly labels: readonly string[];
  /** Empty for a case that happens once. */
  readonly ranges: readonly LoadRange[];
  readonly blow?: CaseBlow;
  /** States (indices of `loads`) that must not break it but may bend it: judged against the ultimate strength. */
  readonly fracture?: readonly number[];
  readonly findings: readonly CaseFinding[];
  /** Cautions that depend on the bicycle. */
  readonly notes: readonly string[];
}
export interface NotApplicable {
  readonly applicable: false;
  readonly reason: string;
}

export interface FrameCase {
  readonly id: CaseId;
  readonly title: string;
  readonly kind: FrameCaseKind;
  /** Postures in which it is run; each gets its own context. */
  readonly postures: readonly CasePosture[];
  readonly source: string;
  /** What must hold. */
  readonly criterion: string;
  readonly note: string;
  /** Figures in the units of the case's table (`figureValues`). */
  readonly load: (context: FrameContext, figures: FigureValues) => CaseLoads | NotApplicable;
}

export const notApplicable = (reason: string): NotApplicable => ({ applicable: false, reason });

const PLACE_WORDS: Readonly<Partial<Record<keyof Places, string>>> = {
  rearAxle: 'rear axle',
  frontAxle: 'front axle',
  crank: 'bottom bracket',
  saddleClamp: 'saddle clamp',
  postClamp: 'clamp of the seat post',
  barClamp: 'clamp of the bar',
  gripLeft: 'left grip',
  gripRight: 'right grip',
  barEndLeft: 'left bar end',
  barEndRight: 'right bar end',
  headTop: 'upper end of the head tube',
  headBottom: 'lower end of the head tube',
  crown: 'fork crown',
  handle: 'handle to lift it by',
};

/** Why a case that needs these places cannot be run; undefined where all are there. */
export function lacking(context: FrameContext, ...needed: readonly (keyof Places)[]): NotApplicable | undefined {
  const absent = needed.filter((place) => context.places[place] < 0);
  return absent.length > 0
    ? notApplicable(`the bicycle has no ${absent.map((place) => PLACE_WORDS[place] ?? place).join(', no ')}`)
    : undefined;
}

/** Where a node stands. */
export const placeAt = (context: FrameContext, place: keyof Places): Vec3 =>
  context.structure.nodes[context.places[place]]!.at;

export const NO_MOMENT: Vec3 = [0, 0, 0];
export const force = (node: number, f: Vec3, at?: Vec3): NodeLoad =>
  at ? { node, force: f, moment: NO_MOMENT, at } : { node, force: f, moment: NO_MOMENT };

/** What most cases lack: blows, findings, notes. */
export const caseLoads = (
  group: LoadGroup,
  labels: readonly string[],
  rest: Partial<Pick<CaseLoads, 'ranges' | 'blow' | 'fracture' | 'findings' | 'notes'>> = {},
): CaseLoads => ({ applicable: true, ...group, labels, ranges: [], findings: [], notes: [], ...rest });
