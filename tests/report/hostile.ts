import type { HandoverView } from '../../src/core/views/handover-view.js';
import { SHIFTS } from './shifts.js';

/** Names and notes that try to break out of a format. */
export const HOSTILE: Readonly<Record<string, string>> = {
  markup: `<script>alert(1)</script><img src=x onerror=alert(1)>"'><b>&lt;`,
  markdown:
    '# head\n- item **bold** [link](http://evil.example) ![pic](http://evil.example/p.png) `code` | cell | <div> ~~x~~ www.evil.example a@b.example',
  escapes: '\u001b[2J\u001b[31mred\u001b[0m\u001b]0;title\u0007\u009b1A\u0007bell\u0000null\b\u001bP0;q\u001b\\',
  direction: 'abc\u202egnp.exe\u2066x\u200fy \u05e9\u05dc\u05d5\u05dd 12',
  lines: 'one\r\ntwo\u2028three\u0085four\tfive',
  quotes: `"'\`\\" OR 1=1 -- '; DROP`,
  css: '</style><style>body{display:none}</style> --> <!-- ]]> url(http://evil.example)',
  long: 'x'.repeat(10_000),
  surrogate: 'a\ud800b',
};

/** A shift in which every person, job, press, ink, roll, note and reason carries the words. */
export const hostileShift = (words: string): HandoverView => {
  const base = SHIFTS['busy-shift'];
  if (base === undefined) throw new Error('no busy shift');
  return {
    ...base,
    board: {
      ...base.board,
      run: words,
      job: words,
      press: words,
      operator: words,
      stations: base.board.stations.map((station) => ({
        ...station,
        label: `${station.id} ${words}`,
        plate: { ...station.plate, why: station.plate.why === null ? null : words },
      })),
      events: base.board.events.map((event) => ({ ...event, sentence: words, done: [words] })),
      finished_roll: { ...base.board.finished_roll, running: words },
      instruction: { ...base.board.instruction, sentence: words, why: words, hand: [words] },
      sensor: { state: words, words },
    },
    passed_by: words,
    operators: [words, 'Ben T.'],
    abnormal: [words],
    holds: base.holds.map((hold) => ({ ...hold, rolls: [words], why: [words] })),
    stories: base.stories.map((story) => ({
      ...story,
      event: { ...story.event, sentence: words, done: [words] },
      advised: [words],
    })),
    corrections: base.corrections.map((done) => ({ ...done, by: words, label: words })),
    log: base.log.map((line) => ({ ...line, words, by: words })),
    notes: [{ at: '2026-05-12T08:05:00Z', by: words, web_m: null, words }],
    sign_off: { at: '2026-05-12T08:05:00Z', outgoing: words, incoming: words, note: words },
  };
};
