import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Settings } from '#core/shared/settings.ts';
import { setSetting } from '#db/stores/workshop.ts';
import { beginOwn } from '#flows/begin/begin-own.ts';
import type { KnownOutlet } from '#flows/orders/known-names.ts';
import { usualOutletOf } from '#flows/orders/usual-outlet.ts';
import { createApp } from '#server/app.ts';
import { putSample } from '#tests/support/sample.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const now = () => new Date('2026-11-25T10:00:00Z');
let workshop: TestWorkshop;
beforeEach(async () => {
  workshop = await openTestWorkshop();
});
afterEach(() => workshop.discard());

/** The outlet that stands chosen on a page's form. */
async function chosenAt(path: string): Promise<string | undefined> {
  const page = await (await createApp({ workshop, now, publicUrl: null }).request(path)).text();
  const field = /<select[^>]*name="outlet"[\s\S]*?<\/select>/.exec(page)?.[0] ?? '';
  return /<option[^>]*selected[^>]*>([^<]*)</.exec(field)?.[1];
}

describe('the outlet that a new order begins with', () => {
  it.each([
    ['order', 'By order'],
    ['give', 'Gifts'],
    ['sell', 'Fair'],
  ] as const)('in an own workshop, knitting to %s: %s, in the grid too', async (purpose, outlet) => {
    await beginOwn(workshop, { purpose });
    expect(await chosenAt('/orders/new')).toBe(outlet);
    expect(await chosenAt('/orders/grid')).toBe(outlet);
  });

  // The sample's last orders are gifts; the last pairs sold went to the shop.
  it.each([
    ['order', 'By order'],
    ['give', 'Gifts'],
  ] as const)('in the sample season, knitting to %s: %s', async (purpose, order) => {
    await putSample(workshop, '2026-11-25');
    await workshop.store.write('test: purpose', (tx) => setSetting(tx, 'purpose', purpose));
    expect(await chosenAt('/orders/new')).toBe(order);
  });

  it('in the sample season, knitting to sell: where the last pairs went that were no gifts', async () => {
    await putSample(workshop, '2026-11-25');
    expect(await chosenAt('/orders/new')).toBe('Corner shop');
  });
});

describe('usualOutletOf', () => {
  const outlet = (id: number, kind: KnownOutlet['kind'], isUsed = false): KnownOutlet => {
    return { id, name: kind, kind, isUsed };
  };
  const usual = (outlets: readonly KnownOutlet[], purpose: Settings['purpose'], form: 'order' | 'grid' = 'order') =>
    usualOutletOf({ outlets, settings: { purpose } }, form)?.id;

  it('passes over gifts where one sells, and shops at the grid', () => {
    const outlets = [outlet(1, 'gift', true), outlet(2, 'shop', true), outlet(3, 'fair')];
    expect(usual(outlets, 'sell')).toBe(2);
    expect(usual(outlets, 'sell', 'grid')).toBe(3);
  });

  it('takes the first where there is none of the kind, and none where there is none at all', () => {
    expect(usual([outlet(1, 'shop')], 'give')).toBe(1);
    expect(usual([outlet(1, 'gift', true), outlet(2, 'order')], 'sell')).toBe(1);
    expect(usual([], 'sell')).toBeUndefined();
  });
});
