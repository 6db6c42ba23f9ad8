import fc from 'fast-check';
import { expect } from 'vitest';
import { listLineColours, listLines, listOrders } from '#db/stores/orders.ts';
import { readState } from '#db/stores/workshop.ts';
import { filledForm, type OrdersWorkshop, openOrdersWorkshop } from '#tests/server/orders-workshop.ts';
import { postForm } from '#tests/support/form.ts';

/** Texts that people and programs really send: empty, long, negative, exponents, other scripts, signs without a shape. */
const strange = fc.oneof(
  fc.constantFrom(
    '',
    ' ',
    '0',
    '-1',
    '1e3',
    '1,5',
    '٣',
    '½',
    '38 1/2',
    '999999999999999999999',
    'NaN',
    'null',
    '\u0000',
    'a\u0000b',
    '\u202eabc',
    '👟',
    '\ufeff',
    '"',
    "'; drop table orders; --",
    '<script>',
    '\r\n',
    '2026-02-30',
    '0000-00-00',
    '9999-12-31',
    '../..',
    '%00',
  ),
  fc.string({ unit: 'binary', maxLength: 300 }),
  fc.integer().map(String),
  fc.double().map(String),
);

const names = [
  'by',
  'person',
  'system',
  'label',
  'unit',
  'leftLength',
  'rightLength',
  'leftBallGirth',
  'rightBallGirth',
  'leftHeelAnkleGirth',
  'rightHeelAnkleGirth',
  'age',
  'band',
  'colour-foot',
  'colour-cuff',
  'quantity',
  'cuff',
  'cuffHeight',
  'fit',
  'agreed',
  'outlet',
  'customer',
  'due',
  'reference',
  'state',
  'style',
  'version',
];
const good = fc.record(
  {
    by: fc.constantFrom('label', 'foot', 'band'),
    person: fc.constantFrom('woman', 'man', 'child', 'unknown'),
    system: fc.constantFrom('EU', 'UK', 'US', 'Japan', 'Mondopoint'),
    label: fc.constantFrom('38', '5', '24.5', '245', '10½'),
    leftLength: fc.constantFrom('24.5', '18', '27,1'),
    band: fc.constantFrom('1', '2', '3'),
    cuff: fc.constantFrom('short', 'turned down', 'none', 'height'),
    cuffHeight: fc.constantFrom('6', '1', '30', '0.5'),
    fit: fc.constantFrom('snug', 'usual', 'roomy'),
    quantity: fc.constantFrom('1', '2', '999'),
    customer: fc.constantFrom('Ana', ' ana', 'Bo'),
    reference: fc.constantFrom('A-1', '', 'B-2'),
    due: fc.constantFrom('', '2026-12-12', '2024-02-29'),
  },
  { requiredKeys: [] },
);

/** A form as it is filled in, with some fields left out, good, or strange. */
export const orderForms = fc.record({
  good,
  strange: fc.dictionary(fc.constantFrom(...names), strange, { maxKeys: 3 }),
  without: fc.subarray(names, { maxLength: 2 }),
});

const cell = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.constantFrom(
      'EU 38',
      'woman EU 39',
      'foot 24.5 cm',
      'M',
      '36/37',
      'Oat',
      'Heather',
      'Cream',
      'Gifts',
      'Winter fair',
      '2',
      '2026-12-12',
      'Ana',
      'short',
      'usual',
      'woman',
    ),
  },
  { weight: 1, arbitrary: strange },
);
const heading = fc.constantFrom(
  'customer',
  'reference',
  'outlet',
  'due',
  'style',
  'person',
  'size',
  'yarn',
  'foot colour',
  'cuff colour',
  'cuff',
  'fit',
  'quantity',
  'price',
);
const goodRow = fc.tuple(
  fc.constantFrom('', 'Ana', 'Bo'),
  fc.constantFrom('EU 38', 'woman EU 39', 'foot 24.5 cm', 'woman M', '36/37'),
  fc.constantFrom('Oat', 'Heather', 'Cream'),
  fc.constantFrom('Gifts', 'By order'),
  fc.constantFrom('1', '2', '40'),
);

/** Tables: good, nearly good, of random cells, or no table at all. */
export const orderTables = fc.oneof(
  fc
    .array(goodRow, { minLength: 1, maxLength: 5 })
    .map((rows) => ['customer,size,foot colour,outlet,quantity', ...rows.map((row) => row.join(','))].join('\n')),
  fc
    .tuple(
      fc.array(heading, { maxLength: 8 }),
      fc.array(fc.array(cell, { maxLength: 9 }), { maxLength: 6 }),
      fc.constantFrom(',', ';', '\t'),
      fc.constantFrom('\n', '\r\n', '\r'),
    )
    .map(([head, rows, separator, end]) => [head, ...rows].map((row) => row.join(separator)).join(end)),
  fc.string({ unit: 'binary', maxLength: 400 }),
);

async function readCounts({ workshop }: OrdersWorkshop) {
  return await workshop.store.read(async (db) => ({ orders: await listOrders(db), ...(await readState(db)) }));
}

/** An order with every line in its colours: nothing of it is missing. */
async function expectWhole({ workshop, app }: OrdersWorkshop, orderId: number): Promise<void> {
  const [lines, colours] = await workshop.store.read(async (db) => [
    await listLines(db, orderId),
    await listLineColours(db, orderId),
  ]);
  expect(lines.length).toBeGreaterThan(0);
  for (const line of lines) {
    expect(new Set(colours.filter((colour) => colour.lineId === line.id).map((colour) => colour.role))).toEqual(
      new Set(['foot', 'cuff']),
    );
    expect((await app.request(`/orders/lines/${line.id}/edit`)).status).toBe(200);
  }
  expect((await app.request(`/orders/${orderId}`)).status).toBe(200);
}

/** Sends one form: it is stored whole, or refused with nothing stored; never anything else. */
export async function checkOrderForm(
  opened: OrdersWorkshop,
  input: typeof orderForms extends fc.Arbitrary<infer T> ? T : never,
) {
  const before = await readCounts(opened);
  const fields: Record<string, string> = { ...filledForm(opened), ...input.good, ...input.strange };
  for (const name of input.without) delete fields[name];
  const answer = await postForm(opened.app, '/orders', fields);
  const after = await readCounts(opened);
  if (answer.status === 422) {
    expect(await answer.text()).toContain('Please look at this again');
    expect(after.revision).toBe(before.revision);
    return;
  }
  expect(answer.status).toBe(303);
  expect(after.orders.length).toBe(before.orders.length + 1);
  await expectWhole(opened, Number(answer.headers.get('location')!.split('/').at(-1)));
}

/** Imports one table: all of it is stored, or nothing. */
export async function checkOrderTable(opened: OrdersWorkshop, text: string) {
  const before = await readCounts(opened);
  const answer = await postForm(opened.app, '/orders/import', { text });
  const after = await readCounts(opened);
  if (answer.status === 303) {
    const importId = Number(answer.headers.get('location')!.split('=').at(-1));
    const added = after.orders.filter((order) => order.importId === importId);
    expect(added.length).toBeGreaterThan(0);
    expect(after.orders.length).toBe(before.orders.length + added.length);
    for (const order of added) await expectWhole(opened, order.id);
    return;
  }
  expect([409, 422]).toContain(answer.status);
  expect(after.revision).toBe(before.revision);
}

const runsInOneWorkshop = 250;

/** Runs a check on many inputs, a new workshop every so often so that its plan stays small. */
export async function checkMany<T>(
  arbitrary: fc.Arbitrary<T>,
  check: (opened: OrdersWorkshop, input: T) => Promise<void>,
  runs: number,
): Promise<void> {
  for (let done = 0; done < runs; done += runsInOneWorkshop) {
    const opened = await openOrdersWorkshop();
    try {
      await fc.assert(
        fc.asyncProperty(arbitrary, (input) => check(opened, input)),
        { numRuns: Math.min(runsInOneWorkshop, runs - done), seed: 20261125 + done },
      );
    } finally {
      await opened.workshop.discard();
    }
  }
}
