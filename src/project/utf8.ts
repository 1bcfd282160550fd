/**
 * Strict UTF-8 (RFC 3629): text, or the offset of the first byte that is none.
 *
 * Written out because this layer has no platform library, and because the platform's decoder does not say where it
 * failed. Overlong forms, surrogates and NUL (a sign of UTF-16 or of a binary file) are refused. A byte order mark is kept.
 */

/** Characters collected before they become a string: bounded, so that no call takes millions of arguments. */
const CHUNK = 8192;

export function decodeUtf8(bytes: Uint8Array): { text: string } | { badByte: number } {
  let text = '';
  let units: number[] = [];
  for (let i = 0; i < bytes.length; ) {
    const lead = bytes[i]!;
    const extra =
      lead < 0x80
        ? 0
        : lead >= 0xc2 && lead < 0xe0
          ? 1
          : lead >= 0xe0 && lead < 0xf0
            ? 2
            : lead >= 0xf0 && lead < 0xf5
              ? 3
              : -1;
    if (extra < 0 || lead === 0) return { badByte: i };
    let point = extra === 0 ? lead : lead & (0x3f >> extra);
    for (let k = 1; k <= extra; k++) {
      const next = bytes[i + k];
      if (next === undefined || (next & 0xc0) !== 0x80) return { badByte: i };
      point = (point << 6) | (next & 0x3f);
    }
    const overlong = (extra === 2 && point < 0x800) || (extra === 3 && (point < 0x10000 || point > 0x10ffff));
    if (overlong || (point >= 0xd800 && point < 0xe000)) return { badByte: i };
    if (point < 0x10000) units.push(point);
    else units.push(0xd800 + ((point - 0x10000) >> 10), 0xdc00 + ((point - 0x10000) & 0x3ff));
    if (units.length >= CHUNK) {
      text += String.fromCharCode(...units);
      units = [];
    }
    i += extra + 1;
  }
  return { text: text + String.fromCharCode(...units) };
}

/** Bytes that a text takes as UTF-8. */
export function utf8Length(text: string): number {
  let bytes = 0;
  for (let i = 0; i < text.length; i++) {
    const unit = text.charCodeAt(i);
    // A surrogate is half of a character of four bytes.
    bytes += unit < 0x80 ? 1 : unit < 0x800 || (unit >= 0xd800 && unit < 0xe000) ? 2 : 3;
  }
  return bytes;
}
