import type { PlateFinding } from '../finding.js';
import type { CheckId, PlateGrade } from '../record.js';
import type { Life } from './fit-life.js';
import { flagPlate } from './flag-plate.js';
import { type Flaw, flawSentence, NO_FLAW } from './flaw.js';
import { beliefOfLives, chanceDirty } from './life.js';
import { likelyCause } from './likely-cause.js';
import type { PlateLearned, PlateSeen, PlateState, PlatesCheck, PlatesConfig, PlatesState } from './plate-state.js';
import { squaresSettled } from './rise.js';
import { rateOfOthers, type Squares, UNKNOWN_RATE } from './usual-rate.js';
import { washDue, washWhen } from './wash-due.js';

export type { PlateLearned, PlateSeen, PlatesCheck, PlatesConfig, PlatesState } from './plate-state.js';

type Stations = Pick<PlatesConfig, 'stations'>;

export type PlateView = {
  readonly station: string;
  readonly grade: PlateGrade | null;
  readonly flag: 'building' | 'dirty' | null;
  readonly why: string | null;
  /** What was said of the flaw, and where to look for its cause, as a suggestion; null = nothing to suggest. */
  readonly flaw: Flaw;
  readonly cause: string | null;
  readonly since: { readonly check: CheckId; readonly web_m: number } | null;
  readonly sure: number | null;
  readonly last_wash_m: number | null;
  /** What had been flagged when it was washed last, and what the flaw was; null = nothing. */
  readonly washed_of: { readonly state: 'building' | 'dirty'; readonly flaw: Flaw } | null;
  /** Whether the last wash helped; null = none, or not judged yet. */
  readonly wash_helped: boolean | null;
  readonly p_dirty_next: number | null;
};

/** Plates at the start of a run, with what earlier runs of this job taught of them. */
export const initialPlates = (learned: Readonly<Record<string, PlateLearned>> = {}): PlatesState => ({
  learned,
  stations: {},
  next_check_m: null,
});

/** OK to run, or a new plate: clean from here on. */
export const platesStart = (state: PlatesState, station: string | 'all', web_m: number): PlatesState =>
  change(state, station, (plate) => ({
    ...blankPlate({ lives: plate.lives, usual: usualAfter(plate) }, web_m),
    lives: plate.lives,
  }));

/** A plate (or all of them) was washed here: its flag is cleared, and the next sample printed since judges the wash. */
export const noteWash = (state: PlatesState, station: string | 'all', web_m: number): PlatesState =>
  change(state, station, (plate) => {
    const censored = !plate.ended && plate.clean_m !== null && plate.clean_m > plate.start_m;
    const lives = censored
      ? kept([...plate.lives, { from_m: (plate.clean_m ?? 0) - plate.start_m, to_m: null }])
      : plate.lives;
    return {
      ...blankPlate({ lives, usual: usualAfter(plate) }, web_m),
      grade: plate.grade,
      wash: { web_m, was: plate.flag?.state ?? null, flaw: plate.flaw, helped: null },
    };
  });

/**
 * One check further: grades, counts and what they mean, plate by plate.
 * Graded dirty, or building twice in a row, is flagged; so is a count beyond its exact limit, or a rise too gradual for limits.
 * Each flag, and each wash that is due at a stop, is said once. What was printed before the last wash judges nothing.
 */
export const stepPlates = (
  config: PlatesConfig,
  state: PlatesState,
  check: PlatesCheck,
): { readonly state: PlatesState; readonly findings: readonly PlateFinding[] } => {
  const stations: Record<string, PlateState> = { ...state.stations };
  const whys = new Map<string, PlateFinding>();
  const squares = pressSquares(config, state);
  const counted = config.stations.map((id) => ({ id, rate: usualAfter(plateOf(state, id)) }));
  for (const id of config.stations) {
    const before = plateOf(state, id);
    const seen = check.seen.find((one) => one.station === id);
    const after =
      seen === undefined || tooOld(before, seen)
        ? before
        : flagPlate(config, before, check, seen, {
            squares,
            rate: rateOfOthers(counted, id),
          });
    const due = washDue(config, after, check);
    stations[id] = due === null || after.due_said ? after : { ...after, due_said: true };
    if (
      after.flag !== null &&
      (before.flag === null || (before.flag.state === 'building' && after.flag.state === 'dirty'))
    ) {
      whys.set(id, { type: 'plate', station: id, state: after.flag.state, why: after.flag.why });
    } else if (due !== null) whys.set(id, { type: 'plate', station: id, state: 'wash-due', why: due });
  }
  const next: PlatesState = { ...state, stations, next_check_m: check.next_check_m };
  const findings = config.stations.flatMap((id): readonly PlateFinding[] => {
    const finding = whys.get(id);
    if (finding === undefined) return [];
    if (finding.state === 'wash-due') return [finding];
    const cause = causeOf(config, next, id);
    const flaw = flawSentence(plateOf(next, id).flaw);
    const said = [finding.why, flaw, cause ?? '', washWhen(finding.state, check)];
    return [{ ...finding, why: said.filter((one) => one !== '').join(' ') }];
  });
  return { state: next, findings };
};

/** What the board and the handover show of each plate, in web order. */
export const plateViews = (config: Stations, state: PlatesState): readonly PlateView[] =>
  config.stations.map((station) => {
    const plate = plateOf(state, station);
    return {
      station,
      grade: plate.grade,
      flag: plate.flag?.state ?? null,
      why: plate.flag?.why ?? null,
      flaw: plate.flaw,
      cause: plate.flag === null ? null : causeOf(config, state, station),
      since: plate.flag?.since ?? null,
      sure: plate.flag?.sure ?? null,
      last_wash_m: plate.wash?.web_m ?? null,
      washed_of: plate.wash?.was == null ? null : { state: plate.wash.was, flaw: plate.wash.flaw },
      wash_helped: plate.wash?.helped ?? null,
      p_dirty_next: plate.flag === null ? chanceNext(plate, state.next_check_m) : 1,
    };
  });

/** What is worth carrying to the next run of this job: lives (the one in progress as still clean) and the usual rate. */
export const learnedPlates = (state: PlatesState): Readonly<Record<string, PlateLearned>> => {
  const learned: Record<string, PlateLearned> = { ...state.learned };
  for (const [id, plate] of Object.entries(state.stations)) {
    const now: readonly Life[] =
      !plate.ended && plate.clean_m !== null && plate.clean_m > plate.start_m
        ? [{ from_m: plate.clean_m - plate.start_m, to_m: null }]
        : [];
    const usual = usualAfter(plate);
    // Few counts of a quiet press may sum up to a little less than nothing; what is kept is a scatter.
    learned[id] = { lives: kept([...plate.lives, ...now]), usual: { ...usual, squares: Math.max(0, usual.squares) } };
  }
  return learned;
};

const LIVES_KEPT = 60;

const kept = (lives: readonly Life[]): readonly Life[] => lives.slice(-LIVES_KEPT);

const plateOf = (state: PlatesState, id: string): PlateState =>
  state.stations[id] ?? blankPlate(state.learned[id] ?? { lives: [], usual: UNKNOWN_RATE }, 0);

const blankPlate = (learned: PlateLearned, start_m: number): PlateState => ({
  grade: null,
  unclean: null,
  flag: null,
  calm: 0,
  flaw: NO_FLAW,
  start_m,
  clean_m: null,
  ended: false,
  lives: learned.lives,
  belief: beliefOfLives(learned.lives),
  wash: null,
  due_said: false,
  usual: learned.usual,
  looks: [],
  strength: null,
  width: null,
});

/** Looks of a plate that was never flagged are those of a clean plate; of one that was, only those before it began. */
const usualAfter = (plate: PlateState): PlateState['usual'] => {
  const until = plate.flag?.since.web_m ?? Number.POSITIVE_INFINITY;
  let { flaws, labels } = plate.usual;
  for (const look of plate.looks) {
    if (look.web_m >= until) break;
    flaws += look.flaws;
    labels += look.labels;
  }
  return { ...plate.usual, flaws, labels };
};

const change = (state: PlatesState, station: string | 'all', by: (plate: PlateState) => PlateState): PlatesState => {
  const ids =
    station === 'all' ? [...new Set([...Object.keys(state.stations), ...Object.keys(state.learned)])] : [station];
  const stations: Record<string, PlateState> = { ...state.stations };
  for (const id of ids) stations[id] = by(plateOf(state, id));
  return { ...state, stations };
};

const pressSquares = (config: PlatesConfig, state: PlatesState): Squares =>
  config.stations.reduce<Squares>(
    (sum, id) => {
      const plate = plateOf(state, id);
      const own = squaresSettled(plate.usual, plate.looks);
      return { squares: sum.squares + own.squares, checks: sum.checks + own.checks };
    },
    { squares: 0, checks: 0 },
  );

/** Where to look, from which plates are flagged together and what the flaw on this one is. */
const causeOf = (config: Stations, state: PlatesState, station: string): string | null =>
  likelyCause(
    config.stations.filter((id) => state.stations[id]?.flag != null),
    config.stations.length,
    plateOf(state, station).flaw,
  );

const tooOld = (plate: PlateState, seen: PlateSeen): boolean =>
  plate.wash !== null && seen.printed_m < plate.wash.web_m;

const chanceNext = (plate: PlateState, next_check_m: number | null): number | null => {
  if (next_check_m === null || plate.belief === null) return null;
  if (plate.ended) return 1;
  const from = Math.max(0, (plate.clean_m ?? plate.start_m) - plate.start_m);
  return chanceDirty(plate.belief, from, next_check_m - plate.start_m);
};
