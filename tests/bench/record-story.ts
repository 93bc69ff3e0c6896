import type { Cause } from '../../src/core/finding.js';
import type { EventStory } from '../../src/core/views/handover-view.js';
import type { AxisTruth } from './record-truth.js';

/** What is right of one sentence about a movement, held against what truly happened. */
export type Verdict = {
  readonly who: boolean;
  readonly much: boolean;
  readonly when: boolean;
  /** "It came back by itself" only where nobody turned anything and it did. */
  readonly ended: boolean;
};

/** Half of what was said must be there, in what was named itself. */
const HALF = 0.5;
const MOST = 2.5;
/** What may be wrong of a size: some scatter of a level, or two fifths. */
const SLACK_MM = 0.04;
const SLACK = 0.4;

type Named = { readonly cause: Cause; readonly mm: number; readonly since_m: number; readonly drifts: boolean };

/** Who, how far and since when, read off the words; null = the sentence names nothing that moved. */
export const namedBy = (sentence: string, ids: readonly string[]): Named | null => {
  const told = sentence.split('By all readings since: ').at(-1) ?? sentence;
  if (/^At check .* taken that|no movement was found|in one reading|One reading says/.test(told)) return null;
  const since = /since (?:roll \S+ \()?(\d[\d ]*) m/.exec(told);
  const size = /(\d+\.\d+) mm (behind|ahead|toward|for|since)/.exec(told);
  if (since === null || size === null) return null;
  const minus = /(moved|drifted|drifting|mm|up to \S+ mm) (behind|toward the gear side)/.test(told);
  const head = told.split(/ (?:has |have |is |are |had )?(?:moved|drifted|drifting|stretched|shifted)/)[0] ?? '';
  const cause: Cause = /^The web/.test(head)
    ? { kind: 'web' }
    : /\(the reference\)/.test(head)
      ? { kind: 'reference' }
      : causeOf(ids.filter((id) => new RegExp(`(^| )${id === 'D' ? 'die' : id}(,| |$)`).test(head)));
  return {
    cause,
    mm: Number(size[1]) * (minus ? -1 : 1),
    since_m: Number((since[1] ?? '').replace(/ /g, '')),
    drifts: /drift/.test(told),
  };
};

const causeOf = (stations: readonly string[]): Cause =>
  stations.length === 1 ? { kind: 'station', station: stations[0] ?? '' } : { kind: 'several', stations };

/** null = nothing that moved is named. */
export const judgeStory = (story: EventStory, truth: AxisTruth): Verdict | null => {
  const { sentence, done } = story.event;
  const named = namedBy(
    sentence,
    truth.stations.map((s) => s.id),
  );
  if (named === null) return null;
  const { cause, since_m, drifts, mm } = named;
  const end_m = story.closed_web_m ?? truth.at_m.at(-1) ?? story.found_web_m;
  const b = Math.max(
    0,
    truth.at_m.findLastIndex((m) => m < since_m),
  );
  // It says how far it went, not by when: any sample from where it was found to where it was over may bear it out.
  const ends = truth.at_m.flatMap((m, i) =>
    m >= Math.min(story.found_web_m, since_m) - 1 && m <= end_m + 1 ? [i] : [],
  );
  const several = cause.kind === 'several';
  const share = (from: number, to: number): number =>
    several ? Math.abs(went(cause, truth, from, to)) / Math.abs(mm) : went(cause, truth, from, to) / mm;
  const best = (from: number): number =>
    ends.map((i) => share(from, i)).reduce((x, y) => (Math.abs(y - 1) < Math.abs(x - 1) ? y : x), -9);
  const part = [b, Math.max(0, b - 1)].map(best).reduce((x, y) => (Math.abs(y - 1) < Math.abs(x - 1) ? y : x));
  const who = part >= HALF && part <= MOST;
  const last = Math.min(truth.at_m.length - 1, b + 2);
  return {
    who,
    much:
      who &&
      Math.abs(part - 1) * Math.abs(mm) <= Math.max(SLACK_MM * (cause.kind === 'web' ? 0.2 : 1), SLACK * Math.abs(mm)),
    when: who && best(b) >= HALF && (drifts || Math.max(share(b, b + 1), share(b, last)) >= HALF),
    ended:
      !/by itself/.test(sentence) ||
      (done.length === 0 &&
        Math.abs(
          share(
            b,
            truth.at_m.findLastIndex((m) => m <= end_m + 1),
          ),
        ) < HALF),
  };
};

/** How far what is named truly went of its own between two samples, mm (web: mm a metre). */
const went = (cause: Cause, truth: AxisTruth, from: number, to: number): number => {
  const all = truth.stations.map((s, k) => ({ ...s, mm: (truth.alone[to]?.[k] ?? 0) - (truth.alone[from]?.[k] ?? 0) }));
  if (cause.kind === 'reference') return -median(all.map((w) => w.mm));
  if (cause.kind === 'web') return slope(all);
  if (cause.kind === 'several')
    return Math.max(...all.filter((w) => cause.stations.includes(w.id)).map((w) => Math.abs(w.mm)));
  const own = all.find((w) => w.id === cause.station);
  return own === undefined
    ? 0
    : own.mm -
        common(
          all.filter((w) => w !== own),
          own.path_m,
        );
};

type Went = { readonly path_m: number; readonly mm: number };

/** What the others show that one at this path must show too: nothing, the reference's move, or the web's, whichever explains them best. */
const common = (others: readonly Went[], path_m: number): number => {
  const shift = median(others.map((w) => w.mm));
  const web = median(others.map(({ path_m: p, mm }) => mm / (p || 1e-9)));
  const left = (of: (x: Went) => number): number => others.reduce((sum, x) => sum + Math.abs(x.mm - of(x)), 0);
  const price = 0.005 * others.length;
  return [
    { mm: 0, cost: left(() => 0) },
    { mm: shift, cost: left(() => shift) + price },
    { mm: web * path_m, cost: left((x) => web * x.path_m) + price },
  ].reduce((x, y) => (y.cost < x.cost ? y : x)).mm;
};

const slope = (all: readonly Went[]): number =>
  all.reduce((s, w) => s + w.mm * w.path_m, 0) /
  Math.max(
    1e-9,
    all.reduce((s, w) => s + w.path_m ** 2, 0),
  );

const median = (list: readonly number[]): number => {
  const all = list.toSorted((a, b) => a - b);
  return ((all[Math.ceil(all.length / 2) - 1] ?? 0) + (all[Math.floor(all.length / 2)] ?? 0)) / 2;
};
