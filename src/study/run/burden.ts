/** The folded bicycle as something to lift, to carry on stairs and to roll. */
import {
  balancedUp,
  type CarryEdge,
  carryEdge,
  gripHeight,
  gripHeightOf,
  type Model,
  type PackageLift,
  packageLift,
  type RollForce,
  type Rolling,
  rollForce,
  rolling,
  solidExtent,
  wheelOf,
} from '#kernel';
import type { Setting } from '../setting.ts';
import type { BoxResult } from './box.ts';
import type { MassResult } from './mass.ts';
import type { HandlingResult } from './package.ts';

/** Whose hand carries it. */
export const CARRIERS = ['short', 'usual', 'tall'] as const;
export type Carrier = (typeof CARRIERS)[number];

export interface LiftResult extends PackageLift {
  readonly name: string;
  /** Of the place over the floor, m. */
  readonly rise: number;
}
export interface BurdenResult {
  readonly lifts: readonly LiftResult[];
  /** By carrier: a woman of the 5th percentile, the usual and the tallest rider. Undefined without a handle. */
  readonly edge: Readonly<Record<Carrier, CarryEdge>> | undefined;
  /** Heights of the hanging hands, m. */
  readonly grip: Readonly<Record<Carrier, number>>;
  /** It is rolled: it rolls, and no more than half of it hangs on the hand meanwhile. */
  readonly rolls: boolean;
  /** Undefined where it does not roll. */
  readonly roll: RollForce | undefined;
  /** Slim side and height of the package as it stands, m. */
  readonly width: number;
  readonly tall: number;
}

/** A hand that holds up more of the weight than this carries rather than rolls. */
const CARRIED_MOST = 0.5;
/** 5th percentile. */
const Z5 = -1.6448536269514722;

export function runBurden(
  m: Model,
  setting: Setting,
  mass: MassResult,
  box: BoxResult,
  handling: HandlingResult,
): BurdenResult {
  const { folded } = box;
  const { people, journey } = setting;
  const { rest } = handling.standing;
  const up = rest.converged ? rest.up : folded.up;
  const tall = solidExtent(folded.solid, up);
  const width = Math.min(...box.size);
  const kg = mass.whole.mass;
  const grip = {
    short: gripHeight('female', people.female, Z5),
    usual: gripHeightOf(setting.usual),
    tall: gripHeightOf(setting.heaviest),
  };
  const { carrying, rolling: rolls } = handling;
  const edgeFor = (carrier: Carrier): CarryEdge =>
    carryEdge(folded.solid, carrying!, folded.handle!, grip[carrier], journey.step);
  const roll = rolls?.rolls ? rolledBy(m, kg, box, rolls) : undefined;
  return {
    lifts: journey.lifts.map(({ name, height }) => ({
      name,
      rise: height,
      ...packageLift(kg, width, tall, height, people.women),
    })),
    edge:
      carrying && folded.handle
        ? { short: edgeFor('short'), usual: edgeFor('usual'), tall: edgeFor('tall') }
        : undefined,
    grip,
    rolls: roll !== undefined && Math.abs(roll.carried) <= CARRIED_MOST,
    roll,
    width,
    tall,
  };
}

/** On wheels side by side balanced over them where nothing touches the floor, else tipped no farther than it must be. */
function rolledBy({ top, rollsOn }: Model, kg: number, { folded }: BoxResult, least: Rolling): RollForce {
  const { solid, whole, handle } = folded;
  const [first, second] = rollsOn.filter((i) => i >= top.nCapsule && i < top.nCapsule + top.nDisc);
  const [one, other] = [wheelOf(solid, first!), wheelOf(solid, second!)];
  const balanced =
    least.arrangement === 'side by side'
      ? rolling(
          solid,
          whole.com,
          [first!, second!],
          balancedUp(whole.com, [one.centre, other.centre], least),
          handle,
          rollsOn,
        )
      : least;
  const how = balanced.rolls && balanced.tipped === 0 ? balanced : least;
  return rollForce(kg, whole.com, handle, how, [one.radius, other.radius]);
}
