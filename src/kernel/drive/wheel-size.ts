/**
 * Wheel sizes: from the two numbers of a tyre's designation to the circumference on which a bicycle rolls.
 *
 * Nominal outside diameter D = b + 2 w: b bead-seat diameter, w tyre width, section height taken as the width (ISO 5775-1).
 * Under its load the hub stands at the loaded radius R_l, but a turn carries it farther than 2π R_l, because the tread's length
 * hardly changes: R_e ≈ R − (R − R_l)/3, the usual effective radius of a pneumatic tyre (default, from memory). With 1.5 % of
 * sag that is 0.5 % below πD; 35-622 was measured at 2166 mm against 2174 mm.
 * SI. Not here: the designation's text, slip, pressure, wear.
 */
const THIRD = 1 / 3;

/** Nominal outside diameter of a tyre, m. @throws RangeError for a rim or a tyre without size. */
export function tyreDiameter(beadSeat: number, width: number): number {
  if (!(beadSeat > 0 && beadSeat < Infinity && width > 0 && width < Infinity))
    throw new RangeError(`a tyre of ${width * 1000} mm on a rim of ${beadSeat * 1000} mm has no size`);
  return beadSeat + 2 * width;
}

/** Radius that rolls: a turn of the wheel carries the bicycle by 2π times this, m. `loaded` is the hub's height. */
export const rollingRadius = (radius: number, loaded: number): number => radius - THIRD * (radius - loaded);

/** Way per turn of a wheel of outside radius `radius` whose hub stands at `loaded`, m; unloaded when that is left out. */
export const rollOut = (radius: number, loaded = radius): number => 2 * Math.PI * rollingRadius(radius, loaded);
