/**
 * Text in columns of a terminal: wrapping that never parts a number from its fraction or unit, and small tables.
 * Letters are counted as they show: combining marks take no room, East Asian wide letters take two.
 */

const wideLetters = /\p{Script=Han}|\p{Script=Hiragana}|\p{Script=Katakana}|\p{Script=Hangul}|[\uFF01-\uFF60]/u;
const noRoom = /\p{M}|\p{Cf}/u;

/** Columns that a text takes on the screen. */
export function shownWidth(text: string): number {
  let width = 0;
  for (const letter of text) width += widthOf(letter);
  return width;
}

function widthOf(letter: string): number {
  return noRoom.test(letter) ? 0 : wideLetters.test(letter) ? 2 : 1;
}

/** As much of the beginning of a text as fits into so many columns. */
export function cutTo(text: string, width: number): string {
  let [kept, taken] = ['', 0];
  for (const letter of text) {
    taken += widthOf(letter);
    if (taken > width) break;
    kept += letter;
  }
  return kept;
}

/** Stands in for a space that must not be broken. */
const glue = '\u00A0';
const gluedSpace = /(?<=\d) (?=\d+\/\d|(?:mm|cm|cm2|m|in|ft|yd|%)(?![\p{L}\d]))/gu;

/** Breaks a text at its spaces so that each line fits; a word longer than the line stays whole. */
export function wrap(text: string, width: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.replace(gluedSpace, glue).split(' ')) {
    if (line !== '' && shownWidth(line) + 1 + shownWidth(word) > width) {
      lines.push(line);
      line = word;
    } else {
      line = line === '' ? word : `${line} ${word}`;
    }
  }
  lines.push(line);
  return lines.map((each) => each.replaceAll(glue, ' '));
}

/** Wraps with `first` before the first line and as much room before the others. */
export function wrapAfter(first: string, text: string, width: number): string[] {
  const indent = shownWidth(first);
  return wrap(text, Math.max(width - indent, 20)).map((line, index) =>
    `${index === 0 ? first : ' '.repeat(indent)}${line}`.trimEnd(),
  );
}

export type Align = 'left' | 'right';

/** Rows in aligned columns, two spaces apart. The last column is running text: left, and wrapped under itself. */
export function table(
  rows: readonly (readonly string[])[],
  aligns: readonly Align[],
  indent: number,
  width: number,
): string[] {
  const last = aligns.length - 1;
  const widths = aligns.map((_, column) => Math.max(...rows.map((row) => shownWidth(row[column] ?? ''))));
  return rows.flatMap((row) => {
    const cells = row.slice(0, last).map((cell, column) => pad(cell, widths[column]!, aligns[column]!));
    const first = `${' '.repeat(indent)}${cells.join('  ')}${cells.length > 0 ? '  ' : ''}`;
    return wrapAfter(first, row[last] ?? '', width);
  });
}

function pad(text: string, width: number, align: Align): string {
  const room = ' '.repeat(Math.max(width - shownWidth(text), 0));
  return align === 'right' ? room + text : text + room;
}
