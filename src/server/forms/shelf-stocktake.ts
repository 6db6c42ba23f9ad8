import type { Problem } from '#core/shared/problem.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';
import type { Settings } from '#core/shared/settings.ts';
import type { Weighed } from '#flows/shelf/take-stock.ts';
import { type FormBody, readFields, textOf } from '#server/forms/fields.ts';
import { askAboutWeight } from '#server/forms/shelf.ts';

export const boxName = (ballId: number) => `grams-${ballId}`;
export const reasonName = (ballId: number) => `reason-${ballId}`;
export const versionName = (ballId: number) => `version-${ballId}`;

const boxes = /^grams-(\d{1,15})$/;

/** The balls in whose box something was typed; the others stay as they are. */
export function parseStocktake(
  body: FormBody,
  settings: Pick<Settings, 'unitSystem'>,
  balls: readonly { readonly id: number; readonly massMg: number; readonly wholeMg: number }[],
): {
  readonly weighed: readonly Weighed[];
  readonly problems: readonly Problem[];
  /** Questions that the form answers, to be shown again with whatever else is wrong. */
  readonly answered: readonly Problem[];
} {
  const byId = new Map(balls.map((ball) => [ball.id, ball]));
  const fields = readFields(body, undefined, settings.unitSystem);
  const ids = Object.keys(body).flatMap((name) => {
    const id = boxes.exec(name)?.[1];
    return id !== undefined && textOf(body, name).trim() !== '' ? [Number(id)] : [];
  });
  const weighed = ids.map((ballId): Weighed => {
    const [path, reasonPath] = [boxName(ballId), reasonName(ballId)];
    const grams = fields.measure(path, 'massG', {
      sentence: {
        metric: 'Enter what the scale shows in grams, like 43; 0 when nothing is left; leave it empty to pass it over',
        imperial:
          'Enter what the scale shows in ounces, like 1.5; 0 when nothing is left; leave it empty to pass it over',
      },
      least: 0,
      most: 100_000,
    });
    const book = byId.get(ballId);
    if (book && !fields.problems.some((problem) => problem.path === path)) {
      askAboutWeight(fields, path, roundHalfUp(grams * 1000), book.massMg, book.wholeMg);
    }
    const reason =
      textOf(body, reasonPath) === ''
        ? 'weighed'
        : fields.choice(reasonPath, ['weighed', 'lost'] as const, { sentence: 'Choose what a difference is' });
    const version = readFields({ version: textOf(body, versionName(ballId)) }).version();
    return { ballId, shownMg: roundHalfUp(grams * 1000), reason, version, path, reasonPath };
  });
  if (ids.length === 0) fields.say('balls', 'Enter at least one weight, or leave the page: nothing was typed.');
  return { weighed, problems: fields.problems, answered: fields.answered };
}
