/** Marks of a plotted axis. */

/**
 * First and last mark and the step between marks: 1, 2 or 5 times a power of ten, five to ten marks round the values. `room`: how
 * much of a step is left free at least, below and above.
 */
export function axisMarks(
  values: readonly number[],
  room: readonly [below: number, above: number] = [0, 0],
): readonly [first: number, last: number, step: number] {
  const low = Math.min(...values);
  const high = Math.max(...values);
  const span = Math.max(high - low, 1e-3 * Math.abs(high), 1e-9);
  const size = 10 ** Math.floor(Math.log10(span / 4));
  const step = [1, 2, 5, 10].map((k) => k * size).find((s) => span / s <= 7)!;
  return [step * Math.floor(low / step - room[0] + 1e-9), step * Math.ceil(high / step + room[1] - 1e-9), step];
}
/** A mark with as many decimals as its step has. */
export const ticked = (v: number, step: number): string =>
  v.toFixed(Math.max(0, -Math.floor(Math.log10(step) + 1e-9))).replace(/^-/, '−');
