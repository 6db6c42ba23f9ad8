import type { KnownNames, KnownOutlet } from '#flows/orders/known-names.ts';

type Knows = Pick<KnownNames, 'outlets'> & { readonly settings: Pick<KnownNames['settings'], 'purpose'> };

/**
 * Where a new order most likely goes: by order or as a gift where that is what one knits for. Who sells begins where the
 * last pairs went, gifts apart, or at a fair; a grid holds stock, so it begins at the fair.
 */
export function usualOutletOf({ outlets, settings }: Knows, form: 'order' | 'grid'): KnownOutlet | null {
  const firstOf = (kind: KnownOutlet['kind']) => outlets.find((outlet) => outlet.kind === kind);
  const lastSold = form === 'order' ? outlets.find((outlet) => outlet.isUsed && outlet.kind !== 'gift') : undefined;
  const wanted = { order: firstOf('order'), give: firstOf('gift'), sell: lastSold ?? firstOf('fair') };
  return wanted[settings.purpose] ?? outlets[0] ?? null;
}
