import { describe, expect, it } from 'vitest';
import { type TagInput, tagOf } from '#core/cards/tag.ts';
import { euPairBand } from '#core/sizing/bands.ts';

const foot = (lengthMm: number, ballGirthMm: number | null = null) => Object.freeze({ lengthMm, ballGirthMm });
const plain = Object.freeze<TagInput>({
  style: 'Two-piece slipper',
  called: 'woman EU 38',
  person: 'woman',
  foot: foot(240),
  right: null,
  band: null,
  systems: ['EU', 'UK', 'US'],
  usWomenOffset: 2,
  unitSystem: 'metric',
  quality: 'good',
  price: null,
});

describe('tagOf', () => {
  it('calls a size as it was ordered and names its other labels once', () => {
    // UK 240 x 3 / 25.4 - 23 = 5.35, nearest half 5.5; US two more.
    expect(tagOf(plain).sizes).toEqual([
      { foot: 'both', called: 'Woman EU 38', also: 'UK 5.5, US 7.5', length: 'foot 24.0\u00a0cm' },
    ]);
    expect(tagOf({ ...plain, called: 'woman UK 5.5' }).sizes[0]!.also).toBe('EU 38, US 7.5');
  });

  it('prints the systems that the workshop uses, and only the length where it uses none', () => {
    expect(tagOf({ ...plain, systems: ['EU'] }).sizes[0]!.also).toBe('');
    expect(tagOf({ ...plain, systems: ['Japan'] }).sizes[0]!.also).toBe('Japan 24');
    const none = tagOf({ ...plain, called: null, systems: [] }).sizes[0]!;
    expect(none).toMatchObject({ called: 'Woman 24.0\u00a0cm', also: '' });
  });

  it('has both sizes for two unlike feet, left before right', () => {
    // Left 271: EU 27.1 x 1.5 + 2 = 42.65, UK 271 x 3 / 25.4 - 23 = 9.01. Right 274: EU 43.1, UK 9.36; US one more.
    const odd = tagOf({ ...plain, called: null, person: 'man', foot: foot(271, 256), right: foot(274, 258) });
    expect(odd.sizes).toEqual([
      {
        foot: 'left',
        called: 'Left EU 42.5',
        also: 'UK 9, US 10',
        length: 'foot 27.1\u00a0cm, 25.6\u00a0cm around',
      },
      {
        foot: 'right',
        called: 'Right EU 43',
        also: 'UK 9.5, US 10.5',
        length: 'foot 27.4\u00a0cm, 25.8\u00a0cm around',
      },
    ]);
  });

  it('has both sizes too where only the girths differ', () => {
    const wide = tagOf({ ...plain, called: null, foot: foot(240, 220), right: foot(240, 232) });
    expect(wide.sizes.map((size) => size.called)).toEqual(['Left EU 38', 'Right EU 38']);
    expect(wide.sizes.map((size) => size.length)).toEqual([
      'foot 24.0\u00a0cm, 22.0\u00a0cm around',
      'foot 24.0\u00a0cm, 23.2\u00a0cm around',
    ]);
  });

  it('says for which feet a band is, and which labels lie in it', () => {
    const band = euPairBand('unknown', 39, 40);
    // EU 38.5 to 40.5 are 243.3 to 256.7 mm; UK 5.74 to 7.31, so 6 to 7. US needs to know whose foot it is.
    expect(tagOf({ ...plain, called: '39/40', person: 'unknown', foot: foot(250), band }).sizes).toEqual([
      { foot: 'both', called: '39/40', also: 'EU 39–40, UK 6–7', length: 'foot 24.3–25.7\u00a0cm' },
    ]);
    const medium = { fromMm: 238, toMm: 254 };
    // EU 37.7 to 40.1: 38 to 40. UK 5.11 to 7.0: 5.5 to 7. US two more.
    expect(tagOf({ ...plain, called: 'woman M', foot: foot(246), band: medium }).sizes[0]).toMatchObject({
      called: 'Woman M',
      also: 'EU 38–40, UK 5.5–7, US 7.5–9',
    });
  });

  it('keeps to inches where the workshop does', () => {
    expect(tagOf({ ...plain, unitSystem: 'imperial' }).sizes[0]!.length).toBe('foot 9.4\u00a0in');
  });

  it('names a second, its own price, and the tax that comes on top', () => {
    const price = { cents: 3150, currency: 'EUR', addedTaxRatio: 0.08 };
    expect(tagOf({ ...plain, quality: 'second', price })).toMatchObject({
      second: 'Second: with a small flaw',
      price: '€31.50',
      priceNote: 'plus 8% tax',
    });
    expect(tagOf({ ...plain, price: { ...price, addedTaxRatio: 0 } })).toMatchObject({ second: null, priceNote: '' });
    expect(tagOf(plain)).toMatchObject({ price: null, priceNote: '' });
  });

  it('has a price of nothing where that is the price', () => {
    expect(tagOf({ ...plain, price: { cents: 0, currency: 'EUR', addedTaxRatio: 0.2 } }).price).toBe('€0.00');
  });

  it('refuses a foot that nobody has', () => {
    expect(() => tagOf({ ...plain, foot: foot(24) })).toThrow(RangeError);
  });
});
