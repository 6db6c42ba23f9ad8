import { type Rule, rule } from '#core/shared/figure.ts';
import type { Person } from '#core/sizing/foot.ts';

export type SizeSystem = 'EU' | 'UK' | 'US' | 'Japan' | 'Mondopoint';

export const sizeSystems: readonly SizeSystem[] = ['EU', 'UK', 'US', 'Japan', 'Mondopoint'];

/** One column of a size table: how its numbers become a foot length and back, and which numbers exist. */
export type LabelRule = {
  readonly rule: Rule<[number]>;
  /** The size of a foot, mm, as a running number. */
  readonly sizeOf: (lengthMm: number) => number;
  /** Step between two sizes of the table. */
  readonly step: number;
  /** Smallest and largest size taken, both included; for a child's UK and US the running number. */
  readonly least: number;
  readonly most: number;
  /** A usual size, for the message. */
  readonly like: string;
  /** A child's UK and US sizes begin again at junior 1 after 13.5: junior 1 is 14 on the running scale. */
  readonly restarts: boolean;
};

// Definitions of the systems: EU is 2/3 cm of last, UK and US 1/3 inch of last; the last is two sizes longer than the
// foot for adults and 8 % for children. ISO/TS 19407:2015, read second-hand; shoemakers differ by up to two sizes.
const source = 'ISO/TS 19407:2015, read second-hand; shoemakers differ by half a size to two sizes';
const adultInchMm = 25.4 / 3;
const childInchMm = 25.4 / 3.24;
const childEuMm = 10 / 1.62;

const text = (name: string, words: string) => ({ name, unit: 'mm', mark: 'published', source, words }) as const;
const footLength = 'foot length';

const adult: Readonly<Record<'EU' | 'UK' | 'Japan' | 'Mondopoint', LabelRule>> = {
  EU: {
    rule: rule(text(footLength, '({size} - 2) x 20 / 3'), (size: number) => ((size - 2) * 20) / 3),
    sizeOf: (lengthMm) => (1.5 * lengthMm) / 10 + 2,
    step: 0.5,
    least: 33,
    most: 52,
    like: '38',
    restarts: false,
  },
  UK: {
    rule: rule(text(footLength, '({size} + 23) x 25.4 / 3'), (size: number) => (size + 23) * adultInchMm),
    sizeOf: (lengthMm) => lengthMm / adultInchMm - 23,
    step: 0.5,
    least: 1,
    most: 16,
    like: '5',
    restarts: false,
  },
  Japan: {
    rule: rule(text(footLength, '{size} x 10'), (size: number) => size * 10),
    sizeOf: (lengthMm) => lengthMm / 10,
    step: 0.5,
    least: 20,
    most: 34,
    like: '24.5',
    restarts: false,
  },
  Mondopoint: {
    rule: rule(text(footLength, '{size}'), (size: number) => size),
    sizeOf: (lengthMm) => lengthMm,
    step: 5,
    least: 200,
    most: 340,
    like: '245',
    restarts: false,
  },
};

const child: Readonly<Record<SizeSystem, LabelRule>> = {
  EU: {
    rule: rule(text(footLength, '{size} x 10 / 1.62'), (size: number) => size * childEuMm),
    sizeOf: (lengthMm) => lengthMm / childEuMm,
    step: 0.5,
    least: 16,
    most: 40,
    like: '28',
    restarts: false,
  },
  UK: {
    rule: rule(text(footLength, '({size} + 12) x 25.4 / 3.24'), (size: number) => (size + 12) * childInchMm),
    sizeOf: (lengthMm) => lengthMm / childInchMm - 12,
    step: 0.5,
    least: 0,
    most: 18.5,
    like: '10',
    restarts: true,
  },
  US: {
    rule: rule(text(footLength, '({size} + 35 / 3) x 25.4 / 3.24'), (size: number) => (size + 35 / 3) * childInchMm),
    sizeOf: (lengthMm) => lengthMm / childInchMm - 35 / 3,
    step: 0.5,
    least: 0,
    most: 18.5,
    like: '10',
    restarts: true,
  },
  Japan: { ...adult.Japan, least: 9, most: 25, like: '17' },
  Mondopoint: { ...adult.Mondopoint, least: 90, most: 250, like: '170' },
};

function usAdult(overUk: number, like: string): LabelRule {
  return {
    rule: rule(text(footLength, `({size} - ${overUk} + 23) x 25.4 / 3`), (size: number) => {
      return (size - overUk + 23) * adultInchMm;
    }),
    sizeOf: (lengthMm) => lengthMm / adultInchMm - 23 + overUk,
    step: 0.5,
    least: adult.UK.least + overUk,
    most: adult.UK.most + overUk,
    like,
    restarts: false,
  };
}

/** How much a US women's size is above the UK size: 2 by the ISO table and the measuring device, 2.5 by the common scale. */
export const usWomenOffsets = [2, 2.5] as const;

/**
 * The column of the size table that belongs to a person and a system; null for US sizes of an unknown person, since
 * women's, men's and children's US sizes differ. An unknown person is taken as an adult.
 *
 * @param person whose foot
 * @param system the size system
 * @param usWomenOffset US women's size less UK size, 2 or 2.5
 * @throws {RangeError} for another offset
 * @example labelRuleFor('woman', 'EU', 2)?.rule.formula(38) // => 240
 * @example labelRuleFor('child', 'EU', 2)?.most // => 40
 * @example labelRuleFor('unknown', 'US', 2) // => null
 */
export function labelRuleFor(person: Person, system: SizeSystem, usWomenOffset: number): LabelRule | null {
  if (!usWomenOffsets.some((offset) => offset === usWomenOffset)) {
    throw new RangeError(`labelRuleFor: usWomenOffset must be 2 or 2.5, got ${usWomenOffset}`);
  }
  if (person === 'child') return child[system];
  if (system !== 'US') return adult[system];
  if (person === 'unknown') return null;
  return person === 'man' ? usAdult(1, '9') : usAdult(usWomenOffset, '7.5');
}

/**
 * The size systems that can be offered for a person: US sizes need to know whose foot it is.
 *
 * @example systemsFor('unknown') // => ['EU', 'UK', 'Japan', 'Mondopoint']
 * @example systemsFor('man').length // => 5
 */
export function systemsFor(person: Person): readonly SizeSystem[] {
  return sizeSystems.filter((system) => labelRuleFor(person, system, usWomenOffsets[0]) !== null);
}
