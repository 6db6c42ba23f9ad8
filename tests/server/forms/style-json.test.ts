import { describe, expect, it } from 'vitest';
import { shippedStyles } from '#core/styles/shipped/shipped-styles.ts';
import { twoPieceSlipper } from '#core/styles/shipped/two-piece-slipper.ts';
import { parseStyleJson, styleJson } from '#server/forms/style-json.ts';

type Tree = { [key: string]: Tree } & Tree[];

/** The shipped slipper with one thing changed; `undefined` takes it away. */
function changed(path: string, value: unknown): string {
  const tree = JSON.parse(JSON.stringify(twoPieceSlipper)) as Tree;
  const keys = path.split('.');
  const last = keys.pop()!;
  const place = keys.reduce((node, key) => node[key as unknown as number]! as Tree, tree);
  if (value === undefined) delete place[last as unknown as number];
  else (place as unknown as Record<string, unknown>)[last] = value;
  return JSON.stringify(tree);
}

function messagesOf(json: string): string[] {
  const parsed = parseStyleJson(json);
  return parsed.ok ? [] : parsed.problems.map((problem) => problem.message);
}

describe('a style as JSON', () => {
  it.each(shippedStyles.map((body) => [body.style, body] as const))('writes %s and reads it back', (_, body) => {
    expect(parseStyleJson(styleJson(body))).toEqual({ ok: true, value: body });
  });

  it('carries its format, and refuses a newer one', () => {
    expect(JSON.parse(styleJson(twoPieceSlipper)).format).toBe(1);
    expect(messagesOf(changed('format', 2))).toEqual(['This style is of format 2, newer than this program knows (1).']);
    expect(messagesOf(changed('format', undefined))).toEqual(['This is not a style: it has no format number.']);
  });

  it.each(['', 'slipper', '[1', '"x"', 'null', '[]', '12'])('refuses %j', (text) => {
    expect(messagesOf(text)).toHaveLength(1);
  });

  it.each([
    ['make', 3, 'In make: A pair is two slippers: write 2.'],
    ['make', undefined, 'In make: This is missing.'],
    ['pieces.0.gaugeOf', undefined, 'In piece 1, gaugeOf: This is missing.'],
    ['pieces.0.sections.1.rows', 4, 'In piece 1, step 2, rows: Write rows as a count'],
    ['pieces.0.sections.2.plainRowsBetween', 9, 'In piece 1, step 3, plainRowsBetween: Write a number from 0 to 4.'],
    ['pieces.0.sections.3.do', 'fold', 'In piece 1, step 4: This step is not one that is known'],
    ['lengths.width.sum', 'ballGirth', 'In lengths, width, sum: Write a list in square brackets.'],
    ['joins.0.takes', 'half', 'In seam 1, takes: Write a number.'],
    ['checks.0.over', 'knee', 'In check 1, over: Write one of: footLength'],
    ['colour', 'red', 'There is no place here for colour.'],
    // What only knitting it shows.
    ['lengths.width.sum', [], 'In lengths, width: A length is the sum of at least one thing.'],
    ['joins.0.fold', 'foot.heel', 'In joins, heel: There is no edge called foot.heel.'],
    ['settings.seamShare', 'x', 'In settings, seamShare: Write a number.'],
  ])('%s = %j has its sentence and place', (path, value, sentence) => {
    expect(messagesOf(changed(path, value)).join('\n')).toContain(sentence);
  });

  it('names a fault once, and says no more than thirty', () => {
    const many = { ...twoPieceSlipper, joins: Array.from({ length: 38 }, () => ({})) };
    const messages = messagesOf(JSON.stringify(many));
    expect(messages).toHaveLength(30);
    expect(messages[0]).toBe('In seam 1, name: This is missing.');
  });
});
