import { Text, Transform } from 'ink';
import type { ReactElement } from 'react';

/**
 * Rows of the screen, ready painted. They reach the terminal library as the outcome of a transform on blank lines: it then takes each
 * row apart once a frame, where a text a row costs it three times that (measuring, wrapping, clipping; see the bench of the board).
 */
export const ScreenRows = ({ rows }: { readonly rows: readonly string[] }): ReactElement => (
  <Transform transform={(_line, index) => rows[index] ?? ''}>
    <Text>{'\n'.repeat(Math.max(0, rows.length - 1)) || ' '}</Text>
  </Transform>
);
