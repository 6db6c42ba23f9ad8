import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createClient } from '@libsql/client';
import type { StyleBody } from '#core/styles/style.ts';
import { openWorkshop, type Workshop } from '#db/open.ts';
import type { Tx } from '#db/store.ts';
import { createOffer, createSupplier } from '#db/stores/buying.ts';
import { createKnitter, setKnitterHours } from '#db/stores/knitters.ts';
import { createOrder, type NewLine, type NewOrder } from '#db/stores/orders.ts';
import { createOutlet } from '#db/stores/pricing.ts';
import { createBall, createLot, createYarn, createYarnColour } from '#db/stores/shelf.ts';
import { createStyle } from '#db/stores/styles.ts';

export type TestWorkshop = Workshop & {
  readonly folder: string;
  readonly file: string;
  /** Closes the workshop and takes its folder away. */
  readonly discard: () => Promise<void>;
};

// The migrations are run once, and what they made is copied; a workshop gets its name when it is opened.
let empty: Promise<Buffer> | undefined;

async function emptyFile(): Promise<Buffer> {
  const folder = mkdtempSync(join(tmpdir(), 'workshop-'));
  const file = join(folder, 'workshop.db');
  await (await openWorkshop(`file:${file}`)).close();
  const client = createClient({ url: `file:${file}` });
  await client.executeMultiple('delete from state; pragma wal_checkpoint(truncate);');
  client.close();
  const bytes = readFileSync(file);
  rmSync(folder, { recursive: true, force: true });
  return bytes;
}

/** An empty workshop in a file of its own, with the real migrations: the log and the lock are part of what is tested. */
export async function openTestWorkshop(options: { readonly waitMs?: number } = {}): Promise<TestWorkshop> {
  const folder = mkdtempSync(join(tmpdir(), 'workshop-'));
  const file = join(folder, 'workshop.db');
  empty ??= emptyFile();
  writeFileSync(file, await empty);
  const workshop = await openWorkshop(`file:${file}`, options);
  async function discard(): Promise<void> {
    await workshop.close();
    rmSync(folder, { recursive: true, force: true });
  }
  // The very object that was opened, with more on it: copies are restored by its identity.
  return Object.assign(workshop, { folder, file, discard });
}

let count = 0;
/** A name that no other row has. */
export function nameOf(word: string): string {
  count += 1;
  return `${word} ${count}`;
}

/** A body that reads as JSON and says nothing; tests that knit take the shipped style. */
const emptyBody: StyleBody = {
  style: 'plain tube',
  format: 1,
  make: 2,
  roles: [{ name: 'foot', words: 'foot' }],
  settings: {},
  settingsForChild: {},
  lengths: {},
  pieces: [],
  marks: [],
  joins: [],
  checks: [],
};

export function addStyle(tx: Tx, body: StyleBody = emptyBody) {
  return createStyle(tx, { name: nameOf('Style'), isShipped: false, body });
}

export function addYarn(tx: Tx, values: Partial<Parameters<typeof createYarn>[1]> = {}) {
  return createYarn(tx, {
    name: nameOf('Yarn'),
    fibre: 'wool',
    tex: 1000,
    ballMg: 100_000,
    category: 5,
    usualStitchesPer10Cm: 12,
    ...values,
  });
}

/** A colour; of a yarn of its own unless `yarnId` says whose. */
export async function addYarnColour(tx: Tx, values: Partial<Parameters<typeof createYarnColour>[1]> = {}) {
  const yarnId = values.yarnId ?? (await addYarn(tx)).id;
  return await createYarnColour(tx, { yarnId, name: nameOf('Colour'), swatchHex: '#8a9a5b', ...values });
}

/** A lot with balls of the milligrams given, bought. */
export async function addLot(
  tx: Tx,
  ballsMg: readonly number[],
  values: Partial<Parameters<typeof createLot>[1]> = {},
) {
  const yarnColourId = values.yarnColourId ?? (await addYarnColour(tx)).id;
  const boughtMg = Math.max(
    1,
    ballsMg.reduce((sum, mg) => sum + mg, 0),
  );
  const lot = await createLot(tx, {
    yarnColourId,
    dyeLot: nameOf('lot'),
    gotDay: '2026-11-02',
    paidCents: 900,
    boughtMg,
    ...values,
  });
  const balls = [];
  for (const massMg of ballsMg) {
    balls.push(await createBall(tx, { lotId: lot.id, massMg, reason: 'bought', day: '2026-11-02' }));
  }
  return { lot, balls };
}

export function addSupplier(tx: Tx, values: Partial<Parameters<typeof createSupplier>[1]> = {}) {
  return createSupplier(tx, {
    name: nameOf('Supplier'),
    shippingCents: 450,
    freeFromCents: null,
    minimumCents: 0,
    deliveryDays: 4,
    rank: 0,
    ...values,
  });
}

/** A pack of a colour; of a supplier of its own unless `supplierId` says whose. */
export async function addOffer(
  tx: Tx,
  values: Partial<Parameters<typeof createOffer>[1]> & { readonly yarnColourId: number },
) {
  const supplierId = values.supplierId ?? (await addSupplier(tx)).id;
  return await createOffer(tx, {
    supplierId,
    ballMg: 100_000,
    ballsPerPack: 1,
    priceCents: 890,
    stockPacks: null,
    ...values,
  });
}

/** A knitter with an hour each evening, Monday to Friday. */
export async function addKnitter(tx: Tx, values: Partial<Parameters<typeof createKnitter>[1]> = {}) {
  const knitter = await createKnitter(tx, { name: nameOf('Knitter'), ...values });
  await setKnitterHours(tx, knitter.id, [60, 60, 60, 60, 60, 0, 0]);
  return knitter;
}

export function addOutlet(tx: Tx, values: Partial<Parameters<typeof createOutlet>[1]> = {}) {
  return createOutlet(tx, {
    name: nameOf('Outlet'),
    kind: 'fair',
    rank: 0,
    priceRule: 'margin',
    priceRatio: 0.3,
    ...values,
  });
}

/** An agreed order of lines, at an outlet of its own unless one is given. */
export async function addOrder(tx: Tx, values: Partial<NewOrder> & { readonly lines: readonly NewLine[] }) {
  const outletId = values.outletId ?? (await addOutlet(tx)).id;
  return await createOrder(tx, {
    state: 'agreed',
    createdDay: '2026-11-25',
    dueDay: '2026-12-12',
    ...values,
    outletId,
  });
}

/** One pair for a woman's 38 in one colour. */
export function lineOf(styleId: number, yarnColourId: number, values: Partial<NewLine> = {}): NewLine {
  return {
    styleId,
    person: 'woman',
    sizeSystem: 'EU',
    sizeLabel: '38',
    fit: 'usual',
    quantity: 1,
    colours: [{ role: 'foot', strand: 0, yarnColourId }],
    ...values,
  };
}
