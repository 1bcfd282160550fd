/** What the disciplines found for one candidate in one brief; a discipline that could not run leaves its reason instead. */
import type { CableResult, Model, SimpleCounts, State, StiffnessId } from '#kernel';
import type { Discipline } from './family.ts';
import type { BoxResult } from './run/box.ts';
import type { BurdenResult } from './run/burden.ts';
import type { DriveResult } from './run/drive.ts';
import type { EffortResult } from './run/effort.ts';
import type { FitChangeResult, FitResult } from './run/fit.ts';
import type { FoldResult } from './run/fold.ts';
import type { FoolproofResult } from './run/foolproof.ts';
import type { FrameResult } from './run/frame.ts';
import type { ChecksResult } from './run/frame-checks.ts';
import type {
  BlowsResult,
  FoldedSeatResult,
  JointsResult,
  LeastBuckling,
  PlayResult,
  UseResult,
} from './run/frame-settle.ts';
import type { StiffnessResult, Wobble } from './run/frame-stiffness.ts';
import type { HandsResult } from './run/hands.ts';
import type { LikenessResult } from './run/likeness.ts';
import type { MassResult } from './run/mass.ts';
import type { HandlingResult, StowResult } from './run/package.ts';
import type { PathResult } from './run/path.ts';
import type { PinchResult } from './run/pinch.ts';
import type { SteerResult } from './run/steer.ts';
import type { TripResult } from './run/trip.ts';
import type { Setting } from './setting.ts';

export interface Results {
  readonly model: Model;
  /** Filled, ride posture. */
  readonly state: State;
  readonly setting: Setting;
  readonly mass?: MassResult;
  readonly simple?: SimpleCounts;
  readonly steer?: SteerResult;
  readonly likeness?: LikenessResult;
  readonly fold?: FoldResult;
  readonly path?: PathResult;
  readonly box?: BoxResult;
  readonly stow?: StowResult;
  readonly handling?: HandlingResult;
  readonly cables?: readonly CableResult[];
  readonly frame?: FrameResult;
  readonly stiffness?: ReadonlyMap<StiffnessId, StiffnessResult>;
  readonly wobble?: Wobble;
  readonly frameJoints?: JointsResult;
  readonly frameChecks?: ChecksResult;
  readonly framePlay?: PlayResult;
  readonly frameBuckling?: LeastBuckling;
  readonly frameUse?: UseResult;
  readonly frameBlows?: BlowsResult;
  readonly frameFolded?: FoldedSeatResult;
  readonly fit?: FitResult;
  readonly fitChange?: FitChangeResult;
  readonly effort?: EffortResult;
  readonly burden?: BurdenResult;
  readonly hands?: HandsResult;
  readonly pinch?: PinchResult;
  readonly foolproof?: FoolproofResult;
  readonly drive?: DriveResult;
  readonly trip?: TripResult;
  readonly failures: Readonly<Partial<Record<Discipline, string>>>;
}
