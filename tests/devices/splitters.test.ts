import { describe, expect, it } from 'vitest';
import { splitBetween } from '../../src/devices/split-between.js';
import { splitLength } from '../../src/devices/split-length.js';
import { splitLines } from '../../src/devices/split-lines.js';
import { splitSilence } from '../../src/devices/split-silence.js';
import type { Framed, Splitter, WholeMessage } from '../../src/devices/splitter.js';

type Make = (take: (f: Framed) => void) => Splitter;
const lines =
  (end: string, maxBytes = 40, checked = false): Make =>
  (take) =>
    splitLines({ end, maxBytes, checked }, take);

const bodyOf = (f: WholeMessage): string => `${f.text.slice(f.from, f.to)}${f.trailer === '' ? '' : `|${f.trailer}`}`;
const b = (text: string): Buffer => Buffer.from(text, 'latin1');
/** Bodies of whole messages and, in brackets, why something was none. */
const told = (framed: readonly Framed[]): string[] =>
  framed.map((f) => (f.kind === 'frame' ? bodyOf(f) : `[${f.why}]`));

/** Chunks with the ms since the one before. */
const feed = (make: Make, chunks: readonly (readonly [string, number?])[], idleAfter = 0): string[] => {
  const all: Framed[] = [];
  const splitter = make((f) => all.push(f));
  splitter.opened(0);
  let at = 1000;
  for (const [text, after] of chunks) {
    at += after ?? 1;
    splitter.push(b(text), at);
  }
  if (idleAfter > 0) splitter.idle(at + idleAfter);
  return told(all);
};

const KINDS: readonly (readonly [string, Make, string, readonly string[]])[] = [
  ['CR LF', lines('\r\n'), '2,0.05,80\r\n13,-0.02,7\r\n', ['2,0.05,80', '13,-0.02,7']],
  ['LF', lines('\n'), '2,0.05,80\n13,-0.02,7\n', ['2,0.05,80', '13,-0.02,7']],
  ['CR', lines('\r'), '2,0.05,80\r13,-0.02,7\r', ['2,0.05,80', '13,-0.02,7']],
  ['any line break', lines('line-break'), '2,0.05,80\r\n13,-0.02,7\n\r', ['2,0.05,80', '13,-0.02,7']],
  ['ETX', lines('\u0003'), '2,0.05,80\u000313,-0.02,7\u0003', ['2,0.05,80', '13,-0.02,7']],
  ['a terminator of four bytes that half appears in the text', lines('<><>'), 'a<>b<><>c<><d<><>', ['a<>b', 'c<><d']],
  [
    'start and end',
    (t) => splitBetween({ start: '$', end: '\r\n', afterEnd: 0, maxBytes: 40 }, t),
    '$A,1*33\r\n$B,2*44\r\n',
    ['A,1*33', 'B,2*44'],
  ],
  [
    'STX, ETX and a check byte that looks like STX',
    (t) => splitBetween({ start: '\u0002', end: '\u0003', afterEnd: 1, maxBytes: 40 }, t),
    '\u0002A1\u0003\u0002\u0002B2\u0003\u0003',
    ['A1|\u0002', 'B2|\u0003'],
  ],
  [
    'fixed length with a start of two bytes',
    (t) => splitLength({ bytes: 6, start: 'AU' }, t),
    'AU1234AU5678',
    ['1234', '5678'],
  ],
  ['fixed length without a start', (t) => splitLength({ bytes: 4, start: '' }, t), '12345678', ['1234', '5678']],
];

describe.each(KINDS)('two messages by %s', (_name, make, wire, bodies) => {
  it('come out the same however the bytes are chunked: every two splits, and byte by byte', () => {
    for (let i = 0; i <= wire.length; i += 1) {
      for (let k = i; k <= wire.length; k += 1) {
        expect(feed(make, [[wire.slice(0, i)], [wire.slice(i, k)], [wire.slice(k)]])).toEqual(bodies);
      }
    }
    expect(
      feed(
        make,
        [...wire].map((c) => [c] as const),
      ),
    ).toEqual(bodies);
  });

  it('never give a half message for a whole one when cut at any byte', () => {
    for (let i = 0; i <= wire.length; i += 1) {
      const all: Framed[] = [];
      const splitter = make((f) => all.push(f));
      splitter.opened(0);
      splitter.push(b(wire.slice(0, i)), 1000);
      splitter.cut();
      for (const f of all) if (f.kind === 'frame') expect(bodies).toContain(bodyOf(f));
      expect(splitter.held()).toBe(0);
    }
  });

  it('hold a bounded number of bytes of 100 MB with no end in it', () => {
    let bad = 0;
    let frames = 0;
    const splitter = make((f) => {
      if (f.kind === 'bad') bad += 1;
      else frames += 1;
    });
    splitter.opened(0);
    const chunk = Buffer.alloc(64 * 1024, 'x');
    let most = 0;
    for (let i = 0; i < 1600; i += 1) {
      splitter.push(chunk, 1000 + i);
      most = Math.max(most, splitter.held());
    }
    expect(most).toBeLessThanOrEqual(512);
    if (_name !== 'fixed length without a start') {
      expect(frames).toBe(0);
      expect(bad).toBeGreaterThan(0);
    }
  });
});

describe('lines', () => {
  it('drops the first line when it begins to listen in the middle of talk, but not after a quiet time', () => {
    const busy: Framed[] = [];
    const splitter = splitLines({ end: '\n', maxBytes: 40, checked: false }, (f) => busy.push(f));
    splitter.opened(1000);
    splitter.push(b('2,5\n3,6\n'), 1050);
    expect(told(busy)).toEqual(['[half]', '3,6']);
    const quiet: Framed[] = [];
    const later = splitLines({ end: '\n', maxBytes: 40, checked: false }, (f) => quiet.push(f));
    later.opened(1000);
    later.push(b('2,5\n3,6\n'), 1150);
    expect(told(quiet)).toEqual(['2,5', '3,6']);
  });
  it('drops a line that pauses in the middle, and the one it might be glued to', () => {
    expect(feed(lines('\n'), [['2,0.0'], ['12,5\n3,6\n', 1500]])).toEqual(['[half]', '[half]', '3,6']);
    expect(feed(lines('\n'), [['2,0.0'], ['5,7\n', 300]])).toEqual(['2,0.05,7']);
  });
  it('refuses what is too long once, and goes on after its end', () => {
    expect(feed(lines('\n', 10), [['x'.repeat(30)], ['y'.repeat(30)], ['z\n2,5\n']])).toEqual(['[too long]', '2,5']);
    expect(feed(lines('\r\n', 10), [[`${'x'.repeat(11)}\r\n2,5\r\n`]])).toEqual(['[too long]', '2,5']);
    expect(feed(lines('\r\n', 10), [[`${'x'.repeat(10)}\r`], ['\n2,5\r\n']])).toEqual(['xxxxxxxxxx', '2,5']);
  });
  it('says nothing of empty lines', () => {
    expect(feed(lines('\n'), [['\n\n2,5\n\n']])).toEqual(['2,5']);
  });
});

describe('start and end marks', () => {
  const make: Make = (t) => splitBetween({ start: '$', end: '\r\n', afterEnd: 0, maxBytes: 20 }, t);
  it('drops noise between messages and a message that was cut off by the next one', () => {
    expect(feed(make, [['ab$A,1\r\n\r\nzz$B$C,3\r\n']])).toEqual(['[form]', 'A,1', '[form]', '[half]', 'C,3']);
  });
  it('a message cut off and never finished', () => {
    expect(feed(make, [['$A,1']], 1500)).toEqual(['[half]']);
    expect(feed(make, [['$A,1'], ['$B,2\r\n', 1500]])).toEqual(['[half]', 'B,2']);
  });
});

describe('silence between messages', () => {
  const make: Make = (t) => splitSilence({ gapMs: 5, maxBytes: 10 }, t);
  it('cuts where it was quiet long enough', () => {
    expect(feed(make, [['abc'], ['de', 3], ['fgh', 9]], 6)).toEqual(['abcde', 'fgh']);
    expect(feed(make, [['abc'], ['de', 3]])).toEqual([]);
    expect(feed(make, [['x'.repeat(30)], ['y', 2], ['ok', 9]], 6)).toEqual(['[too long]', 'ok']);
  });
});

describe('fixed length', () => {
  it('finds the start again after noise, and drops half a message after a pause', () => {
    const make: Make = (t) => splitLength({ bytes: 6, start: 'AU' }, t);
    expect(feed(make, [['xxAU1234AU5'], ['AU9999', 500]])).toEqual(['[form]', '1234', '[half]', '9999']);
  });
});
