import { leavesOf, type Outcome, outcomeOf } from '../adjust/options.js';
import type { PlanInput, PlanStation } from '../adjust/plan-input.js';
import { knobAsLearned, knobWords, knownOf } from '../adjust/response.js';
import { sayRegister } from '../adjust/say-register.js';
import { wholeTeeth } from '../adjust/whole-teeth.js';
import { whyMoves } from '../adjust/why-moves.js';
import { AXES, type Axis, type PerAxis } from '../axis.js';
import type { AdviceFinding, Move } from '../finding.js';
import type { Job } from '../job.js';
import { repeatMm } from '../job.js';
import type { Press } from '../press.js';
import { knobOf } from './knob-of.js';
import type { PerAxisLevels } from './levels.js';
import { ownerOf } from './owner.js';
import { type AxisPlan, edgesDisagree } from './plan-axis.js';
import { reachedBy } from './reached-by.js';
import type { SeenCheck } from './seen-check.js';
import type { Judged, Movement } from './state.js';
import { labelOf, type Station } from './stations.js';
import { toleranceIn } from './tolerance-in.js';

/**
 * What is planned, told by the movements that it answers: each open movement that is to be acted on gets the moves that are its own. All of
 * them are meant to be made at this check; none stands against another.
 */
export const advise = (seen: SeenCheck, judged: Judged, plans: PerAxis<AxisPlan>): Judged => {
  const { press, job, stations } = seen;
  const given = new Map<number, AdviceFinding>();
  const levels: PerAxisLevels = { along: plans.along.levels, across: plans.across.levels };
  for (const axis of AXES) {
    const plan = plans[axis];
    const open = judged.movements.filter((m) => m.axis === axis && m.closed === null && m.severity !== 'note');
    if (open.length === 0) continue;
    const input = planInput(press, job, judged, stations, axis, levels);
    const wanted = { [judged.reference]: plan.reference_mm, ...plan.stations };
    const outcome = atAStop(outcomeOf(input, wholeTeeth(input, wanted)), plan.meets);
    const leaves_mm = leavesOf(input, outcome);
    for (const m of open) {
      const moves = outcome.moves.filter(
        (move) => ownerOf(open, move.station, stations, judged.reference, plan.meets) === m,
      );
      const reached = reachedBy(m.cause, stations, judged.reference);
      const again = plan.read_again.filter((id) => reached.includes(id));
      const ofWeb = m.cause.kind === 'web' && moves.length > 0;
      const looked = judged.tension_looked_m !== null && judged.tension_looked_m >= m.since.web_m;
      given.set(m.key, {
        type: 'advice',
        event: 0,
        moves,
        leaves_mm,
        why: [
          ...(moves.length > 0 ? whyMoves(input, outcome, moves, plan) : [whyNone(seen, judged, m, plan, again)]),
          ...(ofWeb ? [looked ? STILL_OFF : PUT_BACK] : []),
          ...knobTrouble(judged, stations, moves),
        ].join(' '),
        ...(ofWeb && !looked ? { look_first: WEB_FIRST[axis] } : {}),
        ...(again.length === 0 ? {} : { read_again: again }),
      });
    }
  }
  return {
    ...judged,
    read_again: { along: plans.along.read_again, across: plans.across.read_again },
    movements: judged.movements.map((m): Movement => ({ ...m, advice: given.get(m.key) ?? m.advice })),
  };
};

/** Until the last of them is done nothing is in register, so bringing all the print to a fixed thing is work for a stop. */
const atAStop = (outcome: Outcome, meets: readonly string[]): Outcome =>
  meets.length === 0 ? outcome : { ...outcome, moves: outcome.moves.map((move) => ({ ...move, when: 'stop' })) };

const WEB_FIRST: PerAxis<string> = {
  along: 'tension, dryer or stock',
  across: 'web guide, tension or dryer',
};
const PUT_BACK = 'It is the web: if what changed it can be put back, do that instead and turn nothing.';

const STILL_OFF = 'What carries the web was looked to already: what is left is turned.';

const whyNone = (seen: SeenCheck, judged: Judged, m: Movement, plan: AxisPlan, again: readonly string[]): string => {
  const unit = seen.job.units.register;
  const reached = reachedBy(m.cause, seen.stations, judged.reference);
  if (seen.settling) return 'Register is still settling after a start, a splice or a change of speed.';
  const crooked = seen.measured.find((x) => reached.includes(x.station) && edgesDisagree(judged, x, m.axis));
  if (crooked !== undefined)
    return `The two edges of the web disagree by ${sayRegister(crooked.edges_apart_mm[m.axis] ?? 0, unit)}: the plate is on crooked or the web has changed its width. No register knob cures that.`;
  if (again.length > 0)
    return 'One label says so and those before it do not: a step, or a misreading. A second label of the same sample tells.';
  const looked = seen.measured.find((x) => x.look === 'off' && reached.includes(x.station) && x.mm[m.axis] === null);
  if (looked !== undefined) return 'It was looked at and is off, but not measured: measure it along and across.';
  if (judged.turns.some((t) => t.event === m.key && t.result === null))
    return 'It was corrected; no sample printed wholly after the move has been read yet.';
  const worst = reached.reduce<number>((a, id) => Math.max(a, Math.abs(plan.levels[id]?.mean_mm ?? 0)), 0);
  return `It stands ${sayRegister(worst, unit)} off at most by all readings together: a turn would not better it.`;
};

/** What was found wrong with a knob that is to be turned: it does not answer, or gives more or less than its marks say. */
const knobTrouble = (judged: Judged, stations: readonly Station[], moves: readonly Move[]): readonly string[] =>
  moves.flatMap((move) => {
    const station = stations.find((s) => s.id === move.station);
    const response = judged.knobs[move.station]?.[move.axis];
    const words =
      station === undefined || response === undefined ? null : knobWords(labelOf(station), knownOf(response));
    return words === null ? [] : [words];
  });

/** What can be turned on one axis, and from where. */
export const planInput = (
  press: Press,
  job: Job,
  judged: Judged,
  stations: readonly Station[],
  axis: Axis,
  levels: PerAxisLevels,
): PlanInput => {
  const reference_m = stations.find((s) => s.id === judged.reference)?.at_m ?? 0;
  return {
    axis,
    reference: judged.reference,
    stations: stations.map((station): PlanStation => {
      const level = levels[axis][station.id] ?? null;
      const response = judged.knobs[station.id]?.[axis];
      const known = response === undefined ? null : knownOf(response);
      return {
        id: station.id,
        name: labelOf(station),
        kind: station.kind,
        path_m: station.at_m - reference_m,
        fixed: station.fixed.includes(axis),
        measured: station.read === 'measure' && station.id !== judged.reference,
        level_mm: station.id === judged.reference ? 0 : (level?.mean_mm ?? null),
        sd_mm: station.id === judged.reference ? 0 : (level?.sd_mm ?? null),
        tolerance_mm: toleranceIn(judged, station.id, axis),
        knob: known === null ? knobOf(judged, station, axis) : knobAsLearned(knobOf(judged, station, axis), known),
        used_mm: usedTravel(judged, station, axis, press.tooth_mm),
        gain: known?.gain ?? { plus: 1, minus: 1 },
        backlash_mm: known === null || known.moves < 2 ? null : known.backlash_mm,
        proved: known?.sense === 1,
        along_mm: axis === 'across' ? (levels.along[station.id]?.mean_mm ?? null) : null,
      };
    }),
    pairs: job.pairs.flatMap((p) =>
      p.tolerance_mm[axis] === null ? [] : [{ stations: p.stations, tolerance_mm: p.tolerance_mm[axis] }],
    ),
    tooth_mm: press.tooth_mm,
    repeat_mm: repeatMm(press, job),
    helix_deg: press.helix_deg,
    resolution_mm: job.reading.resolution_mm,
    unit: job.units.register,
  };
};

/** Sum of the knob's moves since it was centred, mm: whole teeth are gears, not the knob. */
export const usedTravel = (
  judged: Pick<Judged, 'turns' | 'turned_before'>,
  station: Pick<Station, 'id'>,
  axis: Axis,
  tooth_mm: number,
): number =>
  judged.turns
    .filter((t) => t.station === station.id && t.axis === axis)
    .reduce(
      (sum, t) => sum + t.move_mm - (axis === 'along' ? (t.teeth ?? 0) * tooth_mm : 0),
      judged.turned_before[station.id]?.[axis] ?? 0,
    );
