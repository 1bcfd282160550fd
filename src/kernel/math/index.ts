export { INCH, POUND, STANDARD_GRAVITY } from './constants.ts';
export { normalShare } from './normal.ts';
export { power } from './power.ts';
export {
  add,
  at3,
  compose,
  cross,
  dot,
  IDENTITY,
  invert,
  movePoint,
  type Numbers,
  norm,
  rotationAbout,
  scale,
  setIdentity,
  sub,
  translationAlong,
  turnVector,
  unit,
  type Vec3,
} from './rigid.ts';
