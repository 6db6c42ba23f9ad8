import { kindFor } from '#core/batch/kinds.ts';
import type { Kind, Line } from '#core/batch/lines.ts';
import type { Offer, Supplier } from '#core/buying/offers.ts';
import type { Gauge, Hand, Yarn } from '#core/gauge/hand.ts';
import type { PlanInput } from '#core/plan.ts';
import type { Outlet } from '#core/pricing/outlet.ts';
import { addDays } from '#core/shared/calendar.ts';
import type { Person } from '#core/sizing/foot.ts';
import { footFrom } from '#core/sizing/girths.ts';
import { twoPieceSlipper } from '#core/styles/shipped/two-piece-slipper.ts';
import type { Style } from '#core/styles/style.ts';
import type { Knitter } from '#core/timing/knitter.ts';
import { usualRates } from '#core/timing/minutes.ts';

/** Ready-made plan inputs for tests and the bench: plain values, no database. */

export const slipper: Style = { versionId: 1, name: 'Two-piece slipper', body: twoPieceSlipper };

export const bulky: Yarn = {
  id: 1,
  name: 'Harbour Bulky',
  fibre: 'wool',
  tex: 1000,
  ballMg: 100_000,
  category: 5,
  usualStitches: null,
  needleMm: 7,
};

export const medium: Yarn = { ...bulky, id: 2, name: 'Meadow Medium', tex: 500, ballMg: 50_000, category: 4 };

export function gauge(yarnsKey: string, stitchesPer10Cm: number, rowsPer10Cm: number): Gauge {
  return {
    yarnsKey,
    fabric: 'stocking',
    stitchesPer10Cm,
    rowsPer10Cm,
    source: 'swatch',
    isWashed: true,
    loopCm: null,
    loopRelativeSd: null,
    needleMm: 7,
  };
}

export const usualHand: Hand = { key: 'usual', tightness: 'usual', gauges: [gauge('1', 13, 18), gauge('2+2', 13, 18)] };

export function knitterOf(id: number, over: Partial<Knitter> = {}): Knitter {
  return {
    id,
    name: `Knitter ${id}`,
    handKey: 'usual',
    rates: usualRates,
    minutesByWeekday: [60, 60, 60, 60, 60, 120, 120],
    dailyCapMin: 240,
    pairsAMonth: null,
    daysOff: [],
    lastDay: null,
    ...over,
  };
}

export const byOrder: Outlet = {
  id: 1,
  name: 'By order',
  kind: 'order',
  rank: 0,
  priceRule: 'margin',
  priceRatio: 0.2,
  fixedPriceCents: null,
  feeRatio: 0.02,
  feeFixedCents: 10,
  taxRatio: 0,
  isTaxIncluded: true,
  endingCents: 0,
};

export function slipperKind(person: Person, lengthMm: number, footColour: number, cuffColour = footColour): Kind {
  return kindFor({
    style: slipper,
    foot: footFrom({ person, lengthMm }),
    fit: 'usual',
    yarns: { foot: [bulky], cuff: [bulky] },
    colours: { foot: [footColour], cuff: [cuffColour] },
    cuff: 'short',
  });
}

export function lineOf(id: number, kind: Kind, over: Partial<Line> = {}): Line {
  return {
    id,
    orderId: id,
    orderNumber: id,
    outletId: 1,
    outletRank: 0,
    dueDay: null,
    quantity: 1,
    kind,
    ...over,
  };
}

const oneShop: Supplier = {
  id: 1,
  name: 'Quay Yarns',
  shippingCents: 395,
  freeFromCents: null,
  minimumCents: 0,
  deliveryDays: 3,
  rank: 0,
};

export function offerOf(id: number, over: Partial<Offer> = {}): Offer {
  return {
    id,
    supplierId: 1,
    yarnColourId: 1,
    ballMg: 100_000,
    ballsPerPack: 1,
    priceCents: 600,
    stockPacks: null,
    ...over,
  };
}

export function planInputOf(lines: readonly Line[], over: Partial<PlanInput> = {}): PlanInput {
  return {
    today: '2026-11-25',
    lines,
    stock: [],
    started: [],
    hands: [usualHand],
    knitters: [knitterOf(1)],
    referenceKnitterId: 1,
    shelf: [],
    suppliers: [oneShop],
    offers: [offerOf(1), offerOf(2, { yarnColourId: 2, priceCents: 650 })],
    outlets: [byOrder],
    materials: new Map(),
    settings: {
      wageCentsPerHour: 1200,
      overheadCentsPerHour: 100,
      confidence: 0.9,
      buyAt: 'safe',
      oneSupplierPerColour: true,
      spareRatio: 0,
      knittingMinutesPerHour: 50,
    },
    ...over,
  };
}

/**
 * A large input: so many lines over 400 shapes, 8 knitters in 3 hands, 30 colours, packs of 25 to 200 g in 3 shops.
 * Built by counting, without randomness.
 */
export function largeInput(lineCount: number): PlanInput {
  const kinds: Kind[] = [];
  const persons: readonly Person[] = ['woman', 'man', 'child', 'unknown'];
  for (let index = 0; index < 6000; index += 1) {
    const shape = index % 400;
    const person = persons[shape % 4]!;
    const base = person === 'child' ? 120 : person === 'man' ? 245 : 215;
    kinds.push(slipperKind(person, base + Math.floor(shape / 4) * 0.7, 1 + (index % 30), 1 + ((index * 7 + 3) % 30)));
  }
  const lines = Array.from({ length: lineCount }, (_, index) =>
    lineOf(index + 1, kinds[(index * 37) % kinds.length]!, {
      orderId: 1 + Math.floor(index / 3),
      orderNumber: 1 + Math.floor(index / 3),
      outletRank: index % 3,
      outletId: 1 + (index % 3),
      quantity: 1 + (index % 2),
      dueDay: index % 5 === 0 ? null : addDays('2026-12-01', (index * 13) % 900),
    }),
  );
  const suppliers = [1, 2, 3].map((id) => ({
    ...oneShop,
    id,
    name: `Shop ${id}`,
    shippingCents: 250 + 100 * id,
    rank: id,
  }));
  const offers: Offer[] = [];
  for (let colour = 1; colour <= 30; colour += 1) {
    for (const supplier of suppliers) {
      for (const [index, grams] of [25, 50, 100, 200].entries()) {
        const priceCents = Math.round(grams * (6.5 - index * 0.35 + ((colour * supplier.id) % 7) * 0.12));
        offers.push(
          offerOf(offers.length + 1, {
            supplierId: supplier.id,
            yarnColourId: colour,
            ballMg: grams * 1000,
            priceCents,
          }),
        );
      }
    }
  }
  const hands: Hand[] = [
    usualHand,
    { key: 'loose', tightness: 'loose', gauges: [gauge('1', 12, 16.5)] },
    { key: 'tight', tightness: 'tight', gauges: [] },
  ];
  const knitters = Array.from({ length: 8 }, (_, index) =>
    knitterOf(index + 1, { handKey: hands[index % 3]!.key, rates: { ...usualRates, stitchesPerMin: 20 + index * 2 } }),
  );
  const outlets = [1, 2, 3].map((id) => ({ ...byOrder, id, name: `Outlet ${id}`, rank: id }));
  return planInputOf(lines, { suppliers, offers, hands, knitters, outlets });
}
