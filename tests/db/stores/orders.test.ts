import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import {
  changeLine,
  changeOrder,
  createCustomer,
  createImport,
  createLine,
  createOrders,
  findImport,
  findOrder,
  findOrderByReference,
  listLineColours,
  listLines,
  listOpenLineColours,
  listOpenLines,
  listOpenOrders,
  listOrders,
  removeLine,
} from '#db/stores/orders.ts';
import {
  addOrder,
  addOutlet,
  addStyle,
  addYarnColour,
  lineOf,
  openTestWorkshop,
  type TestWorkshop,
} from '#tests/support/workshop.ts';

let workshop: TestWorkshop;
let styleId: number;
let oat: number;
let moss: number;
beforeEach(async () => {
  workshop = await openTestWorkshop();
  await workshop.store.write('test', async (tx) => {
    styleId = (await addStyle(tx)).id;
    oat = (await addYarnColour(tx)).id;
    moss = (await addYarnColour(tx)).id;
  });
});
afterEach(() => workshop.discard());

describe('createOrders', () => {
  test('numbers on from the last, and each line gets its own colours', async () => {
    await workshop.store.write('test', (tx) => addOrder(tx, { lines: [lineOf(styleId, oat)] }));
    const added = await workshop.store.write('test', async (tx) => {
      const outlet = await addOutlet(tx);
      const order = { outletId: outlet.id, state: 'asked' as const, createdDay: '2026-11-25' };
      return await createOrders(tx, [
        { ...order, lines: [lineOf(styleId, oat), lineOf(styleId, moss, { quantity: 3 })] },
        { ...order, lines: [] },
        { ...order, lines: [lineOf(styleId, moss)] },
      ]);
    });
    expect(added.map((order) => order.number)).toEqual([2, 3, 4]);
    const read = async (orderId: number) => {
      const lines = await workshop.store.read((db) => listLines(db, orderId));
      const colours = await workshop.store.read((db) => listLineColours(db, orderId));
      return lines.map((line) => [
        line.quantity,
        colours.filter((colour) => colour.lineId === line.id).map((colour) => colour.yarnColourId),
      ]);
    };
    expect(await read(added[0]!.id)).toEqual([
      [1, [oat]],
      [3, [moss]],
    ]);
    expect(await read(added[1]!.id)).toEqual([]);
    expect(await read(added[2]!.id)).toEqual([[1, [moss]]]);
  });

  test('a line in the middle that will not do leaves no order at all', async () => {
    await expect(
      workshop.store.write('test', (tx) =>
        addOrder(tx, { lines: [lineOf(styleId, oat), lineOf(styleId, oat, { quantity: 0 })] }),
      ),
    ).rejects.toThrow();
    expect(await workshop.store.read((db) => listOrders(db))).toEqual([]);
  });
});

describe('lists', () => {
  test('orders come by due day, those without one last, then by number', async () => {
    for (const dueDay of ['2026-12-20', null, '2026-12-01', '2026-12-20']) {
      await workshop.store.write('test', (tx) => addOrder(tx, { dueDay, lines: [] }));
    }
    expect((await workshop.store.read((db) => listOrders(db))).map((order) => order.number)).toEqual([3, 1, 4, 2]);
  });

  test('a cancelled order stays, and leaves the open orders, lines and colours', async () => {
    const [kept, cancelled] = await workshop.store.write('test', async (tx) => [
      await addOrder(tx, { lines: [lineOf(styleId, oat)] }),
      await addOrder(tx, { lines: [lineOf(styleId, moss)] }),
    ]);
    await workshop.store.write('test', (tx) => changeOrder(tx, cancelled!.id, { state: 'cancelled' }, 1));
    const open = await workshop.store.read((db) =>
      db.batch([listOpenOrders(db), listOpenLines(db), listOpenLineColours(db)]),
    );
    expect(open.map((rows) => rows.length)).toEqual([1, 1, 1]);
    expect(open[0][0]!.id).toBe(kept!.id);
    expect(open[2][0]!.yarnColourId).toBe(oat);
    expect(await workshop.store.read((db) => findOrder(db, cancelled!.id))).toMatchObject({ state: 'cancelled' });
    expect(await workshop.store.read((db) => listLines(db, cancelled!.id))).toHaveLength(1);
  });
});

describe('changeLine', () => {
  test('colours given are the only ones afterwards; without any they stay', async () => {
    const order = await workshop.store.write('test', (tx) => addOrder(tx, { lines: [lineOf(styleId, oat)] }));
    const [line] = await workshop.store.read((db) => listLines(db, order.id));
    const colours = [
      { role: 'foot', strand: 0, yarnColourId: moss },
      { role: 'cuff', strand: 0, yarnColourId: oat },
    ];
    const changed = await workshop.store.write('test', (tx) =>
      changeLine(tx, line!.id, { quantity: 2, colours }, line!.version),
    );
    expect(changed).toMatchObject({ quantity: 2, version: 2 });
    await workshop.store.write('test', (tx) => changeLine(tx, line!.id, { quantity: 5 }));
    const stored = await workshop.store.read((db) => listLineColours(db, order.id));
    expect(stored.map(({ role, strand, yarnColourId }) => ({ role, strand, yarnColourId }))).toEqual([
      { role: 'cuff', strand: 0, yarnColourId: oat },
      { role: 'foot', strand: 0, yarnColourId: moss },
    ]);
  });
});

describe('removeLine', () => {
  test('takes the line and its colours, and no other', async () => {
    const order = await workshop.store.write('test', (tx) => addOrder(tx, { lines: [lineOf(styleId, oat)] }));
    const line = await workshop.store.write('test', (tx) => createLine(tx, order.id, lineOf(styleId, moss)));
    await workshop.store.write('test', (tx) => removeLine(tx, line.id, line.version));
    expect(await workshop.store.read((db) => listLines(db, order.id))).toHaveLength(1);
    expect((await workshop.store.read((db) => listLineColours(db, order.id))).map((row) => row.yarnColourId)).toEqual([
      oat,
    ]);
  });

  test('against an old version: a conflict, and the colours are still there', async () => {
    const order = await workshop.store.write('test', (tx) => addOrder(tx, { lines: [lineOf(styleId, oat)] }));
    const [line] = await workshop.store.read((db) => listLines(db, order.id));
    await workshop.store.write('test', (tx) => changeLine(tx, line!.id, { quantity: 9 }));
    await expect(workshop.store.write('test', (tx) => removeLine(tx, line!.id, 1))).rejects.toMatchObject({
      code: 'conflict',
      current: { quantity: 9 },
    });
    expect(await workshop.store.read((db) => listLineColours(db, order.id))).toHaveLength(1);
  });
});

describe('findOrderByReference', () => {
  test('finds an order of that customer that is not cancelled', async () => {
    const { customer, order } = await workshop.store.write('test', async (tx) => {
      const customer = await createCustomer(tx, { name: 'Ines' });
      return {
        customer,
        order: await addOrder(tx, { customerId: customer.id, reference: 'A 12', lines: [] }),
      };
    });
    const find = (customerId: number, reference: string) =>
      workshop.store.read((db) => findOrderByReference(db, customerId, reference));
    expect((await find(customer.id, 'A 12'))?.id).toBe(order.id);
    expect(await find(customer.id, 'A 13')).toBeNull();
    expect(await find(customer.id + 1, 'A 12')).toBeNull();
    await workshop.store.write('test', (tx) => changeOrder(tx, order.id, { state: 'cancelled' }));
    expect(await find(customer.id, 'A 12')).toBeNull();
  });
});

describe('createImport', () => {
  test('the same content is found again, and is not taken twice', async () => {
    const file = { contentHash: 'abc', fileName: 'orders.csv' };
    await workshop.store.write('test', (tx) => createImport(tx, file));
    expect(await workshop.store.read((db) => findImport(db, 'abc'))).toMatchObject(file);
    expect(await workshop.store.read((db) => findImport(db, 'abd'))).toBeNull();
    await expect(workshop.store.write('test', (tx) => createImport(tx, file))).rejects.toMatchObject({
      code: 'conflict',
    });
  });
});
