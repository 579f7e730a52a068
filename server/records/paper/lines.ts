/** A glyph for what the typeface cannot show. The record's JSON holds the text as it was typed. */
const unknown = "\u25A1";

interface Measure {
  /** Width of a text in the present font and size, points. */
  widthOfString(text: string): number;
}

/** More code points than this without a space are cut, however narrow: marks may be stacked without end. */
const longestRun = 120;

/** Replaces what the typeface lacks by a square, and every kind of space by a plain one. */
export const printable = (text: string, has: (codePoint: number) => boolean): string =>
  Array.from(text.normalize("NFC").replaceAll("\t", " ").replaceAll(/\r\n?/g, "\n"), (character) => {
    if (character === "\n") return character;
    if (/\s/.test(character)) return " ";
    const codePoint = character.codePointAt(0) ?? 0;
    if (/[\p{Cf}\p{Cc}\p{Variation_Selector}]/u.test(character)) return "";
    return has(codePoint) ? character : unknown;
  }).join("");

const cutRun = (run: string, width: number, measure: Measure): string[] => {
  const pieces: string[] = [];
  let piece = "";
  let length = 0;
  let reach = 0;
  for (const character of run) {
    const step = measure.widthOfString(character);
    if (piece !== "" && (reach + step > width || length >= longestRun)) {
      pieces.push(piece);
      [piece, length, reach] = ["", 0, 0];
    }
    piece += character;
    length += 1;
    reach += step;
  }
  return [...pieces, piece];
};

/** A text as lines not wider than `width` points: broken at spaces, and inside a run that is longer than a line. */
export const linesOf = (text: string, width: number, measure: Measure): string[] => {
  const space = measure.widthOfString(" ");
  return text.split("\n").flatMap((paragraph) => {
    const lines: string[] = [];
    let line = "";
    let reach = 0;
    for (const word of paragraph.split(/ +/)) {
      const fits = word.length <= longestRun && measure.widthOfString(word) <= width;
      for (const [index, piece] of (fits ? [word] : cutRun(word, width, measure)).entries()) {
        const step = measure.widthOfString(piece);
        if (line !== "" && (index > 0 || reach + space + step > width)) {
          lines.push(line);
          [line, reach] = ["", 0];
        }
        [line, reach] = line === "" ? [piece, step] : [`${line} ${piece}`, reach + space + step];
      }
    }
    return [...lines, line];
  });
};
