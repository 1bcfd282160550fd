export {
  axesAbout,
  type BodyPosture,
  type BuiltFrame,
  buildFrame,
  type FrameParts,
  type HingeState,
  type PlaceAt,
  posePoint,
  type TubeSpan,
  type WeldPlace,
} from './build-frame.ts';
export { BRIDGE, type Bridge, Ties, tieMembers, type Weld } from './connect.ts';
export { directionAt, footOn, type Line, lineOf, pointAt, sizeAt } from './line.ts';
export type { FrameBlock, FrameHinge, FrameTube, TubeEnd } from './parts.ts';
