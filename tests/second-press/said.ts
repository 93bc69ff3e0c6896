/** What the board said at each check, held against where every print truly lay on that sample. */
import type { RunState } from '../../src/core/run/state.js';
import { type Asked, boardCrew, type Obeying } from './board-crew.js';
import { AXES, type CrewFactory, type Layout } from './crew.js';
import type { Score } from './press.js';

/** Out by so much of its tolerance is clearly out: no reading that is worth the name leaves it inside. */
const CLEARLY = 1.3;

export type Said = {
  /** Checks at which something read was clearly out, and those of them at which nothing was asked for it. */
  readonly clearlyOut: number;
  readonly silent: number;
  /** Checks at which every label read was inside, and those of them at which the board said OUT. */
  readonly allInside: number;
  readonly criedOut: number;
};

type Spoken = { readonly atM: number; readonly ids: ReadonlySet<string>; readonly out: boolean };

/** The crew, and what it was told in the run that was played with it last. */
export const listening = (how: Obeying): { readonly crew: CrewFactory; readonly said: (score: Score) => Said } => {
  let spoken: Spoken[] = [];
  let layout: Layout | null = null;
  const watch = (desk: { pulledAtM: number }, state: RunState, asked: Asked): void => {
    spoken.push({
      atM: desk.pulledAtM,
      ids: new Set([
        ...asked.moves.map((m) => `${m.station}/${m.axis}`),
        ...asked.again.flatMap((id) => AXES.map((axis) => `${id}/${axis}`)),
      ]),
      out: state.judged.movements.some((m) => m.closed === null && m.severity === 'out'),
    });
  };
  return {
    crew: (given, hidden) => {
      spoken = [];
      layout = given;
      return boardCrew({ ...how, watch })(given, hidden);
    },
    said: (score) => (layout === null ? NOTHING : held(layout, score, spoken)),
  };
};

const NOTHING: Said = { clearlyOut: 0, silent: 0, allInside: 0, criedOut: 0 };

const held = (layout: Layout, score: Score, spoken: readonly Spoken[]): Said => {
  let { clearlyOut, silent, allInside, criedOut } = NOTHING;
  for (const check of score.trace) {
    const said = spoken.filter((s) => s.atM === check.pulledAtM);
    if (said.length === 0 || check.extra) continue;
    const asked = new Set(said.flatMap((s) => [...s.ids]));
    const read = layout.stations.filter((s) => check.readings.some((r) => r.station === s.id));
    const answered = (id: string, axis: (typeof AXES)[number]): boolean =>
      asked.has(`${id}/${axis}`) ||
      asked.has(`${layout.referenceId}/${axis}`) ||
      // What cannot be turned is met by the others.
      (!layout.hasKnob(id, axis) && [...asked].some((one) => one.endsWith(`/${axis}`)));
    const out = read.flatMap((s) =>
      AXES.flatMap((axis) =>
        Math.abs(check.truth[`${s.id}/${axis}`] ?? 0) > CLEARLY * s.tolerance[axis] ? [{ id: s.id, axis }] : [],
      ),
    );
    if (out.length > 0) clearlyOut += 1;
    if (out.some(({ id, axis }) => !answered(id, axis))) silent += 1;
    const inside = check.readings.every((r) => {
      const tolerance = layout.stations.find((s) => s.id === r.station)?.tolerance;
      return tolerance !== undefined && AXES.every((axis) => Math.abs(r[axis]) <= tolerance[axis]);
    });
    if (inside) allInside += 1;
    if (inside && said.at(-1)?.out === true) criedOut += 1;
  }
  return { clearlyOut, silent, allInside, criedOut };
};
