/** The two directions of register: with the web, and side to side. */
export type Axis = 'along' | 'across';

export const AXES: readonly Axis[] = ['along', 'across'];

/** One value an axis. */
export type PerAxis<T> = { readonly along: T; readonly across: T };
