import { describe, expect, it } from 'vitest';
import { labelsForBand } from '#core/sizing/band-labels.ts';
import { defaultBands } from '#core/sizing/bands.ts';
import { labelsForLength } from '#core/sizing/labels.ts';

const labelOf = (labels: ReturnType<typeof labelsForBand>, system: string) =>
  labels.find((each) => each.system === system)?.label;

describe('labelsForBand', () => {
  it('gives the sizes within, the smallest and the largest', () => {
    // 222 to 238 mm are EU 35.3 to 37.7, UK 3.22 to 5.11, US two more, Japan 22.2 to 23.8
    const small = labelsForBand('woman', 222, 238);
    expect(labelOf(small, 'EU')).toBe('36–37');
    expect(labelOf(small, 'UK')).toBe('3.5–5');
    expect(labelOf(small, 'US')).toBe('5.5–7');
    expect(labelOf(small, 'Japan')).toBe('22.5–23.5');
  });

  it('takes sizes on its very ends for within', () => {
    // EU 37 is 233.3 mm and EU 38 is 240 mm exactly
    expect(labelOf(labelsForBand('woman', 700 / 3, 240), 'EU')).toBe('37–38');
  });

  it('is the nearest size where none lies within', () => {
    expect(labelsForBand('man', 262, 262)).toEqual(labelsForLength('man', 262));
  });

  it('crosses from the small scale to the junior one', () => {
    // 205 to 215 mm over 25.4 / 3.24 less 12: UK 14.15 to 15.42 on the running scale, 13 less on the junior one
    expect(labelOf(labelsForBand('child', 205, 215), 'UK')).toBe('junior 1.5–2');
  });

  it('says something in EU for every band that a workshop begins with', () => {
    for (const { person, fromMm, toMm } of defaultBands) {
      expect(labelOf(labelsForBand(person, fromMm, toMm), 'EU')).toMatch(/^\d+(–\d+)?$/);
    }
  });

  it('refuses a band the wrong way round', () => {
    expect(() => labelsForBand('woman', 240, 239)).toThrow(RangeError);
  });
});
