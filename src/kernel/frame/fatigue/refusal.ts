/** Input without a fatigue answer (a category of 0, a slope that the code does not have); `path` names the field. */
export class FatigueRefusal extends RangeError {
  readonly path: string;
  constructor(path: string, message: string) {
    super(message);
    this.path = path;
  }
}

/** @throws FatigueRefusal unless `ok`. NaN-safe when `ok` is written so that NaN makes it false. */
export function insist(ok: boolean, path: string, message: string): asserts ok {
  if (!ok) throw new FatigueRefusal(path, message);
}
