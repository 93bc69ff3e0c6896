/** One key as the board understands it. */
export type KeyName =
  | 'enter'
  | 'tab'
  | 'back-tab'
  | 'esc'
  | 'backspace'
  | 'up'
  | 'down'
  | 'left'
  | 'right'
  | 'home'
  | 'end'
  | 'page-up'
  | 'page-down'
  | 'ctrl-c';

export type Keystroke = { readonly name: KeyName } | { readonly char: string };

/** What the terminal library tells of one input event; only what is used here. */
export type RawKey = {
  readonly upArrow?: boolean;
  readonly downArrow?: boolean;
  readonly leftArrow?: boolean;
  readonly rightArrow?: boolean;
  readonly pageUp?: boolean;
  readonly pageDown?: boolean;
  readonly home?: boolean;
  readonly end?: boolean;
  readonly return?: boolean;
  readonly escape?: boolean;
  readonly tab?: boolean;
  readonly shift?: boolean;
  readonly ctrl?: boolean;
  readonly meta?: boolean;
  readonly backspace?: boolean;
  readonly delete?: boolean;
};

/**
 * Every keystroke of one input event, in order. A scanner or a paste brings `5A\r` as one event without naming Enter, and
 * terminals differ in what backspace sends, so the characters are walked.
 */
export function keystrokes(input: string, key: RawKey): readonly Keystroke[] {
  const named = nameOf(key);
  if (named !== null) return [{ name: named }];
  if (key.ctrl === true)
    return input === 'c'
      ? [{ name: 'ctrl-c' }]
      : input === 'm' || input === 'j'
        ? [{ name: 'enter' }]
        : input === 'h'
          ? [{ name: 'backspace' }]
          : [];
  const strokes = [...input].map(ofChar).filter((one) => one !== null);
  // Esc followed at once by a letter comes as one event with "meta": it was two keys.
  return key.meta === true ? [{ name: 'esc' }, ...strokes] : strokes;
}

function nameOf(key: RawKey): KeyName | null {
  if (key.upArrow === true) return 'up';
  if (key.downArrow === true) return 'down';
  if (key.leftArrow === true) return 'left';
  if (key.rightArrow === true) return 'right';
  if (key.pageUp === true) return 'page-up';
  if (key.pageDown === true) return 'page-down';
  if (key.home === true) return 'home';
  if (key.end === true) return 'end';
  if (key.return === true) return 'enter';
  if (key.escape === true) return 'esc';
  if (key.tab === true) return key.shift === true ? 'back-tab' : 'tab';
  return key.backspace === true || key.delete === true ? 'backspace' : null;
}

function ofChar(char: string): Keystroke | null {
  if (char === '\r' || char === '\n') return { name: 'enter' };
  if (char === '\t') return { name: 'tab' };
  if (char === '\u007F' || char === '\b') return { name: 'backspace' };
  if (char === '\u001B') return { name: 'esc' };
  if (char === '\u0003') return { name: 'ctrl-c' };
  return char < ' ' ? null : { char };
}
