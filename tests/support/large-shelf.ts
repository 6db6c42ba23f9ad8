import { twoPieceSlipper } from '#core/styles/shipped/two-piece-slipper.ts';
import type { Workshop } from '#db/open.ts';
import { addKnitter, addLot, addOutlet, addStyle, addYarn, addYarnColour } from '#tests/support/workshop.ts';

const sizes = ['36', '37', '38', '39', '40', '41', '42'];

/**
 * A shelf whose most pairs are not counted at once: fourteen colours in eighteen lots, no orders.
 *
 * @returns what to ask of it: two of each size at least and fifteen at most, in any two colours
 */
export async function addLargeShelf({ store }: Workshop): Promise<Readonly<Record<string, string | string[]>>> {
  const colours = 14;
  let state = 7;
  const chance = (least: number, most: number) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return least + Math.floor((state / 2 ** 32) * (most - least + 1));
  };
  const ids = await store.write('test: a large shelf', async (tx) => {
    await addStyle(tx, twoPieceSlipper);
    const yarn = await addYarn(tx, { name: 'Fell Bulky', needleMm: 7 });
    await addKnitter(tx, { name: 'Ilka' });
    await addOutlet(tx, { name: 'Gifts', kind: 'gift' });
    const made: string[] = [];
    for (let colour = 0; colour < colours; colour += 1)
      made.push(String((await addYarnColour(tx, { yarnId: yarn.id, name: `Shade ${colour + 1}` })).id));
    for (let lot = 0; lot < 18; lot += 1)
      await addLot(tx, [chance(30_000, 1_200_000)], { yarnColourId: Number(made[lot % colours]) });
    return made;
  });
  return {
    ...{ person: 'woman', system: 'EU', sizes: '36-42', asked: ['foot', 'cuff'], together: 'two', leave: 'begun' },
    ...{ 'use-foot': ids, 'use-cuff': ids },
    ...Object.fromEntries(sizes.flatMap((size) => [[`least-${size}`, '2'] as const, [`most-${size}`, '15'] as const])),
  };
}
