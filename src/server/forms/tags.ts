import type { Result } from '#core/shared/problem.ts';
import type { SizeSystem } from '#core/sizing/labels.ts';
import type { TagChoices, TagPairs, TagWish } from '#flows/pricing/tags.ts';
import { type FieldReader, type FormValues, readFields } from '#server/forms/fields.ts';

export const tagParts = ['tag', 'care', 'both'] as const;
export const papers = ['a4', 'letter'] as const;
/** Systems that a tag can carry; a Mondopoint size is the length of the foot, which stands on it anyway. */
export const tagSystems = ['EU', 'UK', 'US', 'Japan'] as const satisfies readonly SizeSystem[];

export type TagPrint = {
  readonly shows: (typeof tagParts)[number];
  readonly paper: (typeof papers)[number];
  readonly workshopName: string;
};

export type TagForm = { readonly wish: TagWish; readonly print: TagPrint };

type Query = Readonly<Record<string, string[]>>;

/** What is printed at once: more would be a mistake, and a long wait. */
export const mostTags = 600;
const mostOfAKind = 200;
const mostCopies = 50;
const mostNameLetters = 60;

/** The field for how many of a kind. */
export const countField = (lineId: number): string => `count-${lineId}`;

/** What the form shows: as it was sent, or the usual for a fresh one. */
export function tagValues(query: Query, choices: TagChoices): FormValues & { readonly isSent: string } {
  const isSent = query.shows !== undefined;
  const pairs = query.pairs?.at(-1) ?? usualPairs(choices);
  const usual: FormValues = {
    pairs,
    shows: 'both',
    copies: '1',
    outlet: String(usualOutletId(pairs, choices) ?? ''),
    name: choices.workshopName,
    paper: 'a4',
    ...Object.fromEntries(choices.usualSystems.map((system) => [`system-${system}`, 'yes'])),
  };
  const sent = Object.fromEntries(Object.entries(query).map(([name, values]) => [name, values.at(-1) ?? '']));
  return { ...(isSent ? {} : usual), ...sent, isSent: isSent ? 'yes' : '' };
}

function usualPairs({ stockCount, nextCount, batches }: TagChoices): string {
  if (stockCount > 0) return 'stock';
  if (batches[0]) return `batch-${batches[0].id}`;
  return nextCount > 0 ? 'next' : 'kinds';
}

/** A tag hangs on a table, unless it is for an order: then where the order goes. */
function usualOutletId(pairs: string, { orders, outlets }: TagChoices): number | undefined {
  const order = orders.find(({ id }) => pairs === `order-${id}`);
  if (order) return outlets.find(({ id }) => id === order.outletId)?.id;
  return (outlets.find(({ kind }) => kind === 'fair') ?? outlets[0])?.id;
}

function readPairs(fields: FieldReader, choices: TagChoices): TagPairs {
  const ways = [
    'stock',
    'next',
    'kinds',
    ...choices.batches.map(({ id }) => `batch-${id}`),
    ...choices.orders.map(({ id }) => `order-${id}`),
  ];
  const way = fields.choice('pairs', ways, { sentence: 'Choose which pairs the tags are for' });
  if (way === 'stock') return { from: 'stock' };
  if (way === 'next') return { from: 'next batch' };
  if (way === 'kinds') return { from: 'kinds', counts: readCounts(fields, choices) };
  const [from, id] = way.split('-');
  return { from: from === 'batch' ? 'batch' : 'order', id: Number(id) };
}

function readCounts(fields: FieldReader, choices: TagChoices) {
  const before = fields.problems.length;
  const counts = choices.kinds.flatMap(({ lineId }) => {
    const count = fields.optionalNumber(countField(lineId), {
      sentence: 'Enter how many pairs, like 3, or leave it empty',
      least: 0,
      most: mostOfAKind,
      isWhole: true,
    });
    return count === null || count === 0 ? [] : [{ lineId, count }];
  });
  if (counts.length === 0 && fields.problems.length === before) {
    const first = choices.kinds[0];
    fields.say(
      first ? countField(first.lineId) : 'pairs',
      first
        ? 'Enter how many pairs of at least one kind, like 3, or choose other pairs above.'
        : 'There is no kind of pair yet: add an order first.',
    );
  }
  return counts;
}

/** How many pairs a choice stands for. */
function countOfPairs(pairs: TagPairs, choices: TagChoices): number {
  switch (pairs.from) {
    case 'stock':
      return choices.stockCount;
    case 'next batch':
      return choices.nextCount;
    case 'batch':
      return choices.batches.find(({ id }) => id === pairs.id)?.count ?? 0;
    case 'order':
      return choices.orders.find(({ id }) => id === pairs.id)?.count ?? 0;
    case 'kinds':
      return pairs.counts.reduce((sum, { count }) => sum + count, 0);
  }
}

/** Which tags to print, out of an address. @param isGiving leaves prices off, whatever was chosen */
export function readTagForm(query: Query, choices: TagChoices, isGiving: boolean): Result<TagForm> {
  const fields = readFields(query);
  const pairs = readPairs(fields, choices);
  const shows = fields.choice('shows', tagParts, { sentence: 'Choose tags, care cards or both' });
  const copies = fields.number('copies', {
    sentence: 'Enter how many of each, like 1',
    least: 1,
    most: mostCopies,
    isWhole: true,
  });
  const outletId = isGiving
    ? null
    : fields.optionalId(
        'outlet',
        choices.outlets.map(({ id }) => id),
        { sentence: 'Choose the outlet whose price the tag carries, or no price' },
      );
  const workshopName = fields.optionalText('name', mostNameLetters) ?? '';
  const paper = fields.choice('paper', papers, { sentence: 'Choose A4 or US letter' });
  const systems = tagSystems.filter((system) => fields.check(`system-${system}`));
  const count = countOfPairs(pairs, choices) * copies;
  if (fields.problems.length === 0 && count > mostTags) {
    fields.say('copies', `That would be ${count} tags: print at most ${mostTags} at once.`);
  }
  return fields.result(() => ({
    wish: { pairs, copies, outletId, systems },
    print: { shows, paper, workshopName },
  }));
}
