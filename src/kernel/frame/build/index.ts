export { type BuiltFrame, buildFrame, type FrameParts, type PlaceAt, type TubeSpan } from './build-frame.ts';
export { BRIDGE, type Bridge, Ties, tieMembers, type Weld } from './connect.ts';
export { axesAbout, BEARING } from './elements.ts';
export { posePoint } from './hold.ts';
export { directionAt, footOn, type Line, lineOf, pointAt, sizeAt } from './line.ts';
export type { BodyPosture, FrameBlock, FrameHinge, FrameTube, HingeState, TubeEnd } from './parts.ts';
export type { WeldPlace } from './welds.ts';
