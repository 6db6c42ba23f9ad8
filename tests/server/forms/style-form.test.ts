import { describe, expect, it } from 'vitest';
import { shippedStyles } from '#core/styles/shipped/shipped-styles.ts';
import { twoPieceSlipper } from '#core/styles/shipped/two-piece-slipper.ts';
import type { FormValues } from '#server/forms/fields.ts';
import { changeValues, commandIn } from '#server/forms/style-commands.ts';
import { parseStyle } from '#server/forms/style-form.ts';
import { countIn, namesIn, styleValuesIn, styleValuesOf } from '#server/forms/style-values.ts';

const slipper = Object.freeze(styleValuesOf(twoPieceSlipper));

function problemsOf(values: FormValues): readonly (readonly [string, string])[] {
  const parsed = parseStyle(values);
  return parsed.ok ? [] : parsed.problems.map(({ path, message }) => [path, message]);
}

describe('a style as fields', () => {
  it.each(shippedStyles.map((body) => [body.style, body] as const))('reads %s back as it was', (_, body) => {
    const parsed = parseStyle(styleValuesIn(styleValuesOf(body)));
    expect(parsed).toEqual({ ok: true, value: body });
  });

  it('takes its own fields alone', () => {
    const values = styleValuesIn({ ...slipper, 'constructor.name': 'x', '__proto__.x': 'y', do: 'save', note: 'z' });
    expect(values).toEqual(slipper);
  });
});

describe('a fault stands at its field', () => {
  // Each: one field changed, the field the sentence is to stand at, and a part of the sentence.
  it.each([
    ['style', '', 'style', 'Give the style a name'],
    ['make', '3', 'make', 'A pair is two slippers'],
    ['settings.0.value', 'wide', 'settings.0.value', 'Enter a number'],
    ['settings.1.name', 'girthFactor', 'settings.1.name', 'There is a setting girthFactor already.'],
    ['lengths.0.sum.0.times', 'girth', 'lengths.0.sum.0.times', '“girth” is neither a number nor one of the settings.'],
    ['lengths.1.sum.1.times', '5000', 'lengths.1.sum.1.times', 'Enter a number from -1000 to 1000.'],
    ['pieces.0.name', '', 'pieces.0.name', 'Give it a name'],
    ['pieces.0.sections.0.to.repeat', '0', 'pieces.0.sections.0.to.repeat', 'whole number of stitches'],
    ['pieces.1.sections.0.to.edge', '', 'pieces.1.sections.0.to.edge', 'Name at least one edge'],
    // Places that only the whole style shows: the step's own head.
    ['pieces.1.sections.0.to.edge', 'foot.middle', 'pieces.1.sections.0', 'There is no edge called foot.middle'],
    ['pieces.1.sections.0.to.until', 'hope', 'pieces.1.sections.0', 'There is no check called hope.'],
    ['pieces.0.sections.1.rows.end', 'right side', 'pieces.0.sections.2', 'needs the right side'],
    ['pieces.0.sections.1.rows.less', 'start, heel', 'pieces.0.sections.1', 'no rows called heel'],
    ['pieces.0.sections.1.colour', 'sole', 'pieces.0.sections.1', 'There is no colour called sole.'],
    ['pieces.0.isOptional', 'yes', 'pieces.0', 'The first piece cannot be left out.'],
    ['pieces.1.sections.1.rows.count', '2.5', 'pieces.1.sections.1', 'whole number of rows'],
    ['marks.0.edges', 'foot.start', 'marks.0', 'A mark stands on the sides of one piece'],
    ['joins.3.one', 'cuff.top', 'joins.3', 'There is no edge called cuff.top'],
    ['checks.2.from', '2', 'checks.2', 'The smaller ratio comes first.'],
    ['roles.1.name', 'foot', 'roles', 'Two colours are called foot'],
    ['lengths.1.sum.1.times', '-400', 'lengths.1', 'below zero'],
  ])('%s = %j', (field, typed, place, sentence) => {
    const problems = problemsOf({ ...slipper, [field]: typed });
    const found = problems.find(([path]) => path === place);
    expect(found?.[1] ?? JSON.stringify(problems)).toContain(sentence);
  });

  it('a change that would have to add says so at its step', () => {
    const wider = { ...slipper, 'pieces.0.sections.2.how': 'edges', 'pieces.0.sections.2.to.across': 'length' };
    expect(problemsOf(wider)).toEqual([['pieces.0.sections.2', expect.stringContaining('can only take away')]]);
  });

  it('a length with fewer rows than are named says so at its step', () => {
    // 10 mm hold at most 4 rows at 30 stitches (40 rows) in 10 cm; cast-on and toe alone are more in fine yarn.
    const short = { ...slipper, 'lengths.1.sum.0.times': '0.02' };
    expect(problemsOf(short)).toEqual([['pieces.0.sections.1', expect.stringContaining('make it longer')]]);
  });

  it('names what points at a piece that is gone', () => {
    const without = changeValues(slipper, { verb: 'remove', path: 'pieces.1' }, 'work');
    const paths = problemsOf(without).map(([path]) => path);
    expect(paths).toEqual(['joins.2', 'joins.3', 'checks.1', 'checks.2']);
  });
});

describe('buttons that add, move and remove', () => {
  it('takes only commands that name a list or an entry of one', () => {
    expect(commandIn('add pieces.0.sections')).toEqual({ verb: 'add', path: 'pieces.0.sections' });
    expect(commandIn('up joins.2')).toEqual({ verb: 'up', path: 'joins.2' });
    for (const text of ['', 'look', 'save', 'add style', 'remove pieces', 'up pieces.0.name', 'remove settings.x'])
      expect(commandIn(text)).toBeNull();
  });

  it('adds a step before the one that ends the piece, and leaves the others as typed', () => {
    const typed = { ...slipper, 'pieces.0.sections.3.name': 'pull tight' };
    const added = changeValues(typed, { verb: 'add', path: 'pieces.0.sections' }, 'work');
    expect(namesIn(added, 'pieces.0.sections')).toEqual(['start', 'sole and sides', 'toe', 'rows', 'pull tight']);
    expect(added['pieces.0.sections.3.do']).toBe('work');
    expect(countIn(added, 'pieces.1.sections')).toBe(4);
  });

  it('moves an entry with all of its fields, and back again', () => {
    const typed = { ...slipper, 'joins.0.place': 'inside' };
    const down = changeValues(typed, { verb: 'down', path: 'joins.0' }, 'work');
    expect(namesIn(down, 'joins')).toEqual(['top', 'heel', 'cuff back', 'cuff to foot']);
    expect(down['joins.1.place']).toBe('inside');
    expect(changeValues(down, { verb: 'up', path: 'joins.1' }, 'work')).toEqual(typed);
  });

  it('does nothing past the ends of a list', () => {
    expect(changeValues(slipper, { verb: 'up', path: 'joins.0' }, 'work')).toEqual(slipper);
    expect(changeValues(slipper, { verb: 'down', path: 'joins.3' }, 'work')).toEqual(slipper);
    expect(changeValues(slipper, { verb: 'remove', path: 'joins.40' }, 'work')).toEqual(slipper);
  });

  it('removes the last entry of a list, and adds one to an empty list', () => {
    const without = changeValues(slipper, { verb: 'remove', path: 'marks.0' }, 'work');
    expect(countIn(without, 'marks')).toBe(0);
    const again = changeValues(without, { verb: 'add', path: 'marks' }, 'work');
    expect(namesIn(again, 'marks')).toEqual(['mark 1']);
  });

  it.each(['castOn', 'pickUp', 'work', 'change', 'drawUp', 'bindOff'] as const)(
    'a new step of kind %s asks for nothing that it does not show',
    (kind) => {
      const added = changeValues(slipper, { verb: 'add', path: 'pieces.0.sections' }, kind);
      const own = problemsOf(added).filter(([path]) => path.startsWith('pieces.0.sections.3.'));
      expect(own.map(([path]) => path)).toEqual(kind === 'pickUp' ? ['pieces.0.sections.3.to.edge'] : []);
    },
  );

  it('a new piece can be knitted as it is', () => {
    const added = changeValues(slipper, { verb: 'add', path: 'pieces' }, 'work');
    expect(problemsOf(added)).toEqual([]);
  });
});
