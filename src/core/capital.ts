/** The same words beginning with a capital. */
export const capital = (words: string): string => `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
