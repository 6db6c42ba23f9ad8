import { describe, expect, it } from 'vitest';
import { kindFor } from '#core/batch/kinds.ts';
import { footFrom } from '#core/sizing/girths.ts';
import { checkStyle } from '#core/styles/check-style.ts';
import { contrastToeSlipper } from '#core/styles/shipped/contrast-toe.ts';
import { twoPieceSlipper } from '#core/styles/shipped/two-piece-slipper.ts';
import { specifyWithWorking } from '#core/styles/specify.ts';
import type { Section, StyleBody } from '#core/styles/style.ts';
import { bulky, usualHand } from '#tests/support/plan-input.ts';

/** The slipper with its sole striped, so many rows by turns with the cuff's colour. */
function striped(rows: number): StyleBody {
  const [foot, cuff] = twoPieceSlipper.pieces;
  const stripe = (section: Section): Section =>
    section.do === 'work' ? { ...section, stripes: { colour: 'cuff', rows } } : section;
  return { ...twoPieceSlipper, style: 'striped', pieces: [{ ...foot!, sections: foot!.sections.map(stripe) }, cuff!] };
}

function knit(body: StyleBody) {
  const roles = body.roles.map((role) => role.name);
  const kind = kindFor({
    style: { versionId: 1, name: body.style, body },
    foot: footFrom({ person: 'woman', lengthMm: 240 }),
    fit: 'usual',
    yarns: Object.fromEntries(roles.map((role) => [role, [bulky]])),
    colours: Object.fromEntries(roles.map((role, index) => [role, [index + 1]])),
    cuff: 'short',
  });
  return specifyWithWorking(kind.shape, usualHand).spec;
}

const metresOf = (spec: ReturnType<typeof knit>, role: string) =>
  spec.metres.filter((each) => each.role === role).reduce((sum, each) => sum + each.metres.mean, 0);

describe('stripes', () => {
  const plain = knit(twoPieceSlipper);

  it('change colour every so many rows and keep all rows and stitches', () => {
    const spec = knit(striped(4));
    const sole = spec.pieces[0]!.sections.filter((section) => section.name === 'sole and sides');
    // 41 rows: ten stripes of 4, by turns, and one row more in the first colour.
    expect(sole.map((section) => section.rows)).toEqual([4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 1]);
    expect(sole.map((section) => section.role)).toEqual(
      Array.from({ length: 11 }, (_, index) => (index % 2 === 0 ? 'foot' : 'cuff')),
    );
    expect(spec.pieces[0]!.totalRows).toBe(plain.pieces[0]!.totalRows);
    expect(spec.pieces[0]!.lastStitches).toBe(plain.pieces[0]!.lastStitches);
  });

  it('share the yarn by rows, and bring two ends for every change', () => {
    const spec = knit(striped(4));
    // By hand: l = sqrt(21.6 / (1.3 x 1.8)) = 3.03822 cm; 20 of 41 rows of 28 stitches change sides: 17.0140 m a slipper.
    // Ten changes in the sole, one end of 0.15 m in each colour; the cuff's own change was there before.
    const moved = (20 * 28 * 3.0382181) / 100;
    const ends = 10 * 0.15;
    const joins = 1 + (1000 / 1000 / 100) * 0.3;
    expect(metresOf(spec, 'cuff') - metresOf(plain, 'cuff')).toBeCloseTo(2 * (moved + ends) * joins, 3);
    expect(metresOf(plain, 'foot') - metresOf(spec, 'foot')).toBeCloseTo(2 * (moved - ends) * joins, 3);
    expect(spec.operations.colourChanges - plain.operations.colourChanges).toBe(20);
    expect(spec.operations.ends - plain.operations.ends).toBe(40);
  });

  it('are refused in the same colour, and of no rows', () => {
    const same = striped(2);
    const [foot, cuff] = same.pieces;
    const inFoot = foot!.sections.map((section) =>
      section.do === 'work' ? { ...section, stripes: { colour: 'foot', rows: 2 } } : section,
    );
    expect(checkStyle({ ...same, pieces: [{ ...foot!, sections: inFoot }, cuff!] })[0]?.message).toBe(
      'Stripes want a second colour.',
    );
    expect(checkStyle(striped(0))[0]?.message).toBe('A stripe has a whole number of rows from 1.');
    expect(checkStyle(striped(3))).toEqual([]);
  });
});

describe('the slipper with a contrast toe', () => {
  const spec = knit(contrastToeSlipper);

  it('has the rows of the plain slipper, eight of them before the toe in the other colour', () => {
    expect(spec.pieces[0]!.sections.map((section) => [section.role, section.rows])).toEqual([
      ['foot', 0],
      ['foot', 33],
      ['toe', 8],
      ['toe', 1],
      ['toe', 0],
    ]);
    expect(spec.pieces[0]!.totalRows).toBe(43);
  });

  it('can be knitted at every size', () => expect(checkStyle(contrastToeSlipper)).toEqual([]));
});
