import { describe, expect, it } from 'vitest';
import { lengthMmFrom } from '#flows/orders/lengths.ts';

describe('lengthMmFrom', () => {
  it.each([
    ['24.5', 'cm', 245],
    ['24,5', 'cm', 245],
    ['245', 'mm', 245],
    ['9 1/2', 'in', 241.3],
    ['245 mm', 'cm', 245],
    ['9.5"', 'cm', 241.3],
    ['6 CM', 'in', 60],
  ] as const)('reads %s where %s is usual', (text, unit, lengthMm) => {
    expect(lengthMmFrom(text, unit)).toBe(lengthMm);
  });

  it('survives being shown in inches with three decimals', () => {
    // 245 mm / 25.4 = 9.646 in; back: 245.0084 mm, a tenth of a millimetre is kept
    expect(lengthMmFrom('9.646', 'in')).toBe(245);
  });

  it.each(['', 'long', '-5', '1e3', '24.5.5', '٢٤'])('refuses %j', (text) => {
    expect(lengthMmFrom(text, 'cm')).toBeNull();
  });
});
