/** One run from OK to the last finished roll, crewed. */
import { AXES, type CrewFactory, type Desk, type Layout } from './crew.js';
import { makeLayout } from './layout.js';
import type { SampleTrace, Score } from './press.js';
import { axisNo, makeHands, READ_MIN } from './press-hands.js';
import { makeReadLabel } from './read-label.js';
import type { Scenario } from './scenario.js';
import { judgeProduct } from './score.js';
import { makeTruth, type Truth } from './truth.js';

/** Stations that may be read at once on a partial check. */
const PARTIAL = 3;

type Pull = {
  readonly pulledAtM: number;
  readonly rollNumber: number;
  readonly extra: boolean;
  readonly spliced: boolean;
};

const offeredOf = (s: Scenario, layout: Layout, pull: Pull): readonly string[] => {
  const others = layout.stations.map((x) => x.id).filter((id) => id !== layout.referenceId);
  if (!s.partial || pull.extra || pull.rollNumber === 0) return others;
  const first = ((pull.rollNumber - 1) * PARTIAL) % others.length;
  return Array.from({ length: Math.min(PARTIAL, others.length) }, (_, i) => others[(first + i) % others.length] ?? '');
};

const truthOf = (layout: Layout, truth: Truth, pulledAtM: number): Record<string, number> => {
  const all: Record<string, number> = {};
  for (const [k, x] of layout.stations.entries())
    for (const axis of AXES) all[`${x.id}/${axis}`] = truth.onLabel(k, axisNo(axis), pulledAtM);
  return all;
};

export const playRun = (s: Scenario, stationsN: number, seed: number, crewFactory: CrewFactory): Score => {
  const layout = makeLayout(s, stationsN);
  const truth = makeTruth(s, stationsN, seed);
  const hands = makeHands(s, layout, truth, seed);
  const readLabel = makeReadLabel(s, truth, seed);
  const crew = crewFactory(layout, hands.hidden);
  const totalM = s.rolls * s.finishedRollM;
  const trace: SampleTrace[] = [];
  let extraAtM = Number.POSITIVE_INFINITY;
  let readings = 0;
  let secondLabels = 0;
  let readMinutes = 0;

  const atDesk = (pull: Pull, does: (desk: Desk) => void): void => {
    const offered = offeredOf(s, layout, pull);
    const asked = new Map<string, number>();
    const seen: { station: string; along: number; across: number }[] = [];
    const logged = hands.log.length;
    const read: Desk['read'] = (id) => {
      if (id === layout.referenceId) return { along: 0, across: 0 };
      const k = layout.stations.findIndex((x) => x.id === id);
      const before = asked.get(id);
      if (k < 0) return { along: null, across: null };
      if (before === undefined && !offered.includes(id)) {
        asked.set(id, 0);
        return { along: null, across: null };
      }
      const nth = before ?? 0;
      asked.set(id, nth + 1);
      hands.spend(READ_MIN);
      readMinutes += READ_MIN;
      readings++;
      if (nth > 0) secondLabels++;
      const got = {
        along: readLabel(k, 0, pull.pulledAtM, nth),
        across: readLabel(k, 1, pull.pulledAtM, nth),
      };
      seen.push({ station: id, ...got });
      return got;
    };
    does({
      ...pull,
      offered,
      counterM: hands.counterM,
      read,
      turn: hands.turn,
      setTension: hands.look,
      wait: (minutes) => hands.spend(Math.max(0, minutes)),
      sampleAfter: (metres) => {
        extraAtM = Math.min(extraAtM, hands.counterM() + Math.max(1, metres));
      },
    });
    trace.push({
      ...pull,
      truth: truthOf(layout, truth, pull.pulledAtM),
      readings: seen,
      turns: hands.log.slice(logged),
    });
  };

  atDesk({ pulledAtM: 0, rollNumber: 0, extra: false, spliced: false }, crew.ok);
  let lastM = 0;
  let roll = 1;
  while (roll <= s.rolls) {
    const rollM = roll * s.finishedRollM;
    const extra = extraAtM < rollM && Math.max(hands.counterM(), extraAtM) < rollM;
    if (!extra && extraAtM < rollM) extraAtM = Number.POSITIVE_INFINITY;
    hands.runTo(extra ? extraAtM : rollM);
    const pulledAtM = extra ? hands.counterM() : rollM;
    if (extra) extraAtM = Number.POSITIVE_INFINITY;
    const spliced = truth.web.spliced(lastM, pulledAtM);
    atDesk({ pulledAtM, rollNumber: roll, extra, spliced }, crew.sample);
    lastM = pulledAtM;
    if (!extra) roll++;
  }
  const product = judgeProduct(layout, truth, totalM, crew.held?.() ?? []);
  const count = hands.count();
  return {
    metres: totalM,
    ...product,
    touches: count.touches,
    worseTurns: count.worseTurns,
    readings,
    samples: trace.length,
    secondLabels,
    tensionLooks: count.tensionLooks,
    minutes: totalM / s.speedMPerMin,
    busyMinutes: count.busyMinutes + readMinutes,
    trace,
    outSpans: product.outSpans,
  };
};
