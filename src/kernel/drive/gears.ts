/**
 * A bicycle's gears as ways per turn of the cranks.
 *
 * Development = roll-out × (ring teeth / sprocket teeth) × hub ratio (ISO 8090 term; geometry, no source needed). Every
 * combination of ring, sprocket and hub gear is one gear; combinations of equal development are kept, because a rider meets
 * them. Range = highest over lowest, step = development over that of the next lower gear.
 * SI; cadence in turns per second. Not here: which combinations a chain may take, the rider's wish to change.
 */
export interface GearTrain {
  /** Way per turn of the driven wheel, m. */
  readonly rollOut: number;
  readonly rings: readonly number[];
  readonly sprockets: readonly number[];
  /** Turns of the wheel per turn of the sprocket; [1] without a hub gear. */
  readonly ratios: readonly number[];
}
export interface Gear {
  readonly ring: number;
  readonly sprocket: number;
  readonly ratio: number;
  /** m per turn of the cranks. */
  readonly development: number;
}
export interface GearSet {
  /** Lowest first. */
  readonly gears: readonly Gear[];
  /** Highest development over lowest. */
  readonly range: number;
  /** Largest step between neighbours, as a ratio; 1 for a single gear. */
  readonly largestStep: number;
}

const positive = (what: string, list: readonly number[]): void => {
  if (list.length === 0) throw new RangeError(`no ${what}: there is no gear`);
  const wrong = list.find((x) => !(x > 0 && x < Infinity));
  if (wrong !== undefined) throw new RangeError(`${what}: ${wrong} is not above 0`);
};

/** @throws RangeError for an empty list, or a number that is not above 0. */
export function gearSet(train: GearTrain): GearSet {
  positive('way per turn', [train.rollOut]);
  positive('chainring', train.rings);
  positive('sprocket', train.sprockets);
  positive('hub ratio', train.ratios);
  const gears = train.rings
    .flatMap((ring) =>
      train.sprockets.flatMap((sprocket) =>
        train.ratios.map(
          (ratio): Gear => ({
            ring,
            sprocket,
            ratio,
            development: train.rollOut * (ring / sprocket) * ratio,
          }),
        ),
      ),
    )
    .sort((a, b) => a.development - b.development);
  const steps = gears.slice(1).map((g, i) => g.development / gears[i]!.development);
  return {
    gears,
    range: gears.at(-1)!.development / gears[0]!.development,
    largestStep: Math.max(1, ...steps),
  };
}

/** Turns of the cranks per second at a speed in m/s. */
export const cadenceAt = (development: number, speed: number): number => speed / development;

/** The gear whose cadence at this speed is nearest to the wished one, as a ratio: half and double are equally far. */
export function nearestGear(set: GearSet, speed: number, cadence: number): Gear {
  const off = (g: Gear): number => Math.abs(Math.log(cadenceAt(g.development, speed) / cadence));
  return set.gears.reduce((best, g) => (off(g) < off(best) ? g : best));
}

/** Cadence that riders in town choose, turns per second: 60 to 80 rpm; default, from memory. */
export const USUAL_CADENCE = 70 / 60;
