import highsModule, { type Highs } from 'highs';
import { packMg } from '#core/buying/cover-need.ts';
import type { ColourNeed, Offer, Supplier } from '#core/buying/offers.ts';

// The purchase model as a mixed-integer program, solved by HiGHS: a second method that shares nothing with ours.
// Traps met there: the default gap is 1e-4, so it is set to 0; a text that is no model ends without an error, so the
// status is asserted; the objective may be a hair off, so the cost is recounted from the rounded integers.
// Its types describe a CommonJS module, under node the default import is the loader itself.
const loadHighs = highsModule as unknown as () => Promise<Highs>;
const loaded = await loadHighs();

/**
 * Least cost of a purchase, whole minor units: goods, postage, free-postage limits, minimum orders.
 *
 * @throws {Error} when the solver does not end with an optimum
 */
export function leastPurchaseCents(
  needs: readonly ColourNeed[],
  suppliers: readonly Supplier[],
  offers: readonly Offer[],
  options: { readonly oneSupplierPerColour: boolean },
): number {
  const rows: string[] = [];
  const bounds: string[] = [];
  const integers: string[] = [];
  const binaries: string[] = [];
  const goal: string[] = [];
  const wanted = offers.filter((offer) => needs.some((need) => need.yarnColourId === offer.yarnColourId));

  for (const [i, offer] of wanted.entries()) {
    const need = needs.find((each) => each.yarnColourId === offer.yarnColourId)!;
    const supplier = suppliers.find((each) => each.id === offer.supplierId)!;
    // Reaching a limit may take more packs than the need does.
    const limitCents = Math.max(supplier.freeFromCents ?? 0, supplier.minimumCents);
    const useful = Math.ceil(need.needMg / packMg(offer)) + Math.ceil(limitCents / Math.max(1, offer.priceCents));
    const most = Math.min(useful, offer.stockPacks ?? useful);
    goal.push(`+ ${offer.priceCents} x${i}`);
    integers.push(`x${i}`);
    bounds.push(`0 <= x${i} <= ${most}`);
    rows.push(`+ x${i} - ${most} y${offer.supplierId} <= 0`);
    if (options.oneSupplierPerColour) rows.push(`+ x${i} - ${most} z${offer.yarnColourId}_${offer.supplierId} <= 0`);
  }
  for (const { yarnColourId, needMg } of needs) {
    const own = [...wanted.entries()].filter(([, offer]) => offer.yarnColourId === yarnColourId);
    rows.push(`${own.map(([i, offer]) => `+ ${packMg(offer) / 1000} x${i}`).join(' ')} >= ${needMg / 1000}`);
    if (!options.oneSupplierPerColour) continue;
    const shops = [...new Set(own.map(([, offer]) => offer.supplierId))];
    binaries.push(...shops.map((shop) => `z${yarnColourId}_${shop}`));
    rows.push(`${shops.map((shop) => `+ z${yarnColourId}_${shop}`).join(' ')} = 1`);
  }
  for (const { id, shippingCents, freeFromCents, minimumCents } of suppliers) {
    const goods = [...wanted.entries()]
      .filter(([, offer]) => offer.supplierId === id)
      .map(([i, offer]) => `+ ${offer.priceCents} x${i}`)
      .join(' ');
    if (goods === '') continue;
    binaries.push(`y${id}`);
    goal.push(`+ ${shippingCents} y${id}`);
    if (minimumCents > 0) rows.push(`${goods} - ${minimumCents} y${id} >= 0`);
    if (freeFromCents !== null) {
      binaries.push(`w${id}`);
      goal.push(`- ${shippingCents} w${id}`);
      rows.push(`+ w${id} - y${id} <= 0`, `${goods} - ${freeFromCents} w${id} >= 0`);
    }
  }
  const text = [
    'Minimize',
    ` cost: ${goal.join(' ')}`,
    'Subject To',
    ...rows.map((row, i) => ` r${i}: ${row}`),
    'Bounds',
    ...bounds.map((bound) => ` ${bound}`),
    'General',
    ` ${integers.join(' ')}`,
    'Binary',
    ` ${binaries.join(' ')}`,
    'End',
  ].join('\n');
  const solution = loaded.solve(text, { output_flag: false, mip_rel_gap: 0, mip_abs_gap: 0 });
  if (solution.Status !== 'Optimal') throw new Error(`leastPurchaseCents: the solver ended with ${solution.Status}`);

  let total = 0;
  const goodsByShop = new Map<number, number>();
  for (const [i, offer] of wanted.entries()) {
    const packs = Math.round((solution.Columns[`x${i}`] as { Primal: number }).Primal);
    if (packs === 0) continue;
    goodsByShop.set(offer.supplierId, (goodsByShop.get(offer.supplierId) ?? 0) + packs * offer.priceCents);
  }
  for (const [shop, goods] of goodsByShop) {
    const { shippingCents, freeFromCents } = suppliers.find((each) => each.id === shop)!;
    total += goods + (freeFromCents !== null && goods >= freeFromCents ? 0 : shippingCents);
  }
  return total;
}
