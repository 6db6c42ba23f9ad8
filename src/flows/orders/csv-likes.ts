import type { UnitSystem } from '#core/shared/measures.ts';

type Likes = Readonly<Record<'foot' | 'feet' | 'girth' | 'girths' | 'heel' | 'cuff', string>>;

/** Measures as an example shows them in a table of orders. */
export const csvLikes: Readonly<Record<UnitSystem, Likes>> = {
  metric: {
    foot: 'foot 24.5 cm',
    feet: 'feet 27.4 and 26.8 cm',
    girth: '25.5 cm',
    girths: '25.5 and 25.8 cm',
    heel: '33.5 cm',
    cuff: '6 cm',
  },
  imperial: {
    foot: 'foot 9 1/2 in',
    feet: 'feet 10.8 and 10.55 in',
    girth: '10 in',
    girths: '10 and 10.15 in',
    heel: '13.2 in',
    cuff: '2 1/2 in',
  },
};
