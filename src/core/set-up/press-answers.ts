import type { Press } from '../press.js';
import type { PressFile } from '../press-schema.js';
import { knobAnswers } from './knob-questions.js';
import { gearOf } from './press-document.js';
import type { Answers } from './question.js';
import { stationNames } from './station-names.js';
import { FIRST } from './web-order.js';

/** The answers that an earlier press file gives to the questions; null = the press is of a kind the questions cannot say (two dies). */
export const pressAnswers = (file: PressFile, press: Press): Answers | null => {
  const dies = press.stations.filter(({ kind }) => kind === 'die');
  const prints = press.stations.filter(({ kind }) => kind === 'print').map(({ id }) => id);
  const last = press.stations.at(-1);
  if (dies.length > 1 || last === undefined) return null;
  const die = dies[0];
  const at = die === undefined ? -1 : press.stations.indexOf(die);
  const gaps = press.stations.slice(1).map(({ at_m }, i) => metres(at_m - (press.stations[i]?.at_m ?? 0)));
  const besideDie = (index: number): boolean => index === at || index + 1 === at;
  const between = new Set(gaps.filter((_, index) => !besideDie(index)));
  const oneForAll = between.size === 1;
  return {
    'press.name': press.name,
    'press.gear': gearOf(file),
    'press.prints': stationNames(prints),
    'press.die': die === undefined ? 'n' : 'y',
    ...(die === undefined
      ? {}
      : {
          'press.die.after': press.stations[at - 1]?.id ?? FIRST,
          'press.die.fixed': die.fixed.length === 2 ? 'both' : (die.fixed[0] ?? 'neither'),
        }),
    ...(gaps.length < 2
      ? gapAnswers(gaps, () => true)
      : oneForAll
        ? { 'press.spacing': [...between][0] ?? '', ...gapAnswers(gaps, besideDie) }
        : { 'press.spacing': gaps.join(', ') }),
    'press.sample': metres(press.sample_m - last.at_m),
    ...knobAnswers(file),
  };
};

const metres = (m: number): string => `${Number(m.toFixed(4))} m`;

const gapAnswers = (gaps: readonly string[], wanted: (index: number) => boolean): Answers =>
  Object.fromEntries(gaps.flatMap((gap, index) => (wanted(index) ? [[`press.gap.${index + 1}`, gap]] : [])));
