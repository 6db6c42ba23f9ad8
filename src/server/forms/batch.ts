import type { ColoursByRole } from '#core/batch/lines.ts';
import { type Day, isDay } from '#core/shared/calendar.ts';
import { hashText } from '#core/shared/hash.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import { persons } from '#core/sizing/foot.ts';
import { sizeSystems, systemsFor } from '#core/sizing/labels.ts';
import type { StockEntry } from '#flows/batch/add-stock.ts';
import type { StartWish } from '#flows/batch/start-batch.ts';
import type { PairStep } from '#flows/batch/step-pair.ts';
import { type FormBody, readFields, textOf } from '#server/forms/fields.ts';

/** All values of a name that came more than once. */
function allOf(body: FormBody, name: string): string[] {
  const value = body[name];
  const list = Array.isArray(value) ? value : value === undefined ? [] : [value];
  return list.filter((each) => typeof each === 'string');
}

/** How orders are chosen: every one, those due by a day, or one by one. */
export const startWays = ['all', 'due', 'ticked'] as const;

/** Which orders a form wants started. A long list is ticked page by page: what is ticked on other pages is kept. */
export type StartChoice = {
  readonly way: (typeof startWays)[number];
  readonly due: string;
  readonly ticked: ReadonlySet<number>;
  readonly withSpares: boolean;
  readonly name: string;
};

/** An order that can be chosen. */
export type OrderToChoose = { readonly id: number; readonly dueDay: Day | null };

/** A choice as it was typed; a form that does not say how is one that ticks. */
export function startChoiceIn(body: FormBody): StartChoice {
  const ids = [...allOf(body, 'order'), ...textOf(body, 'kept').split(' ')].filter((id) => /^\d{1,15}$/.test(id));
  return {
    way: startWays.find((way) => way === textOf(body, 'way')) ?? 'ticked',
    due: textOf(body, 'due').trim(),
    ticked: new Set(ids.map(Number)),
    withSpares: readFields(body).check('spares'),
    name: textOf(body, 'name'),
  };
}

/** The orders that a choice means. */
export function chosenOrders({ way, due, ticked }: StartChoice, orders: readonly OrderToChoose[]): number[] {
  const isChosen = ({ id, dueDay }: OrderToChoose) =>
    way === 'all' || (way === 'due' ? dueDay !== null && isDay(due) && dueDay <= due : ticked.has(id));
  return orders.filter(isChosen).map(({ id }) => id);
}

/** A name for what a form shows would be started. */
export function nameOfShown(orderIds: readonly number[], withSpares: boolean): string {
  return hashText(`${orderIds.toSorted((a, b) => a - b).join(' ')} ${withSpares}`);
}

export function parseStart(body: FormBody, orders: readonly OrderToChoose[]): Result<StartWish> {
  const fields = readFields(body);
  const name = fields.text('name', { sentence: 'Enter a name for the batch, like Winter fair' });
  const choice = startChoiceIn(body);
  if (choice.way === 'due') fields.day('due', { sentence: 'Enter the last due day, like 2026-12-24' });
  const chosen = chosenOrders(choice, orders);
  const withSpares = fields.check('spares');
  const isAsked = choice.way === 'due' && !isDay(choice.due);
  if (chosen.length === 0 && !withSpares && !isAsked) fields.say('order', 'Choose at least one order to start.');
  const revision = Number(/^\d{1,15}$/.exec(textOf(body, 'revision'))?.[0] ?? '-1');
  return fields.result(() => ({ name, orderIds: chosen, withSpares, revision }));
}

const leavings = ['handed over', 'sold', 'given', 'lost'] as const;
const plainSteps = ['finish', 'go on', 'rip out', 'second', 'good', 'let go', 'come back'] as const;

/** What was pressed: `finish`, `rip out`, `leave sold`, `done foot`, `begun sewing up`. */
export function parseStep(body: FormBody): Result<PairStep> {
  const text = textOf(body, 'step');
  const plain = plainSteps.find((step) => step === text);
  if (plain) return succeed({ do: plain });
  const left = leavings.find((each) => text === `leave ${each}`);
  if (left) return succeed({ do: 'leave', left });
  const piece = /^(begun|done) (.{1,200})$/.exec(text);
  if (piece) return succeed({ do: 'piece', piece: piece[2]!, stage: piece[1] as 'begun' | 'done' });
  return refuse({ code: 'noStep', path: 'step', message: 'Press one of the buttons of the pair.' });
}

/** The part of a page's address that a press comes from; the finished pairs where it is none of ours. */
export function backIn(text: string): string {
  const ours = /^\/(cards\/pair\/\d{1,15}|batch\/(stock|started\/\d+)(\?(print=yes&)?page=\d{1,7}|\?print=yes)?)$/;
  return ours.test(text) ? text : '/batch/stock';
}

type ColourLots = {
  readonly colour: { readonly id: number; readonly name: string };
  readonly lots: readonly { readonly id: number }[];
};

/** What each colour of a pair was knitted from: a lot, or null for yarn that is not on the shelf. */
export function parseYarnFrom(
  body: FormBody,
  colours: readonly ColourLots[],
): Result<ReadonlyMap<number, number | null>> {
  const fields = readFields(body);
  const from = colours.map(({ colour, lots }) => {
    const choices = [...lots.map(({ id }) => String(id)), 'elsewhere'];
    const sentence = `Choose what the ${colour.name} was knitted from`;
    const chosen = fields.choice(`yarn-${colour.id}`, choices, { sentence });
    return [colour.id, chosen === 'elsewhere' ? null : Number(chosen)] as const;
  });
  return fields.result(() => new Map(from));
}

export type StockNames = {
  readonly styles: readonly { readonly id: number; readonly roles: readonly string[] }[];
  readonly colours: readonly { readonly id: number; readonly strands: number }[];
};

export function parseStock(body: FormBody, { styles, colours }: StockNames): Result<StockEntry> {
  const fields = readFields(body);
  const need = (name: string, value: number | null, sentence: string): number => {
    if (value === null && !fields.problems.some(({ path }) => path === name)) fields.say(name, `${sentence}.`);
    return value ?? 0;
  };
  const styleIds = styles.map(({ id }) => id);
  const styleId = need('style', fields.optionalId('style', styleIds, { sentence: 'Choose a style' }), 'Choose a style');
  const person = fields.choice('person', persons, { sentence: 'Choose whose size it is' });
  const system = fields.choice('system', sizeSystems, { sentence: 'Choose the system of the size' });
  const label = fields.text('label', { sentence: 'Enter the size, like 38', most: 20 });
  if (!systemsFor(person).includes(system)) fields.say('system', 'This system needs to know whose size it is.');
  const quantity = fields.number('quantity', {
    sentence: 'Enter how many pairs, like 2',
    least: 1,
    most: 999,
    isWhole: true,
  });
  const cuff = fields.choice('cuff', ['short', 'none'] as const, { sentence: 'Choose the cuff' });
  const fit = fields.choice('fit', ['usual', 'snug', 'roomy'] as const, { sentence: 'Choose the fit' });
  const quality = fields.choice('quality', ['good', 'second'] as const, { sentence: 'Choose good or with a flaw' });
  const roles = styles.find(({ id }) => id === styleId)?.roles ?? [];
  const colourIds = colours.map(({ id }) => id);
  const chosen = roles.map((role, index) => {
    const name = `colour-${role}`;
    const id = fields.optionalId(name, colourIds, { sentence: 'Choose a colour' });
    return index === 0 ? need(name, id, 'Choose a colour') : id;
  });
  const strandsOf = new Map(colours.map(({ id, strands }) => [id, strands]));
  return fields.result(() => ({
    styleId,
    person,
    system,
    label,
    fit,
    quality,
    quantity,
    cuffHeightMm: cuff === 'none' ? 0 : null,
    colours: Object.fromEntries(
      roles.map((role, index) => {
        const id = chosen[index] ?? chosen[0]!;
        return [role, Array<number>(strandsOf.get(id) ?? 1).fill(id)];
      }),
    ) satisfies ColoursByRole,
  }));
}
