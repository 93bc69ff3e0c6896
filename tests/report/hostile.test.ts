import fc from 'fast-check';
import { marked } from 'marked';
import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import type { HandoverView } from '../../src/core/views/handover-view.js';
import { runDigest } from '../../src/core/views/run-digest.js';
import type { ReportDocument } from '../../src/report/document.js';
import { handoverHtml } from '../../src/report/handover-html.js';
import { handoverData, handoverJson } from '../../src/report/handover-json.js';
import { handoverMarkdown } from '../../src/report/handover-markdown.js';
import { handoverSchema } from '../../src/report/handover-schema.js';
import { handoverText } from '../../src/report/handover-text.js';
import { historyMarkdown, historyText } from '../../src/report/history-report.js';
import { holdTagsHtml, holdTagsText } from '../../src/report/hold-tags-html.js';
import { holdsJson, holdsText } from '../../src/report/holds-list.js';
import { holdsSchema } from '../../src/report/holds-schema.js';
import { plainWords } from '../../src/report/plain-words.js';
import { renderMarkdown } from '../../src/report/render-markdown.js';
import { runReportHtml, runReportJson, runReportText } from '../../src/report/run-report.js';
import { chartsOf } from './charts.js';
import { HOSTILE, hostileShift } from './hostile.js';
import { SHIFTS, wholeShift } from './shifts.js';

type Token = { readonly type: string; readonly tokens?: readonly Token[]; readonly items?: readonly Token[] };

/** Kinds of every node that an independent Markdown reader (marked, GitHub dialect) finds. */
const kindsOf = (markdown: string): readonly string[] => {
  const kinds: string[] = [];
  marked.walkTokens(marked.lexer(markdown, { gfm: true }), (token: Token) => {
    kinds.push(token.type);
  });
  return kinds.filter((kind) => !['text', 'escape'].includes(kind));
};

describe.each(Object.entries(HOSTILE))('a name or note of %s', (_, words) => {
  const view = hostileShift(words);

  test('cannot change the structure of the Markdown', () => {
    expect(kindsOf(handoverMarkdown(view))).toEqual(kindsOf(handoverMarkdown(hostileShift('Ada'))));
  });

  test('cannot break out of the run report, the tags, the list of held rolls or the history', () => {
    const held = { ...view, whole: wholeShift.whole, charts: chartsOf(view) } as HandoverView;
    const digests = [{ ...runDigest(view), press: words, stations: [words] }];
    const texts = [runReportText(held), holdTagsText(held), holdsText(held), historyText(digests)];
    for (const text of texts) expect(text).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066]/);
    for (const html of [runReportHtml(held), holdTagsHtml(held)]) {
      expect(html.match(/<(?:script|img|b|a|iframe)\b/g)).toBeNull();
      expect(html.match(/<style>/g)).toHaveLength(1);
    }
    expect(kindsOf(historyMarkdown(digests))).toEqual(
      kindsOf(historyMarkdown([{ ...runDigest(view), press: 'Ada', stations: ['Ada'] }])),
    );
    for (const json of [runReportJson(held), holdsJson(held)]) expect(() => JSON.parse(json)).not.toThrow();
    expect(holdsSchema.safeParse(JSON.parse(holdsJson(held))).success).toBe(true);
  });

  test('is shown in the Markdown as it is', () => {
    const shown = marked
      .parse(handoverMarkdown(view), { async: false })
      .replace(
        /&lt;|&gt;|&amp;|&quot;|&#39;/g,
        (found) => ({ '&lt;': '<', '&gt;': '>', '&amp;': '&', '&quot;': '"', '&#39;': "'" })[found] ?? found,
      );
    expect(shown).toContain(`<li>${plainWords(words)}</li>`);
  });

  test('leaves no control character for the terminal', () => {
    expect(handoverText(view)).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e]/);
    expect(handoverMarkdown(view)).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e]/);
    expect(handoverJson(view)).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e]/);
  });

  test('comes back from the JSON exactly as given', () => {
    const back = handoverSchema.parse(JSON.parse(handoverJson(view)));
    expect(back).toEqual(handoverData(view));
    expect(back.notes[0]?.words).toBe(words);
  });

  test('adds no tag to the HTML', () => {
    const tags = (html: string): readonly string[] =>
      (html.match(/<[a-z/!][^>]*>/gi) ?? [])
        .map((tag) => tag.replace(/"[^"]*"/g, '""'))
        .filter((tag) => tag !== '<wbr>');
    const shape = (make: (given: typeof view) => string): void =>
      expect(tags(make(view))).toEqual(tags(make(hostileShift('Ada'))));
    shape((given) => handoverHtml({ ...given, charts: chartsOf(given) }));
    shape(holdTagsHtml);
  });
});

test('JSON of every shift is of the schema, and the schema can be shipped as JSON Schema', () => {
  for (const view of Object.values(SHIFTS))
    expect(handoverSchema.safeParse(JSON.parse(handoverJson(view))).error).toBeUndefined();
  expect(z.toJSONSchema(handoverSchema)).toMatchObject({ type: 'object', additionalProperties: false });
});

test('JSON does not round', () => {
  const view = SHIFTS['busy-shift'];
  expect(view && handoverData(view).stations[1]?.register.along.last_mm).toBe(0.01 + 0.08);
});

test('no words that can be typed change the structure of the Markdown (1000 of them, markup characters often)', () => {
  const piece = fc.oneof(
    fc.constantFrom(
      '#',
      '-',
      '+',
      '*',
      '_',
      '`',
      '~',
      '|',
      '[',
      ']',
      '(',
      ')',
      '<',
      '>',
      '!',
      '&',
      '\\',
      ':',
      '/',
      '=',
      '.',
      '1.',
      ' ',
      '  ',
      '\t',
      '\n',
      'www.',
      'http://',
      'a@b.c',
      '<b>',
      '&lt;',
      '$',
      '^',
      '{',
      '}',
      '[ ]',
      '[x]',
      '```',
      '---',
    ),
    fc.string({ unit: 'grapheme', maxLength: 5 }),
  );
  const structure = kindsOf(renderMarkdown(wordy('Ada')));
  fc.assert(
    fc.property(fc.array(piece, { minLength: 1, maxLength: 8 }), (pieces) => {
      const words = plainWords(pieces.join(''));
      fc.pre(words !== '');
      expect(kindsOf(renderMarkdown(wordy(words)))).toEqual(structure);
    }),
    { numRuns: 1000 },
  );
});

/** One block of each kind made of the same words. */
const wordy = (words: string): ReportDocument => ({
  title: words,
  subtitle: words,
  sections: [
    {
      id: 'all',
      title: words,
      blocks: [
        { kind: 'say', text: words },
        { kind: 'say', text: words, strong: true },
        { kind: 'heading', text: words },
        { kind: 'list', items: [words, words] },
        { kind: 'ticks', items: [words] },
        {
          kind: 'facts',
          facts: [
            { term: words, says: [words] },
            { term: words, says: [words, words] },
          ],
        },
        {
          kind: 'table',
          caption: words,
          head: 0,
          columns: [{ title: words }, { title: words, numbers: true }],
          rows: [[words, words]],
        },
      ],
    },
  ],
});
