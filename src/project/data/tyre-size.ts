/**
 * Tyre sizes as ISO 5775-1 writes them: `40-406` is a tyre 40 mm wide on a rim of 406 mm bead-seat diameter.
 * Sizes in inches are no sizes: "20 inch" is 406, 419, 438 or 451 mm.
 */
const SIZE = /^(\d+(?:\.\d+)?)-(\d{3})$/;

export interface TyreSize {
  /** m. */
  readonly width: number;
  readonly beadSeat: number;
}
/** Undefined for text that is no such size. */
export function readTyreSize(text: string): TyreSize | undefined {
  const match = SIZE.exec(text);
  if (!match) return undefined;
  const [width, beadSeat] = [Number(match[1]) / 1000, Number(match[2]) / 1000];
  return width > 0 && beadSeat > 0 ? { width, beadSeat } : undefined;
}
