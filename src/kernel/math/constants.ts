/** Constants of nature and convention that several disciplines share. */

/** Standard acceleration of free fall, m/s² (3rd General Conference on Weights and Measures, 1901; ISO 80000-3). */
export const STANDARD_GRAVITY = 9.80665;
/** International inch (m) and avoirdupois pound (kg), exact (agreement of 1959). */
export const INCH = 0.0254;
export const POUND = 0.45359237;
