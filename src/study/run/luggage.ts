/** Where the brief's luggage is on a candidate: at a station, or at a part of that name. */
import { at3, MASS_SIZE, type Model, type State, type Vec3 } from '#kernel';

/** m, ride posture; undefined where this candidate has neither a station nor a part of that name. */
export function luggagePoint(m: Model, s: State, at: string): Vec3 | undefined {
  const { stations, masses } = m.top.names;
  const station = stations.indexOf(at);
  if (station >= 0) return at3(s.station, 3 * station);
  const element = masses.indexOf(at);
  return element < 0 ? undefined : at3(s.mass, MASS_SIZE * element + 1);
}

/** Whether a candidate has the place at all. */
export const hasLuggagePlace = (m: Model, at: string): boolean =>
  m.top.names.stations.includes(at) || m.top.names.masses.includes(at);
