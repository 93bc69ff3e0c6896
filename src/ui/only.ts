import type { Screen, ScreenStep } from './looking.js';

/** A step that changes nothing but where one looks. */
export const only = (screen: Screen): ScreenStep => ({ screen, effect: null });

/** The same, with something said below. */
export const say = (screen: Screen, text: string): Screen => ({
  ...screen,
  message: text === '' ? null : { text, tone: 'say' },
});

/** Nothing is done, and why. */
export const refuse = (screen: Screen, text: string): ScreenStep =>
  only({ ...screen, message: { text, tone: 'trouble' } });
