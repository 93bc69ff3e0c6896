/** The board, obeyed: what the program says after each check is done on the second press, through the same records that keys write. */
import type { Move } from '../../src/core/finding.js';
import { heldStretches } from '../../src/core/run/held.js';
import type { RunState } from '../../src/core/run/state.js';
import { dueFrom } from '../../src/core/views/instruction.js';
import { readAgain } from '../../src/core/views/todo-list.js';
import { reading } from '../support/reading.js';
import { type TryRun, tryRun } from '../support/try-run.js';
import type { Axis, CrewFactory, Desk, Layout, Reading, Span } from './crew.js';
import { divisionOf, jobOf, pressStations } from './layout-files.js';

export type Obeying = {
  /** Takes the extra sample that the board asks for after a correction of something that was out. */
  readonly followUp?: boolean;
  /** Stations whose divisions the press file does not give. */
  readonly unmeasured?: boolean;
  /** Told of each check keyed and what the board then wanted. */
  readonly watch?: (desk: Desk, state: RunState, asked: Asked) => void;
  /** Given the whole run, once it is over. */
  readonly ended?: (run: TryRun) => void;
};

export type Asked = {
  readonly moves: readonly Move[];
  readonly again: readonly string[];
};

/** Rounds at one sample after which the crew goes on, whatever the board says. */
const ROUNDS = 4;

export const boardCrew =
  (how: Obeying = {}): CrewFactory =>
  (layout) => {
    const run = runOn(layout, how);
    let checks = 0;
    /** Where the counter stood when it was keyed last: a hand that was late tells of a roll change after it. */
    let keyedM = 0;
    const key = (desk: Desk, got: ReadonlyMap<string, Reading>): void => {
      checks += 1;
      run.put({
        type: 'check',
        check: checks,
        web_m: desk.pulledAtM,
        roll: String(Math.max(1, desk.rollNumber)),
        pulled_at: null,
        source: 'keyed',
        place: null,
        readings: [...got].map(([id, r]) => reading(id, { along_mm: r.along, across_mm: r.across })),
      });
    };
    const turn = (desk: Desk, move: Move): void => {
      const station = layout.stations.find((s) => s.id === move.station);
      const division = station?.divisionMm[move.axis] ?? 0.02;
      const divisions = Math.round(move.move_mm / division);
      if (divisions === 0) return;
      const turned = desk.turn(move.station, move.axis, divisions);
      keyedM = desk.counterM();
      // What was not done is not keyed.
      if (turned === 0) return;
      run.put({
        type: 'correction',
        station: move.station,
        axis: move.axis,
        move_mm: turned * division,
        teeth: 0,
        divisions: turned,
        web_m: desk.counterM(),
      });
    };
    const others = layout.stations.filter((s) => s.id !== layout.referenceId).map((s) => s.id);
    let untold: readonly string[] = [];
    return {
      name: 'the board, obeyed',
      ok: () => undefined,
      sample: (desk) => {
        if (!desk.extra) {
          const web_m = Math.max(keyedM, desk.pulledAtM);
          run.put({ type: 'finished', web_m, roll: String(Math.max(1, desk.rollNumber)) });
          if (desk.spliced) run.put({ type: 'roll', web_m, length_m: null });
        }
        const wanted = desk.extra && untold.length > 0 ? untold : others.filter((id) => desk.offered.includes(id));
        key(desk, new Map(wanted.map((id) => [id, desk.read(id)])));
        const turned = new Set<string>();
        for (let round = 0; round < ROUNDS; round++) {
          const asked = askedNow(run.state());
          how.watch?.(desk, run.state(), asked);
          for (const move of asked.moves) {
            const name = `${move.station} ${move.axis}`;
            if (turned.has(name)) continue;
            turned.add(name);
            turn(desk, move);
          }
          if (asked.again.length === 0) break;
          const got = new Map<string, Reading>();
          for (const id of asked.again) {
            const first = desk.read(id);
            // What was not offered at first is read when it is asked for by name.
            got.set(id, first.along === null && first.across === null ? desk.read(id) : first);
          }
          key(desk, got);
        }
        untold = [];
        if (how.followUp !== true) return;
        const state = run.state();
        const from_m = dueFrom(state, desk.counterM())?.from_m;
        if (from_m === undefined) return;
        const ids = new Set(state.judged.turns.flatMap((t) => (t.result === null ? [t.station] : [])));
        untold = ids.has(layout.referenceId) ? [] : [...ids];
        desk.sampleAfter(Math.max(10, from_m - desk.counterM() + 1));
      },
      held: () => {
        how.ended?.(run);
        return heldSpans(run);
      },
    };
  };

/** All that the board asks for at this moment: every open movement's moves, every station to be read again. */
export const askedNow = (state: RunState): Asked => ({
  moves: state.judged.movements.flatMap((m) =>
    m.closed === null && m.severity !== 'note' ? (m.advice?.moves ?? []) : [],
  ),
  again: readAgain(state),
});

const heldSpans = (run: TryRun): readonly Span[] =>
  heldStretches(run.state()).map(({ from_m, to_m }) => ({ fromM: from_m, toM: to_m ?? Number.POSITIVE_INFINITY }));

const runOn = (layout: Layout, how: Obeying): TryRun => {
  const knobs = (axis: Axis): object => ({
    ...(how.unmeasured === true ? {} : { division_mm: divisionOf(layout, axis) }),
    travel_mm: 30,
    sense: 1,
    while_running: true,
  });
  return tryRun({
    press: {
      stations: pressStations(layout),
      sample_m: layout.sampleM,
      knobs: { along: knobs('along'), across: knobs('across') },
    },
    job: { ...jobOf(layout), finished_roll_m: layout.finishedRollM },
  });
};
