import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Person } from '#core/sizing/foot.ts';
import { yarnOfPair } from '#core/yardage/needs.ts';
import { knit, type PairWish, yarnOf } from '#tests/support/knit-cases.ts';

const person = fc.constantFrom<Person>('woman', 'man', 'child', 'unknown');
const tenths = (min: number, max: number) => fc.integer({ min: min * 10, max: max * 10 }).map((count) => count / 10);

/** Any pair a workshop may be asked for, within what a foot and needles can be. */
const anyWish: fc.Arbitrary<PairWish> = fc
  .record({
    person,
    lengthMm: tenths(90, 330),
    fit: fc.constantFrom('snug' as const, 'usual' as const, 'roomy' as const),
    cuff: fc.constantFrom('short' as const, 'turned down' as const, 'none' as const, 30, 75),
    stitches: tenths(9, 30),
    rowsToStitch: fc.integer({ min: 110, max: 160 }).map((count) => count / 100),
    tex: fc.constantFrom(250, 400, 500, 600, 799, 800, 1000, 1667),
    strands: fc.integer({ min: 1, max: 3 }),
  })
  .map(({ rowsToStitch, tex, strands, ...wish }) => ({
    ...wish,
    rows: Math.round(wish.stitches * rowsToStitch * 10) / 10,
    yarns: Array.from({ length: strands }, () => yarnOf(tex)),
  }));

function numbersIn(value: unknown): number[] {
  if (typeof value === 'number') return [value];
  if (typeof value === 'object' && value !== null) return Object.values(value).flatMap(numbersIn);
  return [];
}

describe('sides and rows', () => {
  it('the foot starts purl, falls on a right side for its toe, and the cast-on is a row of the piece', () => {
    const { spec } = knit({ person: 'woman', lengthMm: 240 });
    const [foot, cuff] = spec.pieces;
    expect(foot!.sections.map(({ name, startsOn }) => [name, startsOn])).toEqual([
      ['start', 'wrong side'],
      ['sole and sides', 'wrong side'],
      ['toe', 'right side'],
      ['draw up', 'wrong side'],
    ]);
    expect(foot!.totalRows).toBe(1 + 41 + 1);
    // The cuff's colour changes on a right-side row, and it is bound off from the right side.
    expect(cuff!.sections.find((each) => each.name === 'rib')!.startsOn).toBe('right side');
    expect(cuff!.sections.find((each) => each.name === 'bind off')!.startsOn).toBe('right side');
  });

  it('holds for any pair: odd rows before the toe, an even cuff, 4m + 2 ribs, whole counts', () => {
    fc.assert(
      fc.property(anyWish, (wish) => {
        const { spec } = knit(wish);
        const [foot, cuff] = spec.pieces;
        const work = foot!.sections.find((each) => each.do === 'work')!;
        const toe = foot!.sections.find((each) => each.do === 'change')!;
        expect([work.startsOn, work.rows % 2, toe.startsOn, toe.rows % 2]).toEqual(['wrong side', 1, 'right side', 1]);
        expect(foot!.totalRows).toBe(1 + work.rows + toe.rows);
        expect(foot!.lastStitches).toBeLessThanOrEqual(16);
        expect(foot!.lastStitches).toBeGreaterThanOrEqual(4);
        expect(spec.measures.markRows).toBeLessThan(foot!.totalRows);
        expect(spec.measures.markRows).toBeGreaterThanOrEqual(Math.round(foot!.totalRows / 2));
        if (wish.cuff === 'none') expect(cuff).toBeUndefined();
        else {
          expect(cuff!.castOnStitches % 4).toBe(2);
          expect(cuff!.totalRows % 2).toBe(1); // the cast-on and an even number
        }
        for (const piece of spec.pieces) {
          for (const count of [piece.castOnStitches, piece.totalRows, piece.lastStitches]) {
            expect(Number.isInteger(count) && count > 0).toBe(true);
          }
        }
      }),
    );
  });
});

describe('no number is ever missing', () => {
  it('every spec of any pair is finite, and nothing is negative but ease', () => {
    fc.assert(
      fc.property(anyWish, (wish) => {
        const { spec, kind } = knit(wish);
        for (const number of numbersIn(spec)) expect(Number.isFinite(number)).toBe(true);
        const { girthEaseRatio, lengthEaseRatio, ...measures } = spec.measures;
        for (const number of numbersIn([measures, spec.metres, spec.operations, spec.pieces]))
          expect(number).toBeGreaterThanOrEqual(0);
        expect(Math.abs(girthEaseRatio)).toBeLessThan(0.5);
        expect(Math.abs(lengthEaseRatio)).toBeLessThan(0.5);
        for (const each of yarnOfPair(kind, spec)) expect(each.grams).toBeGreaterThan(0);
      }),
    );
  });
});

describe('more foot, more stitches', () => {
  it('a longer foot never has fewer rows or stitches, nor an earlier mark', () => {
    fc.assert(
      fc.property(anyWish, tenths(0, 40), (wish, more) => {
        const shorter = knit(wish).spec;
        const longer = knit({ ...wish, lengthMm: Math.min(360, wish.lengthMm + more) }).spec;
        expect(longer.pieces[0]!.totalRows).toBeGreaterThanOrEqual(shorter.pieces[0]!.totalRows);
        expect(longer.pieces[0]!.castOnStitches).toBeGreaterThanOrEqual(shorter.pieces[0]!.castOnStitches);
      }),
    );
  });

  it('a wider foot never has fewer stitches, nor a roomier fit', () => {
    fc.assert(
      fc.property(anyWish, tenths(0, 60), (wish, more) => {
        const ballGirthMm = 180;
        const narrow = knit({ ...wish, ballGirthMm }).spec.pieces[0]!;
        const wide = knit({ ...wish, ballGirthMm: ballGirthMm + more }).spec.pieces[0]!;
        expect(wide.castOnStitches).toBeGreaterThanOrEqual(narrow.castOnStitches);
        const roomy = knit({ ...wish, ballGirthMm, fit: 'roomy' }).spec.pieces[0]!;
        expect(roomy.castOnStitches).toBeGreaterThanOrEqual(narrow.castOnStitches);
      }),
    );
  });

  it('a finer gauge never has fewer stitches, nor fewer rows', () => {
    fc.assert(
      fc.property(anyWish, tenths(0, 6), tenths(0, 6), (wish, stitches, rows) => {
        const coarse = knit(wish).spec.pieces;
        const fine = knit({ ...wish, stitches: wish.stitches! + stitches, rows: wish.rows! + rows }).spec.pieces;
        expect(fine[0]!.castOnStitches).toBeGreaterThanOrEqual(coarse[0]!.castOnStitches);
        expect(fine[0]!.totalRows).toBeGreaterThanOrEqual(coarse[0]!.totalRows);
      }),
    );
  });
});

describe('rounding stays near the wish', () => {
  it('width within half a stitch, length within a row of what was wished', () => {
    fc.assert(
      fc.property(anyWish, (wish) => {
        const { spec, worked } = knit(wish);
        const foot = spec.pieces[0]!;
        const halfStitchMm = 50 / wish.stitches!;
        const rowMm = 100 / wish.rows!;
        // Below the least count there is nothing to be near to.
        if (foot.castOnStitches > 8)
          expect(Math.abs(foot.widthMm - worked.lengths.width!.value)).toBeLessThanOrEqual(halfStitchMm + 1e-9);
        if (foot.sections.find((each) => each.do === 'work')!.rows > 5)
          expect(Math.abs(foot.lengthMm - worked.lengths.length!.value)).toBeLessThanOrEqual(rowMm + 1e-9);
      }),
    );
  });

  it('the cuff is within half a repeat of the opening, unless it was raised for the heel', () => {
    fc.assert(
      fc.property(anyWish, (wish) => {
        const { spec, worked } = knit(wish);
        const cuff = spec.pieces[1];
        if (!cuff || cuff.castOnStitches === 10) return;
        const overMm = cuff.widthMm - spec.measures.openingMm;
        expect(overMm).toBeGreaterThanOrEqual(-200 / wish.stitches! - 1e-9);
        const oneRepeatLess = cuff.widthMm - 400 / wish.stitches!;
        const wasRaised = oneRepeatLess * 1.37 < worked.needed.value;
        if (!wasRaised) expect(overMm).toBeLessThanOrEqual(200 / wish.stitches! + 1e-9);
      }),
    );
  });
});

describe('the heel comes in', () => {
  it('through opening and cuff of every pair, or a warning names what is too tight', () => {
    fc.assert(
      fc.property(anyWish, fc.option(tenths(150, 450)), (wish, heelAnkleGirthMm) => {
        const { spec, worked } = knit(
          heelAnkleGirthMm === null ? wish : { ...wish, ballGirthMm: 140, heelAnkleGirthMm },
        );
        const paths = spec.warnings.filter((each) => each.code === 'fit-check').map((each) => each.path);
        const needed = worked.shape.foot.heelAnkleGirthMm + (heelAnkleGirthMm === null ? 16 : 0);
        expect(paths.includes('heel through opening')).toBe(spec.measures.openingMm * 1.35 < needed - 1e-6);
        if (spec.measures.cuffFlatMm !== null)
          expect(paths.includes('heel through cuff')).toBe(spec.measures.cuffFlatMm * 1.37 < needed - 1e-6);
      }),
    );
  });

  // By a second program: only eight child lengths of these warn, all of the cuff against the opening (a repeat more for
  // the heel makes it 1.15 to 1.21 times the opening), never of the heel.
  it('without a warning for estimated girths of women and men, and of children but for eight lengths', () => {
    const warned: [Person, number][] = [];
    for (const [who, from, to] of [
      ['woman', 215, 280],
      ['man', 235, 330],
      ['child', 111, 240],
    ] as const) {
      for (let lengthMm = from; lengthMm <= to; lengthMm += 0.5) {
        const checks = knit({ person: who, lengthMm }).spec.warnings.filter((each) => each.code === 'fit-check');
        if (checks.length > 0) warned.push([who, lengthMm]);
        for (const { path } of checks) expect(path).toBe('cuff eases on');
      }
    }
    const lengths = [111, 151, 151.5, 152, 152.5, 153, 153.5, 154];
    expect(warned).toEqual(lengths.map((lengthMm) => ['child', lengthMm]));
  });
});

describe('grams are the sum of their pieces', () => {
  it('metres x tex over all roles, strands and fabrics, however the colours fall', () => {
    fc.assert(
      fc.property(anyWish, fc.constantFrom(1, 2), (wish, cuffColour) => {
        const { spec, kind } = knit({ ...wish, cuffColour });
        const tex = wish.yarns![0]!.tex;
        const fromMetres = spec.metres.reduce((sum, each) => sum + (each.metres.mean * tex) / 1000, 0);
        const fromColours = yarnOfPair(kind, spec).reduce((sum, each) => sum + each.grams, 0);
        expect(fromColours).toBeCloseTo(fromMetres, 9);
      }),
    );
  });
});
