import { describe, expect, it } from 'vitest';
import { bandFigure, defaultBands, euPairBand, footLengthOfBand } from '#core/sizing/bands.ts';
import { footLengthFromLabel } from '#core/sizing/labels.ts';
import { readReference } from '#tests/support/reference.ts';

describe('footLengthOfBand', () => {
  it('is the middle', () => {
    expect(footLengthOfBand(222, 238)).toBe(230);
  });

  it('is the length itself when the band is one length', () => {
    expect(footLengthOfBand(240, 240)).toBe(240);
  });

  it.each([
    [250, 240],
    [50, 240],
    [240, 361],
    [Number.NaN, 240],
  ])('refuses %d to %d', (fromMm, toMm) => {
    expect(() => footLengthOfBand(fromMm, toMm)).toThrow(RangeError);
    expect(() => bandFigure({ name: 'x', person: 'woman', fromMm, toMm })).toThrow(RangeError);
  });

  it('is what the figure says', () => {
    for (const band of defaultBands) expect(bandFigure(band).value).toBe(footLengthOfBand(band.fromMm, band.toMm));
  });
});

describe('euPairBand', () => {
  it('has the size between its two sizes in the middle', () => {
    const band = euPairBand('unknown', 36, 37);
    const middle = footLengthFromLabel({ person: 'unknown', system: 'EU', label: '36.5' });
    expect(middle.ok && middle.value.value).toBeCloseTo(footLengthOfBand(band.fromMm, band.toMm), 9);
    // EU 35.5 to 37.5: (35.5 - 2) x 20 / 3 = 223.33, (37.5 - 2) x 20 / 3 = 236.67
    expect([band.fromMm, band.toMm].map((mm) => Math.round(mm * 100) / 100)).toEqual([223.33, 236.67]);
  });

  it('refuses sizes the person does not have', () => {
    expect(() => euPairBand('child', 41, 42)).toThrow(RangeError);
    expect(() => euPairBand('woman', 40, 39)).toThrow(RangeError);
  });
});

describe('defaultBands', () => {
  it('touch each other and never overlap, for each person', () => {
    for (const person of ['woman', 'man', 'child', 'unknown'] as const) {
      for (const isPair of [false, true]) {
        const bands = defaultBands.filter((band) => band.person === person && band.name.includes('/') === isPair);
        bands.slice(1).forEach((band, index) => {
          expect(band.fromMm).toBeCloseTo(bands[index]!.toMm, 9);
        });
      }
    }
  });

  it('offers EU pairs from 35/36 to 45/46', () => {
    const names = defaultBands.filter(({ person }) => person === 'unknown').map(({ name }) => name);
    expect(names).toEqual(['35/36', '37/38', '39/40', '41/42', '43/44', '45/46']);
  });

  it('has about the middle half of the surveyed feet in M', () => {
    // Public rows of the 2012 US Army survey (see tests/reference/SOURCES.md).
    for (const [person, sex] of [
      ['woman', 'F'],
      ['man', 'M'],
    ]) {
      const band = defaultBands.find((each) => each.person === person && each.name === 'M')!;
      const lengths = readReference('ansur2-foot.csv')
        .filter((row) => row.sex === sex)
        .map((row) => Number(row.footlength));
      const inside = lengths.filter((lengthMm) => lengthMm >= band.fromMm && lengthMm < band.toMm);
      expect(inside.length / lengths.length).toBeGreaterThan(0.45);
      expect(inside.length / lengths.length).toBeLessThan(0.55);
    }
  });
});
