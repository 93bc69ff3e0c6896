/** The sensor's state as the board says it. */
export const sensorWords = (state: string, detail: string): string => {
  const said = WORDS[state] ?? state;
  return detail === '' ? said : `${said}: ${detail}`;
};

const WORDS: Readonly<Record<string, string>> = {
  attached: 'sensor reading',
  back: 'sensor reading again',
  lost: 'SENSOR LOST',
  silent: 'SENSOR SILENT',
  noisy: 'SENSOR NOISY',
  flooding: 'SENSOR FLOODING',
};
