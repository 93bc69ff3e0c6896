import type { Exercise } from './exercise.js';

type Lesson = Omit<Exercise, 'seed'>;

const NOTHING = { make_ready: false, standing: false, out_mm: {}, causes: [], knobs: [], splices_m: [] } as const;

/** The six graded exercises, about ten minutes each, from the first sample to a press from nothing. */
export const LESSONS: readonly Lesson[] = [
  {
    ...NOTHING,
    id: '1',
    title: 'Bring it in',
    task: 'The plates are new on the press and out of register, each within reach of its knob. Pull a sample, read it, turn what is out, let the web run until a sample tells, and give OK to run. All metres until OK are waste, and what is out afterwards too.',
    make_ready: true,
    out_mm: {
      '2': { along: 0.42, across: 0 },
      '3': { along: 0, across: -0.35 },
      '4': { along: -0.62, across: 0.05 },
    },
    to_m: 450,
  },
  {
    ...NOTHING,
    id: '2',
    title: 'Something creeps',
    task: 'The job was passed and runs. Pull a sample when a check is due. One knob is knocked, and one creeps so slowly that a single sample does not show it: find both, and do no more than they need.',
    causes: [
      { kind: 'slip', station: '2', axis: 'across', at_m: 1130, mm: -0.25 },
      { kind: 'creep', station: '3', axis: 'along', from_m: 900, mm_per_km: 0.035, held: true },
    ],
    to_m: 6000,
  },
  {
    ...NOTHING,
    id: '3',
    title: 'All at once',
    task: 'The job runs. Several things will read off at the same time: think which one thing would look so before you turn any. Look at the plates too.',
    causes: [
      { kind: 'slip', station: '1', axis: 'along', at_m: 1640, mm: 0.22 },
      { kind: 'dirt', station: '2', from_m: 2800, flaws_per_km: 0.9 },
    ],
    to_m: 5500,
  },
  {
    ...NOTHING,
    id: '4',
    title: 'A new roll',
    task: 'New stock is spliced in at 2 100 m. What moves with the web is no matter for the knobs.',
    causes: [
      { kind: 'unwind', mm_per_m: -0.006 },
      { kind: 'tension', at_m: 2100, mm_per_m: -0.055 },
    ],
    splices_m: [2100],
    to_m: 5000,
  },
  {
    ...NOTHING,
    id: '5',
    title: 'A knob that lies',
    task: 'One knob of this press is marked the other way round and has play; one mark on one label is a bad one. Prove before you turn.',
    causes: [
      { kind: 'misread', station: '2', axis: 'along', at_m: 900, mm: 0.26 },
      { kind: 'slip', station: '4', axis: 'across', at_m: 2180, mm: 0.3 },
    ],
    knobs: [{ station: '4', axis: 'across', slack_mm: 0.05 }],
    to_m: 5000,
  },
  {
    ...NOTHING,
    id: '6',
    title: 'From nothing',
    task: 'The press stands, the print is off, and everything is out: teeth, knobs, side to side, print to die. Bring it in, give OK to run, and hold it to the end.',
    make_ready: true,
    standing: true,
    out_mm: {
      '1': { along: 0, across: 0.55 },
      '2': { along: 6.71, across: 0.25 },
      '3': { along: -3.6, across: 0.55 },
      '4': { along: 0.3, across: 0.85 },
      D: { along: 0.52, across: 0 },
    },
    causes: [{ kind: 'tooth', station: '3', at_m: 2320, teeth: 1 }],
    to_m: 4500,
  },
];

export const lesson = (id: string, seed: number): Exercise | null => {
  const found = LESSONS.find((one) => one.id === id);
  return found === undefined ? null : { ...found, seed };
};
