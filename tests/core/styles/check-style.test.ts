import { describe, expect, it } from 'vitest';
import { checkStyle } from '#core/styles/check-style.ts';
import { shippedStyles } from '#core/styles/shipped/shipped-styles.ts';
import { twoPieceSlipper } from '#core/styles/shipped/two-piece-slipper.ts';
import type { Section, StyleBody } from '#core/styles/style.ts';

/** The slipper with one step of its foot changed. */
function withStep(name: string, change: (section: Section) => Section): StyleBody {
  const [foot, cuff] = twoPieceSlipper.pieces;
  const sections = foot!.sections.map((section) => (section.name === name ? change(section) : section));
  return { ...twoPieceSlipper, pieces: [{ ...foot!, sections }, cuff!] };
}

const placesOf = (body: StyleBody) => checkStyle(body).map((problem) => problem.path);

describe('checkStyle', () => {
  it.each(shippedStyles.map((body) => [body.style, body] as const))('has nothing to say of the %s', (_, body) =>
    expect(checkStyle(body)).toEqual([]),
  );

  it('names the toe when the rows before it end on the wrong side for it', () => {
    const body = withStep('sole and sides', (section) =>
      section.do === 'work' && 'along' in section.rows
        ? { ...section, rows: { ...section.rows, endAfter: 'right side' } }
        : section,
    );
    expect(placesOf(body)).toEqual(['pieces.foot.toe']);
    expect(checkStyle(body)[0]!.message).toMatch(/needs the right side/);
  });

  it('names a step whose length has fewer rows than are there already', () => {
    const body = { ...twoPieceSlipper, settings: { ...twoPieceSlipper.settings, lengthFactor: 0.01 } };
    expect(placesOf(body)).toContain('pieces.foot.sole and sides');
  });

  it('names an edge, a length, a setting, a fabric and a colour that are not there', () => {
    const lost = { ...twoPieceSlipper, joins: [{ name: 'heel', fold: 'foot.bottom', colour: 'foot', takes: null }] };
    expect(placesOf(lost)).toEqual(['joins.heel']);
    const lengths = { ...twoPieceSlipper.lengths, width: { sum: [{ of: 'ballGirth' as const, times: 'girth' }] } };
    expect(placesOf({ ...twoPieceSlipper, lengths })).toContain('lengths.width');
    expect(placesOf(withStep('sole and sides', (step) => ({ ...step, fabric: 'felt' }) as Section))).toEqual([
      'pieces.foot.sole and sides',
    ]);
    expect(placesOf(withStep('toe', (step) => ({ ...step, colour: 'nose' })))).toEqual(['pieces.foot.toe']);
  });

  it('names a piece out of all proportion, as a slip of the decimal point makes it', () => {
    const settings = { ...twoPieceSlipper.settings, girthFactor: 9.3 };
    const problems = checkStyle({ ...twoPieceSlipper, settings });
    expect(problems.map((problem) => problem.path)).toEqual(['pieces.foot']);
    expect(problems[0]!.message).toMatch(/cm wide .*look at its numbers/);
  });
});
