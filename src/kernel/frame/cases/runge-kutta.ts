/**
 * One step of the classical fourth-order Runge–Kutta method for a system without explicit time.
 * Source: Kutta 1901; Hairer, Nørsett & Wanner 1993, Solving Ordinary Differential Equations I, sec. II.1.
 * Not here: step control. The callers' springs have corners, at which the order drops; their tests halve the step.
 */
export interface Stepper {
  /** Advances `state` in place by `dt`. */
  step(state: Float64Array, dt: number): void;
}

/** @param slope writes d(state)/dt into `out`; both have `size` entries. */
export function rungeKutta(size: number, slope: (state: Float64Array, out: Float64Array) => void): Stepper {
  const [a, b, c, d, at] = Array.from({ length: 5 }, () => new Float64Array(size)) as [
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  const along = (state: Float64Array, k: Float64Array, h: number): Float64Array => {
    for (let i = 0; i < size; i++) at[i] = state[i]! + h * k[i]!;
    return at;
  };
  return {
    step(state, dt) {
      slope(state, a);
      slope(along(state, a, dt / 2), b);
      slope(along(state, b, dt / 2), c);
      slope(along(state, c, dt), d);
      for (let i = 0; i < size; i++) state[i] = state[i]! + (dt / 6) * (a[i]! + 2 * b[i]! + 2 * c[i]! + d[i]!);
    },
  };
}
