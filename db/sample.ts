import { addDays, type Day } from '#core/shared/calendar.ts';
import type { Settings } from '#core/shared/settings.ts';
import type { Tx } from '#db/store.ts';
import { createOffer, createOfferBreak, createSupplier, createSupplierBreak } from '#db/stores/buying.ts';
import { createSwatch } from '#db/stores/gauge.ts';
import { createDaysOff, createKnitter, setKnitterHours, setKnitterRates } from '#db/stores/knitters.ts';
import {
  changeOrder,
  createCustomer,
  createExtra,
  createOrder,
  createOrderExtra,
  createPayment,
  listOrders,
  type NewLine,
  type NewLineColour,
  type NewOrder,
} from '#db/stores/orders.ts';
import {
  createExpense,
  createOutlet,
  createPostageBand,
  createPriceGroup,
  createPriceSeen,
} from '#db/stores/pricing.ts';
import { createBall, createLot, createYarn, createYarnColour, moveBall } from '#db/stores/shelf.ts';
import { createFoot, type SizeBandRow } from '#db/stores/sizing.ts';
import { createMaterial, createStyleMaterial, type StyleRow } from '#db/stores/styles.ts';
import { setSetting } from '#db/stores/workshop.ts';

/**
 * The sample season: a made-up workshop to look around in. People, yarns, shops and prices are invented; every date is
 * so many days from today, with a winter fair five weeks ahead.
 */

/** The setting that marks a workshop as the sample. */
export const sampleSetting = 'isSample';

export type SampleFrame = {
  readonly today: Day;
  /** The shipped style, with roles `foot` and `cuff`. */
  readonly style: StyleRow;
  readonly bands: readonly SizeBandRow[];
};

const sampleSettings: Partial<Settings> = {
  purpose: 'sell',
  workshopName: 'Harbour Lane Slippers',
  currency: 'EUR',
  wageCentsPerHour: 900,
  runningCostsCentsPerMonth: 3000,
  plannedHoursPerMonth: 75,
};

async function addKnitters(tx: Tx, today: Day) {
  const ada = await createKnitter(tx, { name: 'Ada', hand: 'usual' });
  await setKnitterHours(tx, ada.id, [90, 90, 90, 90, 60, 180, 120]);
  const bram = await createKnitter(tx, { name: 'Bram', hand: 'loose', pairsAMonth: 6 });
  await setKnitterHours(tx, bram.id, [0, 0, 0, 0, 0, 0, 0]);
  const ines = await createKnitter(tx, { name: 'Ines', hand: 'tight', dailyCapMin: 180, words: 'american' });
  await setKnitterHours(tx, ines.id, [60, 0, 60, 0, 60, 0, 150]);
  await setKnitterRates(tx, ines.id, { stitchesPerMin: 30 });
  await createDaysOff(tx, { knitterId: ines.id, fromDay: addDays(today, 12), toDay: addDays(today, 16) });
  return { ada, bram, ines };
}

async function addYarns(tx: Tx) {
  const harbour = await createYarn(tx, {
    name: 'Harbour Bulky',
    fibre: 'wool',
    tex: 1000,
    ballMg: 100_000,
    category: 5,
    usualStrands: 1,
    needleMm: 7,
    usualStitchesPer10Cm: 13,
  });
  const meadow = await createYarn(tx, {
    name: 'Meadow Medium',
    fibre: 'wool and cotton',
    tex: 500,
    ballMg: 50_000,
    category: 4,
    usualStrands: 2,
    needleMm: 7,
    usualStitchesPer10Cm: 18,
  });
  const colour = async (yarnId: number, name: string, swatchHex: string) =>
    (await createYarnColour(tx, { yarnId, name, swatchHex })).id;
  return {
    harbour,
    meadow,
    heather: await colour(harbour.id, 'Heather', '#7d6a94'),
    oat: await colour(harbour.id, 'Oat', '#d6c49d'),
    fir: await colour(harbour.id, 'Fir', '#35543f'),
    slate: await colour(harbour.id, 'Slate', '#56616b'),
    rosehip: await colour(harbour.id, 'Rosehip', '#a5382f'),
    fog: await colour(harbour.id, 'Fog', '#b9bec2'),
    marigold: await colour(meadow.id, 'Marigold', '#dd9a2b'),
    moss: await colour(meadow.id, 'Moss', '#6f7d3c'),
    cream: await colour(meadow.id, 'Cream', '#efe6d0'),
    ink: await colour(meadow.id, 'Ink', '#2b3450'),
    poppy: await colour(meadow.id, 'Poppy', '#c8402f'),
  };
}

type SampleYarns = Awaited<ReturnType<typeof addYarns>>;
type SampleKnitters = Awaited<ReturnType<typeof addKnitters>>;

async function addSwatches(tx: Tx, today: Day, yarns: SampleYarns, { ada, bram, ines }: SampleKnitters) {
  const square = { fabric: 'stocking', needleMm: 7, widthMm: 200, heightMm: 200, isWashed: true };
  const [harbour, meadow] = [
    { yarnId: yarns.harbour.id, strands: 1 },
    { yarnId: yarns.meadow.id, strands: 2 },
  ];
  const day = (days: number) => ({ madeDay: addDays(today, days) });
  await createSwatch(tx, {
    ...square,
    ...harbour,
    ...day(-75),
    knitterId: ada.id,
    stitches: 26,
    rows: 36,
    massMg: 28_000,
  });
  await createSwatch(tx, {
    ...square,
    ...meadow,
    ...day(-40),
    knitterId: ines.id,
    stitches: 29,
    rows: 39,
    massMg: 31_000,
  });
  await createSwatch(tx, { ...square, ...meadow, ...day(-70), isWashed: false, stitches: 27, rows: 36 });
  await createSwatch(tx, {
    ...square,
    ...harbour,
    ...day(-66),
    knitterId: bram.id,
    stitches: 22,
    rows: 30,
    leftOutReason: 'the edges curled too much to measure',
  });
}

async function addShelf(tx: Tx, today: Day, yarns: SampleYarns) {
  async function lot(
    yarnColourId: number,
    got: number,
    ballsG: readonly number[],
    values: {
      dyeLot?: string;
      donor?: string;
      place?: string;
      paidCents: number;
      boughtG?: number;
      worthCents?: number;
      /** Days until the last one on which the shop takes it back, or keeps it for us. */
      atShopFor?: number;
    },
  ) {
    const { boughtG, atShopFor, ...rest } = values;
    const gotDay = addDays(today, got);
    const returnableUntilDay = atShopFor === undefined ? null : addDays(today, atShopFor);
    const sumG = ballsG.reduce((sum, grams) => sum + grams, 0);
    const { id } = await createLot(tx, {
      yarnColourId,
      gotDay,
      boughtMg: (boughtG ?? sumG) * 1000,
      returnableUntilDay,
      ...rest,
    });
    const reason = values.donor ? 'given' : 'bought';
    const balls = [];
    for (const grams of ballsG) {
      balls.push(await createBall(tx, { lotId: id, massMg: grams * 1000, reason, day: gotDay }));
    }
    return balls;
  }
  await lot(yarns.heather, -80, [100, 100, 62], { dyeLot: '114', place: 'Blue chest', paidCents: 2850, boughtG: 500 });
  await lot(yarns.heather, -20, [100, 100], { dyeLot: '127', place: 'Blue chest', paidCents: 1240 });
  await lot(yarns.fir, -60, [100, 100, 48], { dyeLot: '08', paidCents: 2500, boughtG: 500 });
  await lot(yarns.fog, -60, [100], { dyeLot: '31', paidCents: 620 });
  const oat = await lot(yarns.oat, -33, [100, 100, 100, 100], { donor: 'Tilda Crane', paidCents: 0, worthCents: 2240 });
  // A square and what was pulled back too often to knit again.
  const gone = { ballId: oat[3]!.id, day: addDays(today, -30) };
  await moveBall(tx, { ...gone, changeMg: -14_000, reason: 'used' });
  await moveBall(tx, { ...gone, changeMg: -2_000, reason: 'lost' });
  await lot(yarns.cream, -45, [50, 50, 50, 50], { dyeLot: 'C7', place: 'Wicker basket', paidCents: 1280 });
  await lot(yarns.marigold, -45, [50, 50, 22], { dyeLot: 'C9', place: 'Wicker basket', paidCents: 960, boughtG: 150 });
  // Bought for somebody who then wanted Rosehip; and a ball that the shop keeps until it is fetched.
  await lot(yarns.poppy, -9, [50, 50], { dyeLot: '206', place: 'Hall shelf', paidCents: 680, atShopFor: 5 });
  await lot(yarns.slate, -4, [100], { dyeLot: '44', place: 'at the shop', paidCents: 620, atShopFor: 10 });
}

async function addSuppliers(tx: Tx, yarns: SampleYarns) {
  const lantern = await createSupplier(tx, {
    name: 'Lanternside Yarns',
    shippingCents: 395,
    freeFromCents: 6000,
    minimumCents: 0,
    deliveryDays: 3,
    rank: 0,
  });
  const quillmoor = await createSupplier(tx, {
    name: 'Quillmoor Wool Post',
    shippingCents: 550,
    freeFromCents: 5000,
    minimumCents: 0,
    deliveryDays: 8,
    rank: 1,
  });
  const { heather, oat, fir, slate, rosehip, fog, marigold, moss, cream, ink } = yarns;
  const offer = (supplierId: number, yarnColourId: number, ballG: number, ballsPerPack: number, priceCents: number) =>
    createOffer(tx, { supplierId, yarnColourId, ballMg: ballG * 1000, ballsPerPack, priceCents });
  await createSupplierBreak(tx, { supplierId: quillmoor.id, fromCents: 4000, offRatio: 0.05 });
  for (const colour of [heather, oat, fir, slate, rosehip, fog]) {
    const single = await offer(lantern.id, colour, 100, 1, 620);
    await createOfferBreak(tx, { offerId: single.id, fromPacks: 3, priceCents: 590 });
    await offer(lantern.id, colour, 100, 5, 2850);
    // The cheaper shop has no Rosehip.
    if (colour === rosehip) continue;
    await offer(quillmoor.id, colour, 100, 1, 560);
    await offer(quillmoor.id, colour, 100, 5, 2450);
  }
  for (const colour of [marigold, moss, cream, ink]) {
    await offer(lantern.id, colour, 50, 1, 340);
    await offer(quillmoor.id, colour, 50, 1, 320);
    await offer(quillmoor.id, colour, 50, 10, 2900);
  }
}

async function addOutlets(tx: Tx) {
  const byOrder = await createOutlet(tx, {
    name: 'By order',
    kind: 'order',
    rank: 0,
    priceRule: 'markup',
    priceRatio: 0.15,
    endingCents: 0,
    depositRatio: 0.3,
  });
  const fair = await createOutlet(tx, {
    name: 'Winter fair',
    kind: 'fair',
    rank: 1,
    priceRule: 'markup',
    priceRatio: 0.05,
    feeRatio: 0.0175,
    endingCents: 50,
  });
  const shop = await createOutlet(tx, {
    name: 'Corner shop',
    kind: 'shop',
    rank: 2,
    priceRule: 'fixed',
    priceRatio: 0,
    fixedPriceCents: 4500,
    terms: 'sale or return',
    shopShareRatio: 0.35,
  });
  const gifts = await createOutlet(tx, { name: 'Gifts', kind: 'gift', rank: 3, priceRule: 'markup', priceRatio: 0 });
  return { byOrder, fair, shop, gifts };
}

async function addMaterials(tx: Tx, today: Day, styleId: number) {
  const grip = await createMaterial(tx, { name: 'Grip line for two soles', eachCents: 90 });
  const label = await createMaterial(tx, { name: 'Label', eachCents: 15 });
  await createStyleMaterial(tx, { styleId, materialId: grip.id, perPair: 1 });
  await createStyleMaterial(tx, { styleId, materialId: label.id, perPair: 1 });
  await createExpense(tx, { day: addDays(today, -14), kind: 'Table at the winter fair', cents: 4500 });
  await createExpense(tx, { day: addDays(today, -52), kind: 'Paper bags and tags', cents: 1860 });
}

async function addOrders(
  tx: Tx,
  { today, style, bands }: SampleFrame,
  yarns: SampleYarns,
  outlets: Awaited<ReturnType<typeof addOutlets>>,
) {
  const { heather, oat, fir, slate, rosehip, fog, marigold, moss, cream, ink } = yarns;
  const customer = async (name: string, contact?: string) =>
    (await createCustomer(tx, { name, contact: contact ?? null })).id;
  const alder = await customer('Mrs Alder', 'rings in the evening');
  const pell = await customer('Jonas Pell', 'jonas@pell.example');
  const quint = await customer('Rosa Quint', 'rosa@quint.example');
  const marsh = await customer('Theo Marsh');
  const dorn = await customer('Wilma Dorn', '12 Ferry Lane, Saltby');
  const brook = await customer('Selma Brook', 'selma@brook.example');
  const circle = await customer('Tuesday circle');
  const theosFoot = await createFoot(tx, {
    customerId: marsh,
    name: 'Theo',
    person: 'man',
    leftLengthMm: 271,
    rightLengthMm: 274,
    leftBallGirthMm: 256,
    rightBallGirthMm: 258,
  });

  const bulky = (foot: number, cuff = foot): readonly NewLineColour[] => [
    { role: 'foot', strand: 0, yarnColourId: foot },
    { role: 'cuff', strand: 0, yarnColourId: cuff },
  ];
  const twoStrands = (foot: readonly [number, number], cuff = foot): readonly NewLineColour[] => [
    { role: 'foot', strand: 0, yarnColourId: foot[0] },
    { role: 'foot', strand: 1, yarnColourId: foot[1] },
    { role: 'cuff', strand: 0, yarnColourId: cuff[0] },
    { role: 'cuff', strand: 1, yarnColourId: cuff[1] },
  ];
  const pairs = (
    quantity: number,
    size: Partial<NewLine>,
    colours: readonly NewLineColour[],
    more: Partial<NewLine> = {},
  ): NewLine => ({ styleId: style.id, fit: 'usual', quantity, colours, ...size, ...more });
  const label = (person: NewLine['person'], sizeSystem: string, sizeLabel: string) => ({
    person,
    sizeSystem,
    sizeLabel,
  });
  const band = (name: string, person: SizeBandRow['person'] = 'unknown') => {
    const found = bands.find((each) => each.name === name && each.person === person);
    if (!found) throw new RangeError(`addSample: no band ${person} ${name}`);
    return { bandId: found.id };
  };
  type SampleOrder = Omit<NewOrder, 'createdDay' | 'dueDay' | 'state'> & {
    created: number;
    due: number | null;
    state?: NewOrder['state'];
  };
  const order = ({ created, due, state = 'agreed', ...rest }: SampleOrder) =>
    createOrder(tx, {
      ...rest,
      state,
      createdDay: addDays(today, created),
      dueDay: due === null ? null : addDays(today, due),
    });
  const [byOrder, fair, shop, gifts] = [outlets.byOrder.id, outlets.fair.id, outlets.shop.id, outlets.gifts.id];

  // Stock for the fair, ready two days before it.
  await order({
    outletId: fair,
    created: -21,
    due: 33,
    lines: [
      pairs(2, band('35/36'), bulky(rosehip, fog)),
      pairs(3, band('37/38'), bulky(heather, oat)),
      pairs(3, band('39/40'), bulky(fir, oat)),
      pairs(1, band('41/42'), bulky(slate)),
    ],
  });
  await order({
    outletId: fair,
    created: -20,
    due: 33,
    lines: [
      pairs(2, band('25/26', 'child'), twoStrands([marigold, marigold], [cream, cream])),
      pairs(2, band('29/30', 'child'), twoStrands([moss, cream])),
    ],
  });
  // Commissions.
  await order({
    customerId: alder,
    outletId: byOrder,
    created: -12,
    due: 17,
    depositCents: 1300,
    lines: [pairs(1, label('woman', 'EU', '38'), bulky(heather, fog), { agreedCents: 4400 })],
  });
  await order({
    customerId: marsh,
    outletId: byOrder,
    created: -10,
    due: 12,
    lines: [pairs(1, { footId: theosFoot.id }, bulky(slate, fog), { fit: 'snug' })],
  });
  await order({
    customerId: pell,
    outletId: byOrder,
    created: -9,
    due: 19,
    reference: 'P-2',
    lines: [pairs(1, label('man', 'EU', '44'), bulky(fir), { cuffHeightMm: 140, agreedCents: 5600 })],
  });
  await order({
    customerId: quint,
    outletId: byOrder,
    created: -8,
    due: 18,
    lines: [
      pairs(1, label('woman', 'UK', '5'), bulky(rosehip, oat)),
      pairs(1, label('child', 'EU', '28'), twoStrands([marigold, cream])),
    ],
  });
  await order({
    customerId: dorn,
    outletId: byOrder,
    created: -6,
    due: 21,
    arriveByDay: addDays(today, 23),
    address: '12 Ferry Lane, Saltby',
    lines: [pairs(1, label('woman', 'US', '8.5'), twoStrands([ink, ink], [cream, cream]))],
  });
  await order({
    customerId: brook,
    outletId: byOrder,
    created: -1,
    due: 5,
    lines: [pairs(2, label('woman', 'Japan', '24'), bulky(rosehip), { fit: 'roomy' })],
  });
  await order({
    customerId: alder,
    outletId: byOrder,
    created: -5,
    due: null,
    lines: [pairs(1, label('man', 'EU', '42'), bulky(heather), { cuffHeightMm: 0 })],
  });
  await order({
    customerId: pell,
    outletId: byOrder,
    created: -2,
    due: 30,
    state: 'asked',
    validUntilDay: addDays(today, 12),
    lines: [pairs(2, label('man', 'EU', '45'), bulky(slate, oat))],
  });
  await order({
    customerId: dorn,
    outletId: byOrder,
    created: -15,
    due: 10,
    state: 'cancelled',
    lines: [pairs(1, label('child', 'EU', '31'), bulky(heather))],
  });
  // For the shop on the corner, after the fair.
  await order({
    outletId: shop,
    created: -7,
    due: 50,
    lines: [pairs(2, band('M', 'woman'), bulky(fog, slate)), pairs(1, band('L', 'woman'), bulky(oat, rosehip))],
  });
  await order({
    outletId: shop,
    created: -7,
    due: 56,
    lines: [pairs(2, band('S', 'woman'), twoStrands([moss, moss], [cream, cream]))],
  });
  // To give.
  await order({
    customerId: circle,
    outletId: gifts,
    created: -18,
    due: 28,
    lines: [
      pairs(2, band('23/24', 'child'), twoStrands([cream, cream], [marigold, marigold])),
      pairs(1, band('39/40'), bulky(oat)),
    ],
  });
  await order({
    outletId: gifts,
    created: -3,
    due: 30,
    lines: [pairs(1, label('woman', 'EU', '37'), bulky(fog))],
  });
  await order({
    customerId: circle,
    outletId: gifts,
    created: -18,
    due: 48,
    lines: [pairs(2, label('man', 'EU', '43'), bulky(oat, slate))],
  });
}

/** Extras and prices of the post; a deposit that was paid, and two orders to be posted, one with a wrap and a card. */
async function addMoney(tx: Tx, today: Day) {
  const wrap = { name: 'Gift wrap', cents: 250, minutes: 5, materialCents: 60 };
  const card = { name: 'Card with a few words', cents: 150, minutes: 5, materialCents: 40 };
  await createExtra(tx, wrap);
  await createExtra(tx, card);
  await createExtra(tx, { name: 'In a hurry', cents: 500, minutes: 0, materialCents: 0 });
  await createExtra(tx, { name: 'Grip soles sewn on', cents: 700, minutes: 25, materialCents: 320 });
  const band = (name: string, upToG: number, cents: number, days: number) =>
    createPostageBand(tx, { name, upToG, cents, days });
  await band('Inland', 250, 320, 2);
  await band('Inland', 1000, 495, 2);
  await band('Inland', 5000, 790, 3);
  await band('Abroad', 500, 950, 6);
  await band('Abroad', 2000, 1690, 7);
  const orders = await listOrders(tx);
  const withDeposit = orders.find((order) => order.depositCents !== null)!;
  const toPost = orders.find((order) => order.arriveByDay !== null)!;
  const deposit = { kind: 'deposit', how: 'transfer', day: addDays(today, -11), reversesId: null } as const;
  await createPayment(tx, { ...deposit, orderId: withDeposit.id, cents: withDeposit.depositCents! });
  await createOrderExtra(tx, { ...wrap, orderId: toPost.id });
  await createOrderExtra(tx, { ...card, orderId: toPost.id });
  await changeOrder(tx, toPost.id, { postageCents: 320, postDays: 2 });
  const next = orders.find((order) => order.dueDay === addDays(today, 5))!;
  const address = 'Selma Brook\n3 Mill Bank\nOverby';
  // Two days in the post: it goes on the day it is due.
  await changeOrder(tx, next.id, { arriveByDay: addDays(today, 7), postageCents: 495, postDays: 2, address });
}

/** Two quotes without an answer: one keeps its evenings and its yarn, one is about to run out. */
async function addQuotes(
  tx: Tx,
  { today, style }: SampleFrame,
  { fir, oat, heather, fog }: SampleYarns,
  outletId: number,
) {
  const quote = async (
    name: string,
    contact: string,
    { created, ...values }: Omit<NewOrder, 'outletId' | 'state' | 'createdDay' | 'lines'> & { created: number },
    line: Pick<NewLine, 'person' | 'sizeLabel' | 'quantity' | 'agreedCents'>,
    [foot, cuff]: readonly [number, number],
  ) => {
    const customer = await createCustomer(tx, { name, contact });
    const colours = [
      { role: 'foot', strand: 0, yarnColourId: foot },
      { role: 'cuff', strand: 0, yarnColourId: cuff },
    ];
    await createOrder(tx, {
      ...values,
      ...{ customerId: customer.id, outletId, state: 'asked', createdDay: addDays(today, created) },
      lines: [{ styleId: style.id, sizeSystem: 'EU', fit: 'usual', ...line, colours }],
    });
  };
  await quote(
    'Hedda Frost',
    'hedda@frost.example',
    {
      created: -5,
      validUntilDay: addDays(today, 9),
      promisedDay: addDays(today, 20),
      depositCents: 1560,
      holds: true,
      remarks: 'Are the green ones warm enough for a stone floor? I take a 40.',
    },
    { person: 'woman', sizeLabel: '40', quantity: 1, agreedCents: 5200 },
    [fir, oat],
  );
  await quote(
    'Piet Sand',
    '9 Quarry Row, Saltby',
    {
      created: -12,
      validUntilDay: addDays(today, 2),
      promisedDay: addDays(today, 45),
      depositCents: 3540,
      postageCents: 495,
      postDays: 2,
    },
    { person: 'man', sizeLabel: '43', quantity: 2, agreedCents: 5900 },
    [heather, fog],
  );
}

/** One price for the grown-ups' sizes at the fair, and what others ask. */
async function addPricesToSee(tx: Tx, { today, style }: SampleFrame, fairId: number) {
  const grownUps = { name: 'Grown-ups', fromMm: 215, toMm: 270, priceCents: 4450 };
  await createPriceGroup(tx, { outletId: fairId, styleId: style.id, ...grownUps });
  const seen = { day: addDays(today, -30), place: 'Autumn market at Saltby' };
  await createPriceSeen(tx, { ...seen, what: 'Felted slippers, size 40', cents: 5200 });
  await createPriceSeen(tx, { ...seen, what: 'Knitted slippers, one colour', cents: 3800 });
}

/** Adds the sample season to a workshop that holds the shipped style and the usual bands, and nothing else. */
export async function addSample(tx: Tx, frame: SampleFrame): Promise<void> {
  const { today, style } = frame;
  const knitters = await addKnitters(tx, today);
  const yarns = await addYarns(tx);
  await addSwatches(tx, today, yarns, knitters);
  await addShelf(tx, today, yarns);
  await addSuppliers(tx, yarns);
  const outlets = await addOutlets(tx);
  await addMaterials(tx, today, style.id);
  await addPricesToSee(tx, frame, outlets.fair.id);
  await addOrders(tx, frame, yarns, outlets);
  await addMoney(tx, today);
  await addQuotes(tx, frame, yarns, outlets.byOrder.id);
  for (const [name, value] of Object.entries(sampleSettings)) await setSetting(tx, name, value);
  await setSetting(tx, 'referenceKnitterId', knitters.ada.id);
}
