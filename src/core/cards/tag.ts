import { capitalised } from '#core/cards/dialect.ts';
import { formatCents, formatPercent } from '#core/shared/format.ts';
import { formatLength, formatLengthRange, type UnitSystem } from '#core/shared/measures.ts';
import { labelsForBand } from '#core/sizing/band-labels.ts';
import type { Person } from '#core/sizing/foot.ts';
import { labelsForLength, type SizeLabel, type SizeSystem } from '#core/sizing/labels.ts';

/** A foot as far as a tag names it, mm; the girth of the ball only where it was measured. */
export type TagFoot = { readonly lengthMm: number; readonly ballGirthMm: number | null };

/** What a tag is made from. */
export type TagInput = {
  readonly style: string;
  /** What the size is called, "woman EU 38" or "39/40"; null for measured feet, which their labels name. */
  readonly called: string | null;
  readonly person: Person;
  /** The foot; the left one where the right one differs. */
  readonly foot: TagFoot;
  /** The right foot where it differs. */
  readonly right: TagFoot | null;
  /** Ends of the band that a size stands for, mm; null where it is one foot. */
  readonly band: { readonly fromMm: number; readonly toMm: number } | null;
  /** Systems to print, beside the length of the foot. */
  readonly systems: readonly SizeSystem[];
  readonly usWomenOffset: number;
  readonly unitSystem: UnitSystem;
  readonly quality: 'good' | 'second';
  /** Null prints none. */
  readonly price: TagPrice | null;
};

export type TagPrice = {
  readonly cents: number;
  readonly currency: string;
  /** Tax that comes on top of it; 0 where it is within or there is none. */
  readonly addedTaxRatio: number;
};

/** A size in large letters, what else it is called, and the foot it is for. */
export type TagSize = {
  readonly foot: 'both' | 'left' | 'right';
  readonly called: string;
  /** "UK 5.5, US 7.5"; empty where nothing is left to say. */
  readonly also: string;
  readonly length: string;
};

/** The words of a tag. */
export type Tag = {
  readonly title: string;
  /** One, or the left and the right one of unlike feet. */
  readonly sizes: readonly TagSize[];
  /** For a pair with a flaw: says so. */
  readonly second: string | null;
  readonly price: string | null;
  /** "plus 8% tax"; empty where nothing comes on top. */
  readonly priceNote: string;
};

const labelWords = ({ system, label }: SizeLabel) => `${system} ${label}`;

/** Whether a size is called by a label already, like "woman EU 38". */
function isSaid(called: string, label: SizeLabel): boolean {
  return called.toLowerCase().endsWith(labelWords(label).toLowerCase());
}

const whose: Readonly<Record<Person, string>> = { woman: 'Woman', man: 'Man', child: 'Child', unknown: '' };

/** A measured foot is called by its first label, or by its length where none is printed. */
function footSize(foot: TagSize['foot'], { lengthMm, ballGirthMm }: TagFoot, input: TagInput): TagSize {
  const { person, systems, usWomenOffset, unitSystem } = input;
  const labels = labelsForLength(person, lengthMm, usWomenOffset).filter(({ system }) => systems.includes(system));
  const [first, ...others] = labels.map(labelWords);
  const length = formatLength(lengthMm, unitSystem);
  const side = foot === 'both' ? whose[person] : capitalised(foot);
  return {
    foot,
    called: [side, first ?? length].filter(Boolean).join(' '),
    also: others.join(', '),
    length: `foot ${length}${ballGirthMm === null ? '' : `, ${formatLength(ballGirthMm, unitSystem)} around`}`,
  };
}

function namedSize(called: string, input: TagInput): TagSize {
  const { person, band, foot, systems, usWomenOffset, unitSystem } = input;
  const all = band
    ? labelsForBand(person, band.fromMm, band.toMm, usWomenOffset)
    : labelsForLength(person, foot.lengthMm, usWomenOffset);
  const labels = all.filter((label) => systems.includes(label.system) && !isSaid(called, label));
  const length = band ? formatLengthRange(band.fromMm, band.toMm, unitSystem) : formatLength(foot.lengthMm, unitSystem);
  return {
    foot: 'both',
    called: capitalised(called),
    also: labels.map(labelWords).join(', '),
    length: `foot ${length}`,
  };
}

/**
 * The words of a pair's tag: style, size with its other labels, the foot it is for, price. A pair for two unlike feet
 * has both sizes, left before right; a second says that it is one.
 *
 * @param input lengths in mm, 60 to 360; the price in whole minor units
 * @throws {RangeError} when a length is out of range
 * @example tagOf({ style: 'Slipper', called: 'woman EU 38', person: 'woman', foot: { lengthMm: 240, ballGirthMm: null }, right: null, band: null, systems: ['EU', 'UK', 'US'], usWomenOffset: 2, unitSystem: 'metric', quality: 'good', price: null }).sizes // => [{ foot: 'both', called: 'Woman EU 38', also: 'UK 5.5, US 7.5', length: 'foot 24.0\u00a0cm' }]
 * @example tagOf({ style: 'Slipper', called: null, person: 'man', foot: { lengthMm: 270, ballGirthMm: null }, right: { lengthMm: 260, ballGirthMm: null }, band: null, systems: ['EU'], usWomenOffset: 2, unitSystem: 'metric', quality: 'second', price: { cents: 3150, currency: 'EUR', addedTaxRatio: 0.08 } }).sizes.map((size) => size.called) // => ['Left EU 42.5', 'Right EU 41']
 */
export function tagOf(input: TagInput): Tag {
  const { called, foot, right, price } = input;
  const sizes =
    right !== null
      ? [footSize('left', foot, input), footSize('right', right, input)]
      : [called === null ? footSize('both', foot, input) : namedSize(called, input)];
  return {
    title: input.style,
    sizes,
    second: input.quality === 'second' ? 'Second: with a small flaw' : null,
    price: price && formatCents(price.cents, price.currency),
    priceNote: price && price.addedTaxRatio > 0 ? `plus ${formatPercent(price.addedTaxRatio)} tax` : '',
  };
}
