import { Text } from 'ink';
import { memo, type ReactElement } from 'react';

/** Some rows of the screen as one text: one text a panel costs a tenth of one text a cell. */
export const Rows = memo(({ text }: { readonly text: string }): ReactElement => <Text wrap="truncate">{text}</Text>);
