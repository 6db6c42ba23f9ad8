import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { Settings } from '#core/shared/settings.ts';
import type { Workshop } from '#db/open.ts';
import type { Tx } from '#db/store.ts';
import { createKnitter, setKnitterHours } from '#db/stores/knitters.ts';
import { createOutlet } from '#db/stores/pricing.ts';
import { readWorkshop } from '#db/stores/read-workshop.ts';
import { createYarn, createYarnColour } from '#db/stores/shelf.ts';
import { setSetting } from '#db/stores/workshop.ts';
import { addFirstRows } from '#flows/begin/first-rows.ts';
import { isEmpty } from '#flows/begin/is-empty.ts';

/** Minutes of an evening, Monday first, that a new workshop is planned with: a guess, and called one on the page. */
export const guessedMinutes: readonly number[] = [60, 60, 60, 60, 60, 120, 120];
export const guessedKnitterName = 'Knitter 1';

export const notEmpty = refuse({
  code: 'notEmpty',
  path: '',
  message: 'There is something in this workshop already. Clear it first under Settings; a copy is kept.',
});

// Plain colours to begin with; the chips are to look like what their names say and can be changed.
const plainColours = [
  { name: 'Cream', swatchHex: '#efe6d2' },
  { name: 'Grey', swatchHex: '#8b8f94' },
  { name: 'Blue', swatchHex: '#3e5f8a' },
  { name: 'Red', swatchHex: '#a23b34' },
  { name: 'Green', swatchHex: '#4f7048' },
  { name: 'Brown', swatchHex: '#6f4f37' },
];

async function addPlainYarns(tx: Tx): Promise<void> {
  const usual = { fibre: null, needleMm: null, usualStitchesPer10Cm: null, ballMg: 100_000 };
  const yarns = [
    { ...usual, name: 'Bulky yarn', tex: 1000, category: 5 as const, usualStrands: 1 },
    { ...usual, name: 'Medium yarn, two strands', tex: 500, category: 4 as const, usualStrands: 2 },
  ];
  for (const values of yarns) {
    const yarn = await createYarn(tx, values);
    for (const colour of plainColours) await createYarnColour(tx, { yarnId: yarn.id, ...colour });
  }
}

async function addOutlets(tx: Tx): Promise<void> {
  // A markup of nothing asks for exactly what a pair costs: yarn, materials, running costs, and the wage once named.
  const atCost = { priceRule: 'markup' as const, priceRatio: 0 };
  await createOutlet(tx, { name: 'By order', kind: 'order', rank: 0, ...atCost });
  await createOutlet(tx, { name: 'Fair', kind: 'fair', rank: 1, ...atCost });
  await createOutlet(tx, { name: 'Gifts', kind: 'gift', rank: 2, ...atCost });
}

export type Beginning = { readonly purpose: Settings['purpose']; readonly timeZone?: string };

/**
 * Gives an empty workshop its own beginning: the styles that ship, the usual bands, one knitter with guessed hours, three
 * outlets and two plain yarns. Refused when there is anything in it.
 */
export async function beginOwn(workshop: Workshop, { purpose, timeZone }: Beginning): Promise<Result<null>> {
  if (!isEmpty(await readWorkshop(workshop))) return notEmpty;
  return await workshop.store.write('begin: our own workshop', async (tx) => {
    await addFirstRows(tx);
    const knitter = await createKnitter(tx, { name: guessedKnitterName, hand: 'usual' });
    await setKnitterHours(tx, knitter.id, guessedMinutes);
    await addOutlets(tx);
    await addPlainYarns(tx);
    await setSetting(tx, 'purpose', purpose);
    if (timeZone) await setSetting(tx, 'timeZone', timeZone);
    return succeed(null);
  });
}
