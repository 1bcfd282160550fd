/**
 * Ratios of hub gears by the number of their gears: turns of the wheel per turn of the sprocket, lowest first.
 *
 * Typical of what is sold, from memory, all of them: the overall ranges agree with the ranges common in the trade (3: 186 %,
 * 5: 225 to 256 %, 7: 244 %, 8: 307 %, 11: 380 to 409 %, 14: 526 %). A hub in hand has its own, in its papers: a candidate
 * may write them instead. Not here: their losses, their masses.
 */
export const HUB_RATIOS: ReadonlyMap<number, readonly number[]> = new Map([
  [1, [1]],
  [2, [1, 1.36]],
  [3, [0.733, 1, 1.364]],
  [5, [0.667, 0.789, 1, 1.267, 1.5]],
  [7, [0.632, 0.741, 0.843, 0.989, 1.145, 1.335, 1.545]],
  [8, [0.527, 0.644, 0.748, 0.851, 1, 1.223, 1.419, 1.615]],
  [11, [0.527, 0.681, 0.77, 0.878, 0.995, 1.134, 1.292, 1.462, 1.667, 1.888, 2.153]],
  [14, [0.279, 0.316, 0.36, 0.409, 0.464, 0.528, 0.6, 0.682, 0.774, 0.881, 1, 1.135, 1.292, 1.467]],
]);
