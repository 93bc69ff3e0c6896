/** Options that many commands share, as the command line gives them. */
export type Flags = {
  data?: string;
  run?: string;
  by?: string;
  counter?: string;
  json?: boolean;
  ascii?: boolean;
  mute?: boolean;
  sensor?: string;
  keepRaw?: boolean;
  profile?: string;
};

/** A sensor wanted, when its port was named. */
export const sensorOf = ({
  sensor,
  profile,
  keepRaw,
  ...rest
}: Flags): Omit<Flags, 'sensor' | 'profile' | 'keepRaw'> & {
  sensor?: { port: string; profile: string; keepRaw: boolean };
} =>
  sensor === undefined
    ? rest
    : { ...rest, sensor: { port: sensor, profile: profile ?? '', keepRaw: keepRaw ?? false } };
