export {
  bodyLinks,
  inseam,
  LINK,
  type Links,
  linksInto,
  type Rider,
  SADDLE_RULE,
  saddleDistance,
} from './body-links.ts';
export {
  SEGMENT_COUNT,
  type SegmentName,
  type SegmentRow,
  type SegmentTable,
  type Sex,
  segmentSum,
  segmentTable,
} from './de-leva.ts';
export * from './fit/index.ts';
export {
  drawPopulation,
  measureOf,
  type Population,
  type PopulationSpec,
  quantileOf,
  RIDER_STRIDE,
} from './population.ts';
export { PUBLIC_IDS, PUBLICS, type Public, type PublicId, type SexPublic } from './publics.ts';
export { armSpan2 } from './reach.ts';
export { highestRaise, type SaddleSetting, type SeatPost, saddleForRider } from './saddle.ts';
export {
  COMFORT,
  type ContactPoints,
  kneeFlexion,
  type Misfit,
  type MisfitCode,
  PEDAL_OUT,
  type PostureAngles,
  RIDER_SPREAD,
  type SeatedRider,
  seatRider,
} from './seat.ts';
export { bodySegment, c7, headLength, type Segment } from './segments.ts';
export { type Share, shareOf } from './share.ts';
export { COLUMN, MEASURES, type Measure, SURVEY, type Survey } from './survey.ts';
export { flexionAt, type TwoLink, twoLink } from './two-link.ts';
