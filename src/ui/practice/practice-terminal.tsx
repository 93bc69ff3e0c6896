import { Box, render, useInput, useWindowSize } from 'ink';
import { type ReactElement, useEffect, useRef, useState } from 'react';
import { keystrokes } from '../keystroke.js';
import { ScreenRows } from '../panels/screen-rows.js';
import { type Look, paint } from '../theme.js';
import { useStopAndGo } from '../use-stop-and-go.js';
import { practiceFrame } from './practice-frame.js';
import type { PracticePort } from './practice-port.js';

export type PracticeScreen = {
  /** Resolves once the screen has been given back: 0 over, 130 left by Ctrl-C, 3 a fault inside. */
  readonly finished: Promise<number>;
  readonly stop: () => void;
};

/** The practice screen on the whole terminal, until the exercise is over and Enter was pressed, or Ctrl-C twice. */
export function startPractice(port: PracticePort, look: Look): PracticeScreen {
  let code = 0;
  const ink = render(
    <PracticeApp
      port={port}
      look={look}
      leave={(asked) => {
        code = asked;
        ink.unmount();
      }}
    />,
    {
      alternateScreen: true,
      incrementalRendering: true,
      exitOnCtrlC: false,
      // A terminal is a terminal, also where a build server's variable stands in the environment.
      interactive: true,
      maxFps: 30,
      patchConsole: false,
    },
  );
  const finished = ink.waitUntilExit().then(
    () => code,
    (fault: unknown) => {
      process.stderr.write(
        `The practice screen failed: ${fault instanceof Error ? (fault.stack ?? fault.message) : String(fault)}\n`,
      );
      return 3;
    },
  );
  return { finished, stop: () => ink.unmount() };
}

type AppProps = { readonly port: PracticePort; readonly look: Look; readonly leave: (code: number) => void };

const TICK_MS = 500;
const LONGEST = 60;

/** The only place that reads keys: a line typed to the end, Tab and the arrows for the loupe. */
function PracticeApp({ port, look, leave }: AppProps): ReactElement {
  const { columns, rows } = useWindowSize();
  // Two inputs may come between two frames: the line is kept beside the frames, not in them.
  const typed = useRef('');
  const [ready, setReady] = useState(false);
  const [, redraw] = useState(0);
  useEffect(() => port.subscribe(() => redraw((n) => n + 1)), [port]);
  useEffect(() => {
    const timer = setInterval(() => port.tick(TICK_MS), TICK_MS);
    return () => clearInterval(timer);
  }, [port]);
  useInput((input, key) => {
    let line = typed.current;
    for (const stroke of keystrokes(input, key)) {
      if ('char' in stroke) line = (line + stroke.char).slice(0, LONGEST);
      else if (stroke.name === 'backspace') line = line.slice(0, -1);
      else if (stroke.name === 'esc') line = '';
      else if (stroke.name === 'ctrl-c') {
        leave(130);
        return;
      } else if (stroke.name === 'tab' || stroke.name === 'down' || stroke.name === 'right') port.look(1);
      else if (stroke.name === 'back-tab' || stroke.name === 'up' || stroke.name === 'left') port.look(-1);
      else if (stroke.name === 'enter') {
        if (port.view().ended) {
          leave(0);
          return;
        }
        if (line.trim() !== '') port.type(line);
        line = '';
      }
    }
    typed.current = line;
    redraw((n) => n + 1);
  });
  useStopAndGo();
  // Nothing is shown until keys are read as keys: what is typed before would be echoed over the screen.
  useEffect(() => setReady(true), []);
  const frame = ready ? practiceFrame(port.view(), typed.current, columns, rows, look) : [];
  return (
    <Box flexDirection="column" width={columns} height={rows} overflow="hidden">
      <ScreenRows rows={frame.map((line) => paint(line, look).trimEnd())} />
    </Box>
  );
}
