/** The end of what is typed, where the cursor is, when the field has no room for all of it: what was typed last is always seen. */
export const endOf = (text: string, width: number): string =>
  text.length <= width ? text : `<${text.slice(text.length - Math.max(0, width - 1))}`;
