const HELD = '\u00a0';

/** Holds the parts of a number together with unbreakable spaces: "17 550 m", "± 0.15", "0.09 mm". */
export const holdNumbers = (text: string): string =>
  text
    .replaceAll(HELD, ' ')
    .replace(/(?<=\d) (?=\d{3}(?!\d))/g, HELD)
    .replace(/(?<=\d) (?=(?:mm|m|ft|in|thou|repeats|min|m\/min|labels)\b)/g, HELD)
    .replace(/(?<=[±+]) (?=\d)/g, HELD);

/** Ordinary spaces again. */
export const releaseNumbers = (text: string): string => text.replaceAll(HELD, ' ');
