/** Whose foot: decides label tables, girths and growth. EU 34 to 38 exist for children and for adults. */
export type Person = 'woman' | 'man' | 'child' | 'unknown';

export const persons: readonly Person[] = ['woman', 'man', 'child', 'unknown'];

/**
 * A foot as the plan needs it, mm. Girths that were not measured are estimated from the length; the flags say which.
 * `heelAnkleGirthMm` goes around the heel and the front of the ankle (the tightest way in); it is not the ankle girth.
 */
export type Foot = {
  readonly person: Person;
  readonly lengthMm: number;
  readonly ballGirthMm: number;
  readonly heelAnkleGirthMm: number;
  readonly isBallGirthMeasured: boolean;
  readonly isHeelAnkleGirthMeasured: boolean;
};

/** How a pair should sit; shifts the girth ease (snug smaller, roomy larger). */
export type Fit = 'snug' | 'usual' | 'roomy';
