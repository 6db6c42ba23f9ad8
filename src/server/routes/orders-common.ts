import type { Context } from 'hono';
import { AppError } from '#core/shared/app-error.ts';
import { sizeSystems } from '#core/sizing/labels.ts';
import type { OrdersSource } from '#flows/orders/read-orders.ts';
import type { AppEnv } from '#server/app.ts';
import type { FormBody } from '#server/forms/fields.ts';
import { rolesOf } from '#server/forms/orders.ts';
import type { FormNames } from '#views/pages/orders/types.ts';

/** A row's number in an address. */
export const id = ':id{[1-9][0-9]{0,14}}';
export const idOf = (c: Context<AppEnv>): number => Number(c.req.param('id'));

/** A form that cannot be read as one is an empty form: its fields say what is missing. */
export async function bodyOf(c: Context<AppEnv>): Promise<FormBody> {
  try {
    return await c.req.parseBody({ all: true });
  } catch {
    return {};
  }
}

/**
 * The names that the forms offer.
 *
 * @param ownOutlet the outlet of an order that is there already, which may have been closed since
 */
export function namesOf(
  { words: { known } }: OrdersSource,
  ownOutlet: { readonly id: number; readonly name: string } | null = null,
): FormNames {
  const { styles, outlets, colours, bands, customers, knitters, settings } = known;
  const { currency, unitSystem, purpose } = settings;
  const isOffered = ownOutlet === null || outlets.some((outlet) => outlet.id === ownOutlet.id);
  return {
    ...{ styles, colours, bands, customers, knitters, currency, unitSystem, purpose },
    outlets: isOffered ? outlets : [ownOutlet, ...outlets],
    roles: rolesOf(known),
    systems: sizeSystems,
  };
}

/** What `save` gives; null when somebody else was first. */
export async function unlessConflict<T>(save: () => Promise<T>): Promise<T | null> {
  try {
    return await save();
  } catch (error) {
    if (error instanceof AppError && error.code === 'conflict' && error.current !== undefined) return null;
    throw error;
  }
}
