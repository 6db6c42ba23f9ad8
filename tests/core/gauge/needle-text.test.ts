import { describe, expect, it } from 'vitest';
import { needleMmFromText } from '#core/gauge/needle-text.ts';
import { needleWords } from '#core/gauge/needle-words.ts';
import { readReference } from '#tests/support/reference.ts';

// Needle sizes as published in conversion charts (tests/reference/SOURCES.md).
const rows = readReference('needle-sizes.csv');
const read = (text: string) => {
  const result = needleMmFromText(text);
  return result.ok ? result.value : null;
};

describe('needleMmFromText', () => {
  it.each(rows.map((row) => [row.mm!, row] as const))('reads %s mm by all its names', (mm, row) => {
    expect(read(mm)).toBe(Number(mm));
    expect(read(`${mm.replace('.', ',')} mm`)).toBe(Number(mm));
    expect(read(needleWords(Number(mm)))).toBe(Number(mm));
    if (row.us) expect(read(`US ${row.us}`)).toBe(Number(mm));
    if (row.uk_old) expect(read(`old UK ${row.uk_old}`)).toBe(Number(mm));
    if (row.uk_old) expect(read(`uk${row.uk_old}`)).toBe(Number(mm));
  });

  it.each(['', 'thick', '0.5', '50', 'US 12', 'UK 15', '-7'])('does not know “%s”', (text) => {
    expect(read(text)).toBeNull();
  });
});
