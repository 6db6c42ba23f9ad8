import { describe, expect, it } from 'vitest';
import { needleSizes, needleWords } from '#core/gauge/needle-words.ts';
import { readReference } from '#tests/support/reference.ts';

describe('needleSizes', () => {
  // tests/reference/needle-sizes.csv: conversion charts, see SOURCES.md.
  it('is the published chart, row for row', () => {
    const chart = readReference('needle-sizes.csv').map((row) => ({
      mm: Number(row.mm),
      us: row.us === '' ? null : row.us,
      oldUk: row.uk_old === '' ? null : row.uk_old,
    }));
    expect(needleSizes).toEqual(chart);
  });
});

describe('needleWords', () => {
  it.each([
    [7, '7 mm (old UK 2, no US size)'],
    [7.5, '7.5 mm (old UK 1, no US size)'],
    [6.5, '6.5 mm (old UK 3, US 10.5)'],
    [2.5, '2.5 mm (US 1.5)'],
    [25, '25 mm (US 50)'],
    [6.75, '6.75 mm'],
  ])('%s mm', (mm, words) => {
    expect(needleWords(mm)).toBe(words);
  });
});
