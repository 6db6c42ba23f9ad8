import { cuffHeightFor } from '#core/batch/kinds.ts';
import type { OutletKind } from '#core/pricing/outlet.ts';
import { readSettings, type Settings } from '#core/shared/settings.ts';
import { footLengthOfBand } from '#core/sizing/bands.ts';
import type { Person } from '#core/sizing/foot.ts';
import { rolesMainFirst } from '#core/styles/roles.ts';
import { settingsFor } from '#core/styles/settings-of.ts';
import type { StyleBody } from '#core/styles/style.ts';
import type { WorkshopRows } from '#db/stores/read-workshop.ts';
import { stylesFrom } from '#flows/plan-input.ts';

export type KnownStyle = {
  readonly id: number;
  readonly name: string;
  /** The main one leads. */
  readonly roles: readonly { readonly name: string; readonly words: string }[];
  /** Whether the style has a piece that may be left out: its cuff. */
  readonly hasCuff: boolean;
  readonly body: StyleBody;
};

export type KnownOutlet = {
  readonly id: number;
  readonly name: string;
  readonly kind: OutletKind;
  /** Whether an order has gone there yet. */
  readonly isUsed: boolean;
};

export type KnownColour = {
  readonly id: number;
  readonly name: string;
  readonly yarnId: number;
  readonly yarnName: string;
  /** How many strands of the yarn are held together. */
  readonly strands: number;
  readonly hexes: readonly string[];
};

export type KnownBand = {
  readonly id: number;
  readonly name: string;
  readonly person: Person;
  /** The foot that the band is knitted for, mm. */
  readonly lengthMm: number;
};

/** All names that an order may use, with what is behind them: enough to read one without a database. */
export type KnownNames = {
  readonly styles: readonly KnownStyle[];
  /** Those that take new orders, last used first. */
  readonly outlets: readonly KnownOutlet[];
  /** Last used first. */
  readonly colours: readonly KnownColour[];
  readonly bands: readonly KnownBand[];
  readonly customers: readonly { readonly id: number; readonly name: string }[];
  /** Those who knit at present. */
  readonly knitters: readonly { readonly id: number; readonly name: string }[];
  /** Orders not cancelled that carry a customer's own reference. */
  readonly references: readonly {
    readonly customerName: string;
    readonly reference: string;
    readonly number: number;
  }[];
  readonly settings: Settings;
};

function bandLengthMm(fromMm: number, toMm: number): number | null {
  try {
    return footLengthOfBand(fromMm, toMm);
  } catch {
    return null;
  }
}

/** The order in which ids were last used, as a number to sort by: larger is later. */
function lastUse(uses: readonly { readonly id: number; readonly at: number }[]): (id: number) => number {
  const last = new Map<number, number>();
  for (const { id, at } of uses) last.set(id, Math.max(at, last.get(id) ?? 0));
  return (id) => last.get(id) ?? 0;
}

/** The names of a workshop. */
export function knownNamesOf(rows: WorkshopRows): KnownNames {
  const styles = stylesFrom(rows).current;
  const yarnById = new Map(rows.yarns.map((yarn) => [yarn.id, yarn]));
  const customerById = new Map(rows.customers.map((customer) => [customer.id, customer]));
  const colourUse = lastUse(rows.lineColours.map((row) => ({ id: row.yarnColourId, at: row.lineId })));
  const styleUse = lastUse(rows.lines.map((row) => ({ id: row.styleId, at: row.id })));
  // A quote has gone nowhere yet.
  const gone = rows.orders.filter((row) => row.state === 'agreed');
  const outletUse = lastUse(gone.map((row) => ({ id: row.outletId, at: row.id })));
  return {
    styles: rows.styles
      .flatMap((style) => {
        const body = styles.get(style.id)?.body;
        if (!body) return [];
        const hasCuff = body.pieces.some((piece) => piece.isOptional);
        return [{ id: style.id, name: style.name, roles: rolesMainFirst(body), hasCuff, body }];
      })
      .sort((a, b) => styleUse(b.id) - styleUse(a.id)),
    outlets: rows.outlets
      .filter((outlet) => !outlet.isClosed)
      .map(({ id, name, kind }) => ({ id, name, kind, isUsed: outletUse(id) > 0 }))
      .sort((a, b) => outletUse(b.id) - outletUse(a.id)),
    colours: rows.yarnColours
      .flatMap((colour) => {
        const yarn = yarnById.get(colour.yarnId);
        if (!yarn) return [];
        const { id, name, yarnId, swatchHex } = colour;
        return [{ id, name, yarnId, yarnName: yarn.name, strands: yarn.usualStrands, hexes: swatchHex.split(' ') }];
      })
      .sort((a, b) => colourUse(b.id) - colourUse(a.id)),
    bands: rows.bands.flatMap(({ id, name, person, fromMm, toMm }) => {
      const lengthMm = bandLengthMm(fromMm, toMm);
      return lengthMm === null ? [] : [{ id, name, person: person ?? 'unknown', lengthMm }];
    }),
    customers: rows.customers,
    knitters: rows.knitters.filter(({ isActive }) => isActive),
    references: rows.orders.flatMap(({ customerId, reference, number }) => {
      const customer = customerId === null ? undefined : customerById.get(customerId);
      return customer && reference !== null ? [{ customerName: customer.name, reference, number }] : [];
    }),
    settings: readSettings(rows.settings),
  };
}

/** How tall a turned-down cuff of a style is for a foot, mm. */
export function turnedDownMm(style: KnownStyle, person: Person, footLengthMm: number): number {
  return cuffHeightFor('turned down', settingsFor(style.body, person), footLengthMm);
}

/** Names are the same whatever their case and the blanks around and inside them. */
export function sameName(text: string): string {
  return text.normalize('NFC').trim().replace(/\s+/g, ' ').toLowerCase();
}
