import { describe, expect, it } from 'vitest';
import { careCardOf, type TagYarn } from '#core/cards/care-card.ts';

// Washing by fibre is common practice, from memory and without a source: what is held here is that the most tender
// fibre decides, and that nothing unknown is passed over.
const yarns = (...fibres: (string | null)[]): TagYarn[] =>
  fibres.map((fibre, index) => Object.freeze({ name: `Yarn ${index + 1}`, fibre }));
const careOf = (...fibres: (string | null)[]) => careCardOf(yarns(...fibres), 'woman');

describe('careCardOf', () => {
  it('washes wool by hand in cool water and says why', () => {
    const { care, mark } = careOf('wool');
    expect(care[0]).toMatch(/^Hand wash in cool water/);
    expect(care.join(' ')).toContain('no iron');
    expect(care.join(' ')).toContain('Heat and rubbing shrink it.');
    expect(mark).toBe('trade');
  });

  it.each([
    ['merino'],
    ['Baby alpaca'],
    ['75% wool, 25% nylon'],
    ['wool and cotton'],
    ['cotton with 5 % silk'],
    ['bamboo'],
    ['viscose/acrylic'],
  ])('washes %s by hand, as its most tender part bears it', (fibre) => {
    expect(careOf(fibre).care[0]).toMatch(/^Hand wash/);
  });

  it.each([
    ['acrylic', '30 °C'],
    ['Acrylic/nylon 60/40', '30 °C'],
    ['cotton and acrylic', '30 °C'],
    ['cotton', '40 °C'],
    ['Linen, cotton', '40 °C'],
    ['machine washable wool', '30 °C (86 °F) at most, wool programme'],
  ])('machine washes %s at %s', (fibre, words) => {
    const { care, mark } = careOf(fibre);
    expect(care[0]).toMatch(/^Machine wash/);
    expect(care[0]).toContain(words);
    expect(mark).toBe('trade');
  });

  it('keeps the iron away from all but plant fibres', () => {
    expect(careOf('cotton').care.join(' ')).not.toContain('no iron');
    expect(careOf('cotton', 'acrylic').care.join(' ')).toContain('no iron');
  });

  it.each([[null], [''], ['unknown'], ['?'], ['mixed fibres'], ['Unlabelled']])(
    'takes %o for unknown: by hand, and not for babies',
    (fibre) => {
      const card = careOf('cotton', fibre);
      expect(card.care[0]).toMatch(/^Hand wash/);
      expect(card.cautions).toContain('Fibre unknown: not for babies.');
      expect(card.madeOf[1]).toEqual({ fibre: 'Fibre unknown', yarn: 'Yarn 2' });
      expect(card.mark).toBe('ours');
    },
  );

  it('washes a fibre it never heard of by hand, and calls it by its name', () => {
    const card = careOf('possum');
    expect(card.care[0]).toMatch(/^Hand wash/);
    expect(card.madeOf).toEqual([{ fibre: 'Possum', yarn: 'Yarn 1' }]);
    expect(card.cautions).not.toContain('Fibre unknown: not for babies.');
  });

  it('names each yarn once with what it is made of', () => {
    const wool = { name: 'Harbour', fibre: 'wool' };
    const blend = { name: 'Meadow', fibre: '50% wool, 50% cotton' };
    expect(careCardOf([wool, blend, wool], 'woman').madeOf).toEqual([
      { fibre: 'Wool', yarn: 'Harbour' },
      { fibre: '50% wool, 50% cotton', yarn: 'Meadow' },
    ]);
  });

  it('always warns of smooth soles and of tender skin, each fibre once', () => {
    expect(careOf('wool and cotton', 'wool').cautions).toEqual([
      'Smooth knitted soles slip on hard floors and stairs.',
      'Wool and cotton may irritate tender skin.',
    ]);
    expect(careOf(null).cautions).toContain('The yarn may irritate tender skin.');
  });

  it('says more for a child', () => {
    const child = careCardOf(yarns('acrylic'), 'child').cautions;
    expect(child).toContain('For a small child: look for loose ends now and then.');
    expect(careOf('acrylic').cautions).not.toContain('For a small child: look for loose ends now and then.');
  });

  it('takes a pair without any yarn for unknown', () => {
    const card = careOf();
    expect(card.madeOf).toEqual([]);
    expect(card.cautions).toContain('Fibre unknown: not for babies.');
  });
});
