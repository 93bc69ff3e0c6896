import type { LogRecord } from '../../src/core/record.js';
import type { HandoverView } from '../../src/core/views/handover-view.js';
import { turnGave } from '../../src/core/views/took-words.js';
import { boardCrew } from '../second-press/board-crew.js';
import { late, sevenInTen } from '../second-press/obeying.js';
import {
  type CrewFactory,
  makeLayout,
  playRun,
  type SampleTrace,
  SCENARIO_NAMES,
  type Scenario,
  scenario,
} from '../second-press/press.js';
import { lastAt, tell } from '../support/told.js';
import type { TryRun } from '../support/try-run.js';
import { contradictions } from './record-log.js';
import { judgeStory, type Verdict } from './record-story.js';
import { truthOf } from './record-truth.js';

/** Wrong of told. */
type Count = { wrong: number; told: number };
type Counts = Record<
  'at the press' | 'who' | 'how far' | 'since when' | 'how it ended' | 'what a turn gave' | 'against the log',
  Count
> & {
  /** Sentences that name no mover, by what they say instead. */
  unnamed: Record<string, number>;
  /** Named rightly at the press, and not borne out in the end. */
  lost: number;
};

const SIZES: readonly number[] = [5, 8, 12];
/** Crews that do what the board says, late, and seven times in ten. */
const CREWS: readonly ((crew: CrewFactory) => CrewFactory)[] = [
  (crew) => crew,
  (crew) => late(crew),
  (crew) => sevenInTen(crew),
];

/**
 * Every sentence of the final report about a movement, held against what truly happened on the second press: who moved, when, by how much,
 * what was done, what it gave, how it ended. Odd seeds; the constants of hindsight were not searched on any. `runs`: seeds a row.
 */
export const benchRecord = (runs = 6): readonly string[] => {
  const all = none();
  const rows = SCENARIO_NAMES.map((name) => {
    const counts = none();
    for (const n of SIZES)
      for (let run = 0; run < runs; run += 1)
        held(scenario(name), n, 2 * run + 1, CREWS[run % CREWS.length] ?? ((c) => c), counts);
    for (const [key, { wrong, told }] of entries(counts)) {
      all[key].wrong += wrong;
      all[key].told += told;
    }
    all.lost += counts.lost;
    for (const [what, n] of Object.entries(counts.unnamed)) all.unnamed[what] = (all.unnamed[what] ?? 0) + n;
    return `${name.padEnd(10)} ${entries(counts)
      .map(([key, c]) => `${key} ${c.wrong}/${c.told}`)
      .join(', ')}`;
  });
  const share = (key: Exclude<keyof Counts, 'unnamed' | 'lost'>): string =>
    `${((100 * all[key].wrong) / Math.max(1, all[key].told)).toFixed(1)} %`;
  return [
    `RECORD, second press, ${SIZES.join(', ')} stations, ${runs} odd seeds each, a crew that obeys, obeys late, obeys seven times in ten: false of told`,
    ...rows,
    `record: movements named wrongly in the final report ${share('who')} (${all.who.wrong} of ${all.who.told}; asked: at most 2 %); as they were named at the press ${share('at the press')}`,
    `record: of those named rightly, how far wrong ${share('how far')}, since when wrong ${share('since when')}; how it ended wrong ${share('how it ended')}; what a turn gave wrong ${share('what a turn gave')}`,
    `record: beside them, told without a mover: ${Object.entries(all.unnamed)
      .map(([what, n]) => `${what} ${n}`)
      .join(', ')}; named rightly at the press, and not borne out in the end: ${all.lost}`,
    `record: sentences against the log ${all['against the log'].wrong} of ${all['against the log'].told} (asked: none)`,
  ];
};

const none = (): Counts => {
  const zero = (): Count => ({ wrong: 0, told: 0 });
  return {
    'at the press': zero(),
    who: zero(),
    'how far': zero(),
    'since when': zero(),
    'how it ended': zero(),
    'what a turn gave': zero(),
    'against the log': zero(),
    unnamed: {},
    lost: 0,
  };
};

const entries = (counts: Counts): [Exclude<keyof Counts, 'unnamed' | 'lost'>, Count][] => {
  const { unnamed: _, lost: __, ...rest } = counts;
  return Object.entries(rest) as [keyof typeof rest, Count][];
};

const held = (
  press: Scenario,
  stations: number,
  seed: number,
  as: (crew: CrewFactory) => CrewFactory,
  counts: Counts,
): void => {
  const { run, trace } = played(press, stations, seed, as);
  const { atPress, final, log } = told(run.records);
  const truth = truthOf(makeLayout(press, stations), trace);
  const hit = (key: Exclude<keyof Counts, 'unnamed' | 'lost'>, right: boolean): void => {
    counts[key].told += 1;
    if (!right) counts[key].wrong += 1;
  };
  const verdicts = (view: HandoverView): readonly (Verdict | null)[] =>
    view.stories.map((story) => judgeStory(story, truth[story.event.axis]));
  const first = verdicts(atPress);
  for (const verdict of first) if (verdict !== null) hit('at the press', verdict.who);
  for (const [i, verdict] of verdicts(final).entries()) {
    if (verdict === null) {
      const { hindsight, found_by } = final.stories[i]?.event ?? {};
      const what = hindsight ?? (found_by === 'reading' ? 'one reading out' : 'standing off');
      counts.unnamed[what] = (counts.unnamed[what] ?? 0) + 1;
      if (hindsight === 'not borne out' && first[i]?.who === true) counts.lost += 1;
      continue;
    }
    hit('who', verdict.who);
    hit('how it ended', verdict.ended);
    if (verdict.who) hit('how far', verdict.much);
    if (verdict.who) hit('since when', verdict.when);
  }
  const turns = trace.flatMap((t) => t.turns);
  for (const done of final.corrections) {
    const made = turns.filter((t) => t.station === done.station && t.axis === done.axis && t.atM === done.web_m);
    if (done.result === null || made.length !== 1) continue;
    const gave = turnGave(done.result, done.got_sd_mm);
    if (gave === 'not told') continue;
    const part = (made[0]?.movedMm ?? 0) / done.move_mm;
    hit('what a turn gave', gave === 'took' ? part > 0 : gave === 'other way' ? part < 0 : part < 0.6);
  }
  const said = contradictions(final, log);
  counts['against the log'].told += said.told;
  counts['against the log'].wrong += said.wrong.length;
  if (process.env.TELL === '1')
    for (const line of said.wrong) process.stderr.write(`${press.name} ${stations} ${seed}: ${line}\n`);
};

const played = (
  press: Scenario,
  stations: number,
  seed: number,
  as: (crew: CrewFactory) => CrewFactory,
): { readonly run: TryRun; readonly trace: readonly SampleTrace[] } => {
  let run: TryRun | null = null;
  const ended = (one: TryRun): void => {
    one.put({
      type: 'end',
      web_m: Math.max(press.rolls * press.finishedRollM, one.state().judged.web.keyed_m ?? 0) + 1,
    });
    run = one;
  };
  const { trace } = playRun(press, stations, seed, as(boardCrew({ ended })));
  if (run === null) throw new Error('the run was not given back');
  return { run, trace };
};

/** The final report of a run from its log; `atPress`: by what was known when each movement was followed. */
const told = (
  log: readonly LogRecord[],
): { readonly atPress: HandoverView; readonly final: HandoverView; readonly log: readonly LogRecord[] } => {
  const { teller, state } = tell(log);
  const at_ms = lastAt(log);
  return { atPress: teller.words(state, at_ms, null), final: teller.view(state, at_ms, null), log };
};
