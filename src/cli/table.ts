/** Plain tables: columns padded to their widest cell, numbers to the right. */
export type Align = 'left' | 'right';

/** Rows of cells as lines; a row may be shorter than the others. `indent` spaces in front. */
export function table(rows: readonly (readonly string[])[], align: readonly Align[], indent = 2): string {
  const widths = align.map((_, k) => Math.max(0, ...rows.map((row) => [...(row[k] ?? '')].length)));
  return rows
    .map((row) => {
      const cells = row.map((cell, k) => {
        const space = ' '.repeat(Math.max(0, widths[k]! - [...cell].length));
        return align[k] === 'right' ? space + cell : cell + space;
      });
      return `${' '.repeat(indent)}${cells.join('  ')}`.trimEnd();
    })
    .map((line) => `${line}\n`)
    .join('');
}

/** Text broken at spaces to a width, every line indented. */
export function wrapped(text: string, width: number, indent = 2): string {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/\s+/)) {
    if (line && line.length + word.length + 1 > width - indent) {
      lines.push(line);
      line = word;
    } else line = line ? `${line} ${word}` : word;
  }
  if (line) lines.push(line);
  return lines.map((l) => `${' '.repeat(indent)}${l}\n`).join('');
}
