import { afterEach, beforeEach, expect, it } from 'vitest';
import { filledForm, type OrdersWorkshop, openOrdersWorkshop } from '#tests/server/orders-workshop.ts';
import { postForm } from '#tests/support/form.ts';
import { addKnitter, addLot, addYarn, addYarnColour } from '#tests/support/workshop.ts';

let opened: OrdersWorkshop;
let attic: number;
beforeEach(async () => {
  opened = await openOrdersWorkshop();
  attic = await opened.workshop.store.write('test: a yarn that nobody knows', async (tx) => {
    await addKnitter(tx, { name: 'Bram' });
    const yarn = await addYarn(tx, { name: 'Attic find', fibre: null });
    const colour = await addYarnColour(tx, { yarnId: yarn.id, name: 'Moss' });
    await addLot(tx, [100_000], { yarnColourId: colour.id });
    return colour.id;
  });
});
afterEach(() => opened.workshop.discard());

const words = 'Fibre unknown: hand wash, not for babies.';
const pages = ['/orders/1', '/orders/lines/1', '/batch', '/batch/start', '/cards/print?run=line-1-1'];
const order = (fields: Record<string, string>) => postForm(opened.app, '/orders', { ...filledForm(opened), ...fields });
const textAt = async (path: string) => (await opened.app.request(path)).text();

it('a child’s pair of unknown wool says so wherever it is looked at, in the same words', async () => {
  // Only the cuff is of it.
  await order({ person: 'child', label: '24', 'colour-cuff': String(attic) });
  for (const path of pages) expect(await textAt(path), path).toContain(words);
});

it('a grown-up’s pair of it, and a child’s of known wool, do not', async () => {
  await order({ 'colour-foot': String(attic) });
  for (const path of pages.slice(0, 4)) expect(await textAt(path), path).not.toContain('not for babies');
  await order({ person: 'child', label: '24' });
  expect(await textAt('/orders/2')).not.toContain('not for babies');
});
