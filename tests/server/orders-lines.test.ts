import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { createBatch, createBatchLine, createPair, listBatchLines } from '#db/stores/batch.ts';
import { createSwatch } from '#db/stores/gauge.ts';
import { createLine, listLineColours, listLines } from '#db/stores/orders.ts';
import { listFeet } from '#db/stores/sizing.ts';
import { filledForm, type OrdersWorkshop, openOrdersWorkshop } from '#tests/server/orders-workshop.ts';
import { postForm } from '#tests/support/form.ts';
import { addKnitter, lineOf } from '#tests/support/workshop.ts';

let opened: OrdersWorkshop;
beforeEach(async () => {
  opened = await openOrdersWorkshop();
  await post('/orders', { ...filledForm(opened), customer: 'Ana' });
});
afterEach(() => opened.workshop.discard());

const textAt = async (path: string) => await (await opened.app.request(path)).text();
const post = (path: string, fields: Record<string, string>) => postForm(opened.app, path, fields);
const linesOf = (orderId = 1) => opened.workshop.store.read((db) => listLines(db, orderId));
const feet = () => opened.workshop.store.read((db) => listFeet(db));

describe('GET /orders/lines/:id', () => {
  it('shows foot, counts, fit, yarn and price, each with the way to its working', async () => {
    const page = await textAt('/orders/lines/1');
    expect(page).toContain('1 pair of woman EU 38 in Heather');
    expect(page).toContain('24.0\u00a0cm');
    expect(page).toContain('estimated from the length');
    expect(page).toContain('Will it go on?');
    expect(page).toMatch(/opening is .* stretches to about/);
    expect(page).toContain('The gauge is a guess from the yarn.');
    for (const figure of [
      'sizing/cast-on',
      'sizing/rows',
      'sizing/mark',
      'sizing/opening',
      'timing/minutes',
      'yardage/grams',
      'pricing/cost',
    ]) {
      expect(page).toContain(`/working/${figure}/1`);
    }
    expect(page).toContain(`/working/pricing/price/1-${opened.ids.fair}`);
    expect(page).toContain('Foot, flat:');
  });

  // By hand, EU 38 at 13 stitches and 18 rows: the cuff is a row cast on, two in the foot colour and six in the cuff's.
  it('counts nine rows of the cuff as the drawing, the card and the working do, and says what each is', async () => {
    await opened.workshop.store.write('test: a swatch', (tx) =>
      createSwatch(tx, {
        ...{ yarnId: opened.ids.bulky, strands: 1, fabric: 'stocking', stitches: 13, rows: 18 },
        ...{ widthMm: 100, heightMm: 100, isWashed: true, madeDay: '2026-11-01' },
      }),
    );
    await post('/orders', { ...filledForm(opened), 'colour-cuff': String(opened.ids.oat) });
    const page = await textAt('/orders/lines/2');
    expect(page).toMatch(
      /Rows of the cuff.{0,80}the cast-on is the first; after it 2 in the foot colour, then 6 in the cuff colour/s,
    );
    expect(page).toContain('/working/sizing/cuff-rows/2');
    const rows = [...page.matchAll(/>(\d+) rows</g)].map(([, count]) => Number(count));
    expect(rows).toContain(9);
    expect(rows).not.toContain(8);
    expect(await textAt('/working/sizing/cuff-rows/2')).toContain('How 9 rows come about');
    expect(await textAt('/cards/print?run=line-2-1')).toContain('Rows 5 to 9 (5 rows, WS first)');
  });

  it('shows one pair in every hand, and all of itself in the hand that is asked for', async () => {
    const bram = await opened.workshop.store.write('test: a loose knitter', async (tx) => {
      const { id } = await addKnitter(tx, { name: 'Bram', hand: 'loose' });
      // 10 stitches in 10 cm: 0.93 x 224.5 mm = 20.88 + 1 -> 22; 14 rows: 33.6 - 2 = 31.6 -> odd 31, 33 in all.
      await createSwatch(tx, {
        knitterId: id,
        yarnId: opened.ids.bulky,
        strands: 1,
        fabric: 'stocking',
        stitches: 20,
        rows: 28,
        widthMm: 200,
        heightMm: 200,
        isWashed: true,
      });
      return id;
    });
    const usual = await textAt('/orders/lines/1');
    expect(usual).toContain('In every hand');
    expect(usual).toContain('href="/orders/lines/1?knitter=1" aria-current="page"');
    const loose = await textAt(`/orders/lines/1?knitter=${bram}`);
    expect(loose).toContain('22 stitches');
    expect(loose).toContain('33 rows');
    expect(loose).toContain('a pair at Bram’s speed');
    expect(loose).toContain(`/working/sizing/cast-on/1?knitter=${bram}`);
    expect(loose).toContain('reckoned in Ines’s hand');
    expect(loose).not.toContain('The gauge is a guess');
    expect(loose).toContain(`/knitters/swatches/first-foot?line=1&amp;knitter=${bram}`);
    // Somebody who is not here is passed over.
    expect(await textAt('/orders/lines/1?knitter=99')).toContain('href="/orders/lines/1?knitter=1" aria-current');
  });

  it('draws and counts both feet where they differ', async () => {
    await post('/orders', { ...filledForm(opened), by: 'foot', leftLength: '25', rightLength: '24' });
    const page = await textAt('/orders/lines/2');
    expect(page).toContain('The left pieces, flat');
    expect(page).toContain('The right pieces, flat');
    expect(page.match(/Foot, flat:/g)).toHaveLength(2);
  });

  it('shows an order that is only asked too, and names a cancelled one', async () => {
    await post('/orders', { ...filledForm(opened), state: 'asked', label: '41' });
    expect(await textAt('/orders/lines/2')).toContain('to cast on for a foot');
    await post('/orders/2/cancel', {});
    expect(await textAt('/orders/lines/2')).toContain('The order is cancelled');
  });

  it('shows no money for a gift, and no cuff where there is none', async () => {
    const gifts = String(opened.ids.shop + 1);
    await post('/orders', { ...filledForm(opened), outlet: gifts, cuff: 'none' });
    const page = await textAt('/orders/lines/2');
    expect(page).not.toContain('What a pair costs');
    expect(page).not.toContain('The cuff, flat');
    expect(page).toContain('no cuff');
  });
});

describe('POST /orders/:id/lines', () => {
  it('is shown with the last line’s colours, and adds a line', async () => {
    const page = await textAt('/orders/1/lines/new');
    expect(page).toMatch(new RegExp(`name="colour-foot" value="${opened.ids.heather}" checked`));
    expect(page).toMatch(/name="label"[^>]*value=""/);
    expect((await post('/orders/1/lines', { ...filledForm(opened), label: '40', quantity: '2' })).status).toBe(303);
    expect((await linesOf()).map(({ sizeLabel, quantity }) => [sizeLabel, quantity])).toEqual([
      ['38', 1],
      ['40', 2],
    ]);
  });

  it('keeps what was typed when something is wrong', async () => {
    const answer = await post('/orders/1/lines', { ...filledForm(opened), label: 'small', fit: 'roomy' });
    expect(answer.status).toBe(422);
    const page = await answer.text();
    expect(page).toContain('value="small"');
    expect(page).toMatch(/value="roomy" checked/);
    expect(await linesOf()).toHaveLength(1);
  });
});

describe('POST /orders/lines/:id', () => {
  it('changes size and colours', async () => {
    const fields = {
      ...filledForm(opened),
      by: 'band',
      band: String(opened.ids.band),
      'colour-cuff': String(opened.ids.oat),
    };
    expect((await post('/orders/lines/1', { ...fields, version: '1' })).status).toBe(303);
    expect(await linesOf()).toMatchObject([{ bandId: opened.ids.band, sizeLabel: null, person: null, version: 2 }]);
    const colours = await opened.workshop.store.read((db) => listLineColours(db, 1));
    expect(colours.map(({ role, yarnColourId }) => [role, yarnColourId])).toEqual([
      ['cuff', opened.ids.oat],
      ['foot', opened.ids.heather],
    ]);
  });

  it('is shown as it was entered, a measured foot and a turned-down cuff too', async () => {
    const foot = {
      by: 'foot',
      leftLength: '24',
      rightLength: '24.5',
      leftHeelAnkleGirth: '31',
      cuff: 'turned down',
      agreed: '30',
    };
    await post('/orders', { ...filledForm(opened), ...foot });
    const page = await textAt('/orders/lines/2/edit');
    for (const [name, value] of Object.entries({
      leftLength: '24',
      rightLength: '24.5',
      leftHeelAnkleGirth: '31',
      agreed: '30.00',
    })) {
      expect(page).toMatch(new RegExp(`name="${name}"[^>]*value="${value}"`));
    }
    expect(page).toMatch(/value="turned down" checked/);
  });

  it('takes the right foot alone for both, and names its box where it is wrong', async () => {
    const fields = { ...filledForm(opened), by: 'foot', leftLength: '' };
    await post('/orders', { ...fields, rightLength: '24,5', rightBallGirth: '23' });
    expect(await feet()).toMatchObject([
      { leftLengthMm: 245, rightLengthMm: 245, leftBallGirthMm: 230, rightBallGirthMm: 230 },
    ]);
    await post('/orders', { ...fields, rightLength: '25', rightBallGirth: '24', leftBallGirth: '23' });
    expect((await feet())[1]).toMatchObject({ leftLengthMm: 250, leftBallGirthMm: 230, rightBallGirthMm: 240 });
    const faulty = await post('/orders', { ...fields, rightLength: '95' });
    expect(faulty.status).toBe(422);
    const page = await faulty.text();
    expect(page.match(/href="#field-rightLength"/g)).toHaveLength(1);
    expect(page).not.toContain('href="#field-leftLength"');
  });

  it('lets more pairs be typed than may be, and says how many may', async () => {
    const page = await textAt('/orders/new');
    const most = /<input[^>]*name="quantity"[^>]*>/.exec(page)![0].match(/maxlength="(\d+)"/)?.[1] ?? '99';
    expect(Number(most)).toBeGreaterThanOrEqual('100000'.length);
    const answer = await post('/orders', { ...filledForm(opened), quantity: '100000' });
    expect(answer.status).toBe(422);
    const again = await answer.text();
    expect(again).toContain('It may be from 1 to 999.');
    expect(again).toMatch(/name="quantity"[^>]*value="100000"/);
  });

  it('keeps the foot’s row while its measures are the same', async () => {
    const fields = { ...filledForm(opened), by: 'foot', leftLength: '24' };
    await post('/orders', fields);
    await post('/orders/lines/2', { ...fields, quantity: '2', version: '1' });
    expect(await feet()).toHaveLength(1);
    await post('/orders/lines/2', { ...fields, leftLength: '25', version: '2' });
    expect((await feet()).map((foot) => foot.leftLengthMm)).toEqual([240, 250]);
    expect(await linesOf(2)).toMatchObject([{ footId: 2, quantity: 1 }]);
  });

  it('takes, shows and takes away a second colour held together', async () => {
    const { cream, style } = opened.ids;
    const ink = cream + 3;
    const strands = ['foot', 'cuff'].flatMap((role) => [
      { role, strand: 0, yarnColourId: cream },
      { role, strand: 1, yarnColourId: ink },
    ]);
    await opened.workshop.store.write('test', (tx) => createLine(tx, 1, { ...lineOf(style, cream), colours: strands }));
    const idsOf = async (lineId: number, orderId = 1) =>
      (await opened.workshop.store.read((db) => listLineColours(db, orderId)))
        .filter((colour) => colour.lineId === lineId)
        .map((colour) => colour.yarnColourId);
    expect(await textAt('/orders/lines/2/edit')).toMatch(new RegExp(`name="with-foot".*value="${ink}" selected`));
    const fields = { ...filledForm(opened), 'colour-foot': String(cream), 'with-foot': String(ink), quantity: '5' };
    await post('/orders/lines/2', { ...fields, version: '1' });
    expect(await idsOf(2)).toEqual([cream, ink, cream, ink]);
    // Another order like it has both colours too.
    expect(await textAt('/orders/new?like=2')).toContain('name="like" value="2"');
    await post('/orders', { ...fields, like: '2' });
    expect(await idsOf(3, 2)).toEqual([cream, ink, cream, ink]);
    await post('/orders/lines/2', { ...fields, 'colour-foot': String(opened.ids.oat), version: '2' });
    // A bulky strand and a medium one.
    expect(await idsOf(2)).toEqual([opened.ids.oat, ink, opened.ids.oat, ink]);
    await post('/orders', { ...fields, 'with-foot': '', like: '99' });
    expect(await idsOf(4, 3)).toEqual([cream, cream, cream, cream]);
  });

  it('keeps three strands of several colours, for which there is no field, while the first stays', async () => {
    const { cream, style } = opened.ids;
    const ink = cream + 3;
    const colours = ['foot', 'cuff'].flatMap((role) =>
      [cream, cream, ink].map((yarnColourId, strand) => ({ role, strand, yarnColourId })),
    );
    await opened.workshop.store.write('test', (tx) => createLine(tx, 1, { ...lineOf(style, cream), colours }));
    expect(await textAt('/orders/lines/2/edit')).toContain('This is Cream held with Cream and Ink');
    const fields = { ...filledForm(opened), 'colour-foot': String(cream), quantity: '5', version: '1' };
    await post('/orders/lines/2', fields);
    const kept = await opened.workshop.store.read((db) => listLineColours(db, 1));
    expect(kept.filter((colour) => colour.lineId === 2)).toHaveLength(6);
  });

  it('asks for the colour that another is to be held with', async () => {
    const answer = await post('/orders/1/lines', { ...filledForm(opened), 'with-cuff': String(opened.ids.cream) });
    expect(answer.status).toBe(422);
    expect(await answer.text()).toContain('Choose a colour for the cuff first');
  });

  it('refuses what is wrong and keeps what was typed, version and all', async () => {
    const answer = await post('/orders/lines/1', { ...filledForm(opened), quantity: 'many', version: '1' });
    expect(answer.status).toBe(422);
    const page = await answer.text();
    expect(page).toContain('value="many"');
    expect(page).toContain('name="version" value="1"');
    expect(await linesOf()).toMatchObject([{ quantity: 1, version: 1 }]);
  });

  it('shows the change somebody else made and keeps one’s own', async () => {
    await post('/orders/lines/1', {
      ...filledForm(opened),
      quantity: '4',
      'colour-foot': String(opened.ids.oat),
      version: '1',
    });
    const answer = await post('/orders/lines/1', { ...filledForm(opened), quantity: '2', version: '1' });
    expect(answer.status).toBe(409);
    const page = await answer.text();
    expect(page).toContain('now “4”, yours “2”');
    expect(page).toContain('now “Oat”, yours “Heather”');
    expect(page).toContain('name="version" value="2"');
    expect(await linesOf()).toMatchObject([{ quantity: 4 }]);
  });

  it('is not there for a line that is gone', async () => {
    expect((await post('/orders/lines/9', filledForm(opened))).status).toBe(404);
    expect((await post('/orders/lines/9/remove', {})).status).toBe(404);
  });
});

describe('POST /orders/lines/:id/remove', () => {
  it('removes a line, also out of the batch being gathered', async () => {
    await opened.workshop.store.write('test', async (tx) => {
      const batch = await createBatch(tx, { name: 'Batch 1', state: 'gathering', startedMs: null });
      await createBatchLine(tx, { batchId: batch.id, lineId: 1, quantity: 1 });
    });
    expect(await textAt('/orders/1')).toContain('1 in the batch');
    expect((await post('/orders/lines/1/remove', { version: '1' })).headers.get('location')).toBe('/orders/1');
    expect(await linesOf()).toEqual([]);
    expect(await opened.workshop.store.read((db) => listBatchLines(db))).toEqual([]);
    expect(await textAt('/orders/1')).toContain('This order has no lines');
  });

  it('leaves a line of which a pair was begun, and says what to do instead', async () => {
    await opened.workshop.store.write('test', (tx) =>
      createPair(tx, { lineId: 1, styleVersionId: 1, kind: 'x', specJson: '{}', rank: 0 }),
    );
    const answer = await post('/orders/lines/1/remove', { version: '1' });
    expect(answer.status).toBe(409);
    expect(await answer.text()).toContain('Pairs of this line were begun, so it stays.');
    expect(await linesOf()).toHaveLength(1);
    const colours = await opened.workshop.store.read((db) => listLineColours(db, 1));
    expect(colours).toHaveLength(2);
  });

  it('does nothing against an older version', async () => {
    await post('/orders/lines/1', { ...filledForm(opened), quantity: '2', version: '1' });
    expect((await post('/orders/lines/1/remove', { version: '1' })).status).toBe(409);
    expect(await linesOf()).toHaveLength(1);
  });
});
