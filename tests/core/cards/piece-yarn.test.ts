import { describe, expect, it } from 'vitest';
import { gramsOfUses, rowsYarnOf } from '#core/cards/piece-yarn.ts';
import type { Figure } from '#core/shared/figure.ts';
import { babyBootie } from '#core/styles/shipped/baby-bootie.ts';
import { twoPieceSlipper } from '#core/styles/shipped/two-piece-slipper.ts';
import { type CardWish, cardCase } from '#tests/support/card-cases.ts';

const sum = (numbers: readonly number[]) => numbers.reduce((total, each) => total + each, 0);

/** The second way: the parts that the yardage itself lists for one slipper, by the names they carry. */
function partsByName(wish: CardWish, role: string): { name: string; metres: number }[] {
  const { working } = cardCase(wish);
  const slipperOf = (figure: Figure) => figure.inputs[0]!.inputs[1]!;
  return working.metres
    .filter((each) => each.role === role && each.strand === 0)
    .flatMap((each) => slipperOf(each.metres).inputs)
    .map((part) => ({ name: part.rule.name, metres: part.value }));
}

describe('rowsYarnOf', () => {
  const wish: CardWish = { body: twoPieceSlipper };

  // Munden: loop sqrt(21.6 / (1.3 x 1.8)) = 3.0382 cm; 28 stitches x 41 rows x 0.030382 m = 34.878 m.
  it('gives the rows of the foot their loops', () => {
    const rows = rowsYarnOf(cardCase(wish).input).find((use) => use.piece === 'foot' && use.rows === 41)!;
    expect(rows.fromRow).toBe(2);
    expect(rows.metres).toBeCloseTo(34.878, 2);
  });

  it.each([
    ['foot', 'foot', /^(foot:|seam: (heel|top)$)/],
    ['foot', 'cuff', /^(cuff:|seam: cuff to foot$)/],
    ['cuff', 'cuff', /^(cuff:|seam: cuff back$)/],
  ])('role %s in the %s is what the yardage lists for it', (role, piece, names) => {
    const uses = rowsYarnOf(cardCase(wish).input).filter((use) => use.role === role && use.piece === piece);
    const listed = partsByName(wish, role).filter(({ name }) => names.test(name));
    expect(listed.length).toBeGreaterThan(1);
    expect(sum(uses.map((use) => use.metres))).toBeCloseTo(sum(listed.map((part) => part.metres)), 6);
  });

  it('leaves no yarn out for a piece with shaping at its centre', () => {
    const bootie: CardWish = { body: babyBootie, person: 'child', lengthMm: 95, stitches: 22, rows: 30 };
    for (const role of ['foot', 'leg']) {
      const uses = rowsYarnOf(cardCase(bootie).input).filter((use) => use.role === role);
      expect(sum(uses.map((use) => use.metres))).toBeCloseTo(
        sum(partsByName(bootie, role).map((part) => part.metres)),
        6,
      );
    }
  });
});

describe('gramsOfUses', () => {
  // 34.878 m at 1000 tex are 34.878 g; a ball of 100 g has 100 m and each join takes 0.3 m: x 1.003.
  it('weighs them with the joins of the balls', () => {
    const { input } = cardCase({ body: twoPieceSlipper });
    const rows = gramsOfUses(input, rowsYarnOf(input), 1).find((use) => use.piece === 'foot' && use.rows === 41)!;
    expect(rows.grams).toBeCloseTo(34.983, 2);
  });

  it('gives a colour that is not in the pair nothing', () => {
    const { input } = cardCase({ body: twoPieceSlipper });
    expect(gramsOfUses(input, rowsYarnOf(input), 99)).toEqual([]);
  });
});
