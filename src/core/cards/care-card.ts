import { capitalised, inARow } from '#core/cards/dialect.ts';
import { isFibreUnknown } from '#core/gauge/fibre-words.ts';
import type { Mark } from '#core/shared/figure.ts';
import type { Person } from '#core/sizing/foot.ts';

/** A yarn of a pair; null where nobody knows what it is made of. */
export type TagYarn = { readonly name: string; readonly fibre: string | null };

/** What goes with a pair to whoever wears it: what it is made of, how to wash it, what to look out for. */
export type CareCard = {
  /** Each yarn once, with its fibre or "Fibre unknown". */
  readonly madeOf: readonly { readonly fibre: string; readonly yarn: string }[];
  /** Sentences: washing, drying, heat. */
  readonly care: readonly string[];
  readonly cautions: readonly string[];
  /** Where the washing comes from: trade is common practice without a source. */
  readonly mark: Mark;
};

/** How a fibre bears water and heat, the gentlest first. */
type Wash = 'hand' | 'wool programme' | 'cool' | 'warm';

type FibreGroup = {
  readonly pattern: RegExp;
  readonly wash: Wash;
  readonly felts: boolean;
  readonly bearsIron: boolean;
};

// Common practice of knitters and washing, no source; what several fibres share is as the gentlest of them bears it.
const groups: readonly FibreGroup[] = [
  { pattern: /machine[- ]?wash|superwash/, wash: 'wool programme', felts: false, bearsIron: false },
  {
    pattern: /wool|merino|alpaca|llama|mohair|cashmere|angora|camel|\byak\b|\bsilk\b/,
    wash: 'hand',
    felts: true,
    bearsIron: false,
  },
  { pattern: /viscose|rayon|bamboo|modal|lyocell|cupro/, wash: 'hand', felts: false, bearsIron: false },
  {
    pattern: /acrylic|nylon|polyamide|polyester|polypropylene|elastane|microfib/,
    wash: 'cool',
    felts: false,
    bearsIron: false,
  },
  { pattern: /cotton|linen|flax|hemp|ramie/, wash: 'warm', felts: false, bearsIron: true },
];

const washOrder: readonly Wash[] = ['hand', 'wool programme', 'cool', 'warm'];

const washWords: Readonly<Record<Wash, string>> = {
  hand: 'Hand wash in cool water with mild soap; do not rub or wring.',
  'wool programme': 'Machine wash at 30 °C (86 °F) at most, wool programme.',
  cool: 'Machine wash at 30 °C (86 °F) at most, gently.',
  warm: 'Machine wash at 40 °C (104 °F) at most, gently.',
};

/** "75 % wool, 25 % nylon" in its parts: wool, nylon. */
function partsOf(fibre: string): string[] {
  return fibre
    .toLowerCase()
    .split(/,|;|\/|&|\+|\band\b|\bwith\b/)
    .map((part) =>
      part
        .replace(/[\d.]+\s*(?:%|per ?cent)?/g, '')
        .replace(/\s+/g, ' ')
        .trim(),
    )
    .filter(Boolean);
}

/** A fibre whose name says nothing here is washed like the most tender one. */
const unfamiliar: Omit<FibreGroup, 'pattern'> = { wash: 'hand', felts: false, bearsIron: false };

/**
 * The care card of a pair: fibres, washing in words, cautions. Blends and pairs of several yarns are washed as the
 * most tender of their fibres bears it; one yarn of unknown fibre makes the pair one to wash by hand and not for babies.
 *
 * @param yarns of the pair, in the order of its pieces; a yarn that comes twice is named once
 * @param person whose feet it is for: a child's card says more
 * @returns sentences to print; `mark` says where the washing comes from: common practice, or our own rule for what is
 * unknown
 * @example careCardOf([{ name: 'Fell', fibre: 'wool' }], 'woman').care[0] // => 'Hand wash in cool water with mild soap; do not rub or wring.'
 * @example careCardOf([{ name: 'Fell', fibre: null }], 'woman').madeOf // => [{ fibre: 'Fibre unknown', yarn: 'Fell' }]
 * @example careCardOf([{ name: 'Fell', fibre: 'cotton' }], 'man').care[0] // => 'Machine wash at 40 °C (104 °F) at most, gently.'
 * @example careCardOf([], 'woman').madeOf // => []
 */
export function careCardOf(yarns: readonly TagYarn[], person: Person): CareCard {
  const named = [...new Map(yarns.map((yarn) => [yarn.name, yarn])).values()];
  const isUnknown = named.length === 0 || named.some(({ fibre }) => isFibreUnknown(fibre));
  const parts = [
    ...new Set(named.flatMap(({ fibre }) => (fibre === null || isFibreUnknown(fibre) ? [] : partsOf(fibre)))),
  ];
  const ways = parts.map((part) => groups.find(({ pattern }) => pattern.test(part)) ?? unfamiliar);
  const washes: Wash[] = isUnknown ? ['hand'] : ways.map(({ wash }) => wash);
  const wash = washOrder.find((each) => washes.includes(each)) ?? 'hand';
  const bearsIron = !isUnknown && ways.every((way) => way.bearsIron);
  const felts = ways.some((way) => way.felts);
  return {
    madeOf: named.map(({ name, fibre }) => ({
      fibre: fibre === null || isFibreUnknown(fibre) ? 'Fibre unknown' : capitalised(fibre.trim()),
      yarn: name,
    })),
    care: [
      washWords[wash],
      'Press out in a towel, pull into shape, dry flat.',
      `No bleach, no tumble dryer${bearsIron ? '' : ', no iron'}.${felts ? ' Heat and rubbing shrink it.' : ''}`,
    ],
    cautions: [
      'Smooth knitted soles slip on hard floors and stairs.',
      ...(isUnknown ? ['Fibre unknown: not for babies.'] : []),
      `${parts.length === 0 ? 'The yarn' : capitalised(inARow(parts, 'and'))} may irritate tender skin.`,
      ...(person === 'child' ? ['For a small child: look for loose ends now and then.'] : []),
    ],
    mark: isUnknown ? 'ours' : 'trade',
  };
}
