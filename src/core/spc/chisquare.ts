import gammainc from '@stdlib/math-base-special-gammainc';

/**
 * The upper tail of the chi-square distribution: the chance of a sum of squares this large or larger.
 * How: the upper incomplete gamma function; never 1 minus the lower tail, which has lost all its digits at 1e-14.
 * In: the statistic (0 or more) and its degrees of freedom (above 0). Out: a chance between 0 and 1.
 * Source: M. Abramowitz and I. A. Stegun (1964), 26.4.19. Example: chisquareSurvival(88, 10) = 1.33354e-14.
 */
export const chisquareSurvival = (statistic: number, df: number): number =>
  statistic <= 0 ? 1 : gammainc(statistic / 2, df / 2, true, true);
