/** Input that no bicycle can have (a negative mass, an axis that misses the mid-plane); `path` names the field. */
export class SteerRefusal extends RangeError {
  readonly path: string;
  constructor(path: string, message: string) {
    super(message);
    this.path = path;
  }
}

/** @throws SteerRefusal unless `ok`. NaN-safe when `ok` is written so that NaN makes it false. */
export function insist(ok: boolean, path: string, message: string): void {
  if (!ok) throw new SteerRefusal(path, message);
}
