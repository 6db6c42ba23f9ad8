import { z } from 'zod';
import { type Problem, type Result, refuse, succeed } from '#core/shared/problem.ts';
import { checkStyle } from '#core/styles/check-style.ts';
import { readStyle } from '#core/styles/read-style.ts';
import type { StyleBody } from '#core/styles/style.ts';
import { bodyMeasures, sides } from '#server/forms/style-form.ts';
import { styleLimits as limits } from '#server/forms/style-limits.ts';

type Range = { readonly least: number; readonly most: number };

const missing = 'This is missing';
/** A sentence for what is of another kind, or not there. */
const kind = (words: string) => ({
  error: (issue: { readonly input?: unknown }) => (issue.input === undefined ? missing : words),
});

const text = (most = 400) => z.string(kind('Write a text in quotes')).max(most, `Use at most ${most} letters`);
const name = text(60);
const number = ({ least, most }: Range) =>
  z
    .number(kind('Write a number'))
    .min(least, `Write a number from ${least} to ${most}`)
    .max(most, `Write a number from ${least} to ${most}`);
const whole = (range: Range) => number(range).int('Write a whole number');
const factor = (range: Range) => z.union([name, number(range)], kind('Write a number or the name of a setting'));
const list = <T extends z.ZodType>(of: T, most = 40) =>
  z.array(of, kind('Write a list in square brackets')).max(most, `Use at most ${most}`).readonly();
const choice = <const T extends readonly string[]>(values: T) =>
  z.enum(values, kind(`Write one of: ${values.join(', ')}`));
const thing = <T extends z.ZodRawShape>(fields: T) =>
  z.strictObject(fields, {
    error: (issue) =>
      issue.code === 'unrecognized_keys'
        ? `There is no place here for ${issue.keys.join(' and ')}`
        : kind('Write a group in curly brackets').error(issue),
  });
const record = <T extends z.ZodType>(of: T) => z.record(name, of, kind('Write a group in curly brackets'));

const side = choice(sides as ['right side', 'wrong side']);
const edges = list(name, 12);

const stitchFields = {
  fabric: name,
  edges: whole({ least: 0, most: 2 }),
  repeat: whole(limits.repeat),
  plus: whole(limits.plus),
  least: whole(limits.leastStitches),
  raiseUntil: name.optional(),
};
const stitches = thing({ across: name.optional(), alongEdge: edges.optional(), ...stitchFields });

const rows = z.union(
  [
    thing({ count: factor(limits.rows) }),
    thing({ along: name, lessRows: list(name, 12), endAfter: side, least: whole(limits.rows) }),
  ],
  kind('Write rows as a count, or along a length with lessRows, endAfter and least'),
);

const step = { name, colour: name };
const stripes = thing({ colour: name, rows: whole({ least: 1, most: 99 }) });
const section = z.union(
  [
    thing({ ...step, do: z.literal('castOn'), next: side, stitches }),
    thing({ ...step, do: z.literal('pickUp'), next: side, stitches: thing({ alongEdge: edges, ...stitchFields }) }),
    thing({
      ...step,
      do: z.literal('work'),
      fabric: name,
      firstRow: z.literal('plain').optional(),
      rows,
      stripes: stripes.optional(),
    }),
    thing({
      ...step,
      do: z.literal('change'),
      how: z.literal('two together across'),
      repeatWhileAbove: factor(limits.rows),
      plainRowsBetween: whole({ least: 0, most: 4 }),
    }),
    thing({
      ...step,
      do: z.literal('change'),
      how: z.enum(['centre', 'edges']),
      fabric: name,
      by: whole(limits.by),
      everyRows: whole(limits.everyRows),
      to: stitches,
    }),
    thing({ ...step, do: z.literal('change'), how: z.literal('evenly'), fabric: name, to: stitches }),
    thing({ ...step, do: z.literal('drawUp') }),
    thing({ ...step, do: z.literal('bindOff'), loose: z.boolean() }),
  ],
  kind('This step is not one that is known, or a part of it is missing'),
);

const ratio = number(limits.ratio);
const check = z.union(
  [
    thing({
      name,
      edge: edges,
      stretch: number(limits.stretch),
      over: choice(bodyMeasures as ['footLength']),
      otherwise: text(200),
    }),
    thing({ name, ratio: z.tuple([edges, edges]), between: z.tuple([ratio, ratio]), otherwise: text(200) }),
  ],
  kind('Write a check as edge, stretch and over, or as ratio and between; and otherwise'),
);

const lengthPart = z.union(
  [
    thing({ of: choice(bodyMeasures as ['footLength']), times: factor(limits.factor) }),
    thing({ mm: factor(limits.mm) }),
  ],
  kind('Write a part as of and times, or as mm'),
);

const share = factor(limits.share);
const styleBody = thing({
  style: text(80).min(1, 'Give the style a name'),
  format: z.number(),
  make: z.literal(2, kind('A pair is two slippers: write 2')),
  roles: list(thing({ name, words: text(60).min(1, 'Write the word that order forms show') }), 12),
  settings: record(number(limits.setting)),
  settingsForChild: record(number(limits.setting)),
  lengths: record(thing({ sum: list(lengthPart, 12) })),
  pieces: list(thing({ name, isOptional: z.boolean(), gaugeOf: name, sections: list(section) }), 12),
  marks: list(
    thing({
      name,
      edges,
      to: z.union([share, thing({ oneLess: share }), thing({ after: name })], kind('Write a share, oneLess or after')),
      raiseUntil: name.optional(),
    }),
  ),
  joins: list(
    thing({
      name,
      fold: name.optional(),
      edges: z.tuple([edges, edges]).optional(),
      colour: name,
      takes: number(limits.takes).nullable(),
      withTail: text(60).optional(),
      place: text(120).optional(),
    }),
  ),
  checks: list(check),
});

const nouns: Readonly<Record<string, string>> = {
  pieces: 'piece',
  sections: 'step',
  roles: 'colour',
  marks: 'mark',
  joins: 'seam',
  checks: 'check',
  sum: 'part',
};

/** A place in words: `pieces, 0, sections, 2, rows` is "piece 1, step 3, rows". */
function placeWords(path: readonly PropertyKey[]): string {
  const words: string[] = [];
  for (const key of path) {
    const last = words.at(-1) ?? '';
    if (typeof key === 'number') words[words.length - 1] = `${nouns[last] ?? last} ${key + 1}`;
    else words.push(String(key));
  }
  return words.join(', ');
}

type Issue = z.core.$ZodIssue;

/** Of several forms a step may have, the one that nearly fits says best what is wrong. */
function nearest(issue: Issue): Issue[] {
  if (issue.code !== 'invalid_union' || issue.errors.length === 0) return [issue];
  const wrongKind = (issues: readonly Issue[]) =>
    issues.some((each) => ['do', 'how'].includes(String(each.path[0])) && each.path.length === 1);
  const fitting = issue.errors.filter((issues) => !wrongKind(issues) && issues.every((each) => each.path.length > 0));
  if (fitting.length !== 1) return [issue];
  return fitting[0]!.flatMap((each) => nearest({ ...each, path: [...issue.path, ...each.path] }));
}

const path = 'text';
const mostProblems = 30;

/** A style without what is not there: `undefined` is no value of the format. */
function withoutGaps(body: z.infer<typeof styleBody>): StyleBody {
  return JSON.parse(JSON.stringify(body)) as StyleBody;
}

/**
 * Reads a style from JSON text: its format, then its structure, then whether it can be knitted. Every fault is a
 * sentence with its place.
 */
export function parseStyleJson(json: string): Result<StyleBody> {
  const read = readStyle(json);
  if (!read.ok) return refuse(...read.problems.map((problem) => ({ ...problem, path })));
  const parsed = styleBody.safeParse(read.value);
  if (!parsed.success) {
    const problems = parsed.error.issues.flatMap(nearest).map((issue): Problem => {
      const place = placeWords(issue.path);
      return {
        code: 'styleShape',
        path,
        message: `${place === '' ? '' : `In ${place}: `}${issue.message}.`,
      };
    });
    return refuse(...problems.slice(0, mostProblems));
  }
  const body = withoutGaps(parsed.data);
  const faults = checkStyle(body).map((fault) => ({
    ...fault,
    path,
    message: `In ${fault.path.split('.').join(', ')}: ${fault.message}`,
  }));
  return faults.length > 0 ? refuse(...faults) : succeed(body);
}

/** A style as JSON text, to keep or to hand on. */
export function styleJson(body: StyleBody): string {
  return `${JSON.stringify(body, null, 2)}\n`;
}
