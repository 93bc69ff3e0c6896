/** What the practice screen is shown; plain data, made by whoever plays the game. */
export type PracticeScreenView = {
  readonly title: string;
  readonly counter: string;
  readonly phase: string;
  readonly stopped: boolean;
  readonly loupe: { readonly label: string; readonly mm: { readonly along: number; readonly across: number } } | null;
  readonly sample: string;
  readonly stations: readonly {
    readonly label: string;
    readonly looked: boolean;
    readonly along: string;
    readonly across: string;
    readonly flaws: string;
  }[];
  readonly hint: readonly string[];
  readonly said: readonly { readonly text: string; readonly tone: 'plain' | 'done' | 'refused' }[];
  /** Lies over the screen until the next line. */
  readonly page: readonly string[] | null;
  readonly ended: boolean;
  readonly web_runs: 'left-to-right' | 'right-to-left';
};

/** Between the practice screen and the game. */
export type PracticePort = {
  readonly view: () => PracticeScreenView;
  /** One line as typed, on Enter. */
  readonly type: (line: string) => void;
  /** Time passed on the wall, for a game with a pace. */
  readonly tick: (ms: number) => void;
  /** Another station under the loupe: −1 or +1 in web order. */
  readonly look: (step: -1 | 1) => void;
  readonly subscribe: (changed: () => void) => () => void;
};
