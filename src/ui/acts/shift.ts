import { parseKeyed } from '../../core/reading.js';
import { fail, ok, type Result } from '../../core/result.js';
import { type Signing, signRecords } from '../../core/views/sign-records.js';
import type { SignSheet } from '../../core/views/sign-sheet.js';
import { choiceField, type Field, type Form, textField, textOf } from '../form.js';
import type { Act, ActContext } from './act.js';
import { counterField, readCounter } from './counter-field.js';

/** Shift change: the outgoing operator answers, the incoming one reads back, reads one station again and signs; or nobody takes over. */
export const shift: Act = {
  name: 'shift',
  title: 'shift change',
  open: (context) => {
    const sheet = fitted(context.signSheet?.() ?? NO_SHEET);
    return ok({
      act: 'shift',
      at: 1,
      message: null,
      carried: { sheet: JSON.stringify(sheet) },
      fields: [
        textField('outgoing', 'handing over', context.operator),
        textField('incoming', 'taking over (blank: nobody)'),
        ...sheet.questions.map(({ about }, i) => textField(`answer${i}`, about)),
        ...sheet.points.map((point, i) => choiceField(`point${i}`, `read back: ${short(point)}`, TICKS, 'no')),
        ...rereadFields(sheet),
        counterField(context),
      ],
    });
  },
  sentence: (form) => {
    const incoming = textOf(form, 'incoming');
    return `${textOf(form, 'outgoing') || '?'} hands over to ${incoming === '' ? 'nobody' : incoming}?`;
  },
  caution: () => 'Read the handover (h) through together, and measure one station again.',
  outcome: (form, context) => {
    const sheet = sheetOf(form);
    const web_m = readCounter(form, context);
    if (!web_m.ok) return web_m;
    const incoming = textOf(form, 'incoming');
    const reread = readAgain(form, sheet, context);
    if (!reread.ok) return reread;
    const signed = signRecords(sheet, context.view, {
      outgoing: textOf(form, 'outgoing'),
      web_m: web_m.value,
      answers: sheet.questions.map((question, i) => ({ question, answer: textOf(form, `answer${i}`) })),
      incoming:
        incoming === ''
          ? null
          : {
              name: incoming,
              ticked: sheet.points.map((_, i) => textOf(form, `point${i}`) === 'yes'),
              reread: reread.value,
            },
    });
    if (!signed.ok) return signed;
    return ok({
      records: signed.value.map(({ body }) => body),
      said: incoming === '' ? 'Nobody took over.' : `${incoming} has the run. A full check is due once a shift.`,
      ...(incoming === '' ? {} : { operator: incoming }),
    });
  },
};

/** Without a handover behind it there is one thing to ask: what to pass on. */
const NO_SHEET: SignSheet = {
  questions: [{ about: 'to pass on', ask: 'What should the next operator know?' }],
  points: [],
  reread: null,
};

/** The board has room for so many points; the rest are read back off the handover. */
const MOST = 5;
const fitted = (sheet: SignSheet): SignSheet =>
  sheet.points.length <= MOST + 1
    ? sheet
    : {
        ...sheet,
        points: [...sheet.points.slice(0, MOST), `${sheet.points.length - MOST} more points of the handover (h).`],
      };

const TICKS = [
  { value: 'no', label: 'no' },
  { value: 'yes', label: 'yes' },
] as const;

/** As many whole words as there is room for. */
const short = (point: string): string =>
  point.length <= SHORT ? point : `${point.slice(0, SHORT + 1).replace(/\s+\S*$/, '')} …`;
const SHORT = 48;

const rereadFields = ({ reread }: SignSheet): readonly Field[] =>
  reread === null ? [] : [textField('along', `${reread.label} read again, along`), textField('across', 'across')];

/** The sheet that was asked, whatever happened since. */
const sheetOf = (form: Form): SignSheet => JSON.parse(form.carried.sheet ?? JSON.stringify(NO_SHEET)) as SignSheet;

type Reread = NonNullable<Signing['incoming']>['reread'];

const readAgain = (form: Form, { reread }: SignSheet, context: ActContext): Result<Reread> => {
  if (reread === null) return ok(null);
  const { register } = context.view.units;
  const along = parseKeyed(textOf(form, 'along'), register, 'along');
  if (!along.ok) return fail(`${reread.label} along: ${along.problem.message}`);
  const across = parseKeyed(textOf(form, 'across'), register, 'across');
  if (!across.ok) return fail(`${reread.label} across: ${across.problem.message}`);
  if (along.value.mm === null && across.value.mm === null) return ok(null);
  return ok({ station: reread.station, along_mm: along.value.mm, across_mm: across.value.mm });
};
