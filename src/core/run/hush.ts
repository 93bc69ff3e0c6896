import { sayRegister } from '../adjust/say-register.js';
import type { Axis } from '../axis.js';
import { repeatMm } from '../job.js';
import { formatLength } from '../units.js';
import { type Hush, type PerAxisLevels, reachedBy } from './advise.js';
import type { Measured } from './measured.js';
import type { SeenCheck } from './seen-check.js';
import type { Judged, Movement } from './state.js';
import { toleranceIn } from './tolerance-in.js';

/** Why no knob is spoken of at this check; null = nothing stands against it. */
export const hushFor = (seen: SeenCheck, judged: Judged, m: Movement, levels: PerAxisLevels): Hush => {
  const { stations, measured, settling } = seen;
  if (settling)
    return {
      why: `Register is still settling after a start, a splice or a change of speed: look, do not turn, until ${formatLength(judged.settle_until_m ?? 0, seen.job.units.length, repeatMm(seen.press, seen.job))}.`,
    };
  if (m.waiting)
    return {
      why: 'It was corrected; no sample printed wholly after the move has been read yet. Leave it alone until then.',
    };
  const reached = reachedBy(m.cause, stations, judged.reference);
  const off = measured.find((x) => x.look === 'off' && reached.includes(x.station) && x.mm[m.axis] === null);
  if (off !== undefined && m.watched.length === 0)
    return {
      why: 'It was looked at and is off, but not measured: measure it along and across on the next sample.',
      read_again: [off.station],
    };
  const doubtful = measured.find((x) =>
    unsupported(m, x, levels, reached, FAR_SIGMAS * seen.job.reading.spread_mm[m.axis], seen.press.tooth_mm),
  );
  if (doubtful !== undefined)
    return {
      why: 'One reading says so and those before it do not: a step, or a misreading. Read a second label of the same sample before anything is turned.',
      read_again: [doubtful.station],
    };
  if (m.pattern === 'over-adjusting' && m.severity !== 'out')
    return {
      why: 'It goes to and fro after each correction: it is being adjusted too often. Leave the knob alone for some checks, then come up to the mark always from the same side.',
    };
  if (m.severity !== 'out' && m.confidence < LIKELY && m.named < DOUBTED_CHECKS)
    return {
      why: 'Something moved, but it is not sure yet what: turning the wrong thing would have to be turned back. Read a second label first.',
      read_again: doubtedStations(
        m,
        reached,
        judged,
        stations.map((s) => s.id),
      ),
    };
  const edges = measured.find((x) => reached.includes(x.station) && edgesDisagree(judged, x, m.axis));
  if (edges !== undefined)
    return {
      why: `The two edges of the web disagree by ${sayRegister(edges.edges_apart_mm[m.axis] ?? 0, seen.job.units.register)}: the plate is on crooked or the web has changed its width. No register knob cures that.`,
      read_again: [edges.station],
    };
  if (!m.helps) {
    const out = measured.find(
      (x) => reached.includes(x.station) && Math.abs(x.mm[m.axis] ?? 0) > toleranceIn(judged, x.station, m.axis),
    );
    return out === undefined
      ? { why: 'As far as the readings can tell, turning now would not make it better. Leave it alone.' }
      : {
          why: 'A reading is out, but the readings together do not say by how much to turn. Read a second label first.',
          read_again: [out.station],
        };
  }
  return null;
};

/** Below this confidence the naming is a guess; for so many checks a second label is asked for instead of a move. */
const LIKELY = 0.6;
const DOUBTED_CHECKS = 2;

/** The two of the stations it would reach that lie farthest apart along the web: they tell reference, web and single station apart. */
const doubtedStations = (
  m: Movement,
  reached: readonly string[],
  judged: Judged,
  order: readonly string[],
): readonly string[] => {
  const measured = order.filter((id) => id !== judged.reference && (judged.read[id]?.[m.axis].mm ?? null) !== null);
  const own = reached.length === 1 ? reached : [];
  return [...new Set([...own, ...measured.slice(0, 1), ...measured.slice(-1)])].slice(0, 2);
};

/** Out by its first reading, and that is either not believed yet or so far off that it is a slip of the pen or a jumped tooth; a tooth it is only near whole teeth. */
const unsupported = (
  m: Movement,
  x: Measured,
  levels: PerAxisLevels,
  reached: readonly string[],
  far_mm: number,
  tooth_mm: number,
): boolean => {
  const mm = x.mm[m.axis];
  if (m.checks > 0 || m.severity !== 'out' || mm === null || reached.length !== 1 || x.station !== reached[0])
    return false;
  const level = levels[m.axis][x.station]?.mean_mm ?? 0;
  const offTooth = Math.abs(mm - Math.round(mm / tooth_mm) * tooth_mm);
  const teeth = m.axis === 'along' && Math.round(mm / tooth_mm) !== 0 && offTooth < far_mm;
  return Math.abs(level) < Math.abs(mm) / 2 || (Math.abs(mm) > Math.max(far_mm, NEAR_MM) && !teeth);
};

/** So many sigmas (of the job's belief) off at one reading is a slip until a second label says the same. */
const FAR_SIGMAS = 6;
/** A step that small is brought in at once, whatever the scatter. */
const NEAR_MM = 0.25;

/** The edges of the web are further apart than the tolerance is wide on one side. */
const edgesDisagree = (judged: Judged, x: Measured, axis: Axis): boolean => {
  const apart = x.edges_apart_mm[axis];
  return apart !== null && Math.abs(apart) > toleranceIn(judged, x.station, axis);
};
