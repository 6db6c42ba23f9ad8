import { referenceHand } from '#core/batch/handwork.ts';
import { type CuffWish, kindFor } from '#core/batch/kinds.ts';
import type { Kind } from '#core/batch/lines.ts';
import type { LotLeft } from '#core/buying/lots.ts';
import { lotsAfter } from '#core/buying/lots-after.ts';
import type { ShelfQuestion, WishedPair } from '#core/buying/pair-ways.ts';
import { isOnWayLot } from '#core/buying/purchases.ts';
import { joinLots } from '#core/buying/same-lots.ts';
import { wantsOf } from '#core/buying/wants.ts';
import type { Hand, Yarn } from '#core/gauge/hand.ts';
import { entryOf } from '#core/shared/entry-of.ts';
import { footFrom } from '#core/sizing/girths.ts';
import { rolesKnitted } from '#core/styles/roles.ts';
import type { Spec } from '#core/styles/spec.ts';
import { specify, specKey } from '#core/styles/specify.ts';
import { enoughForPair } from '#core/yardage/needs.ts';
import type { NewLineColour } from '#db/stores/orders.ts';
import type { KnownColour, KnownStyle } from '#flows/orders/known-names.ts';
import { coloursOf, type ReadSize } from '#flows/orders/line-entry.ts';
import { stylesFrom, yarnFrom } from '#flows/plan-input.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';

/** Which colours may go together in a pair, of those that are ticked for each part. */
export type Together = 'one' | 'two' | 'any';

/** A size that is wanted, and how many pairs of it. */
export type SizeRow = {
  readonly value: string;
  readonly words: string;
  readonly foot: ReadSize;
  readonly least: number;
  readonly most: number;
};

/** What is asked of the shelf. */
export type ShelfWish = {
  readonly style: KnownStyle;
  readonly cuff: CuffWish;
  readonly sizes: readonly SizeRow[];
  readonly together: Together;
  /** Whether a pair may have colours of several yarns. */
  readonly mixesYarns: boolean;
  /** Colours that may be used for each role. */
  readonly coloursOfRole: ReadonlyMap<string, readonly number[]>;
  /** Whose hand; null for the reference hand. */
  readonly knitterId: number | null;
  readonly amounts: 'safe' | 'likely';
  /** `orders`: what agreed orders will take stays theirs; `begun`: only what is put aside for pairs that are begun. */
  readonly leave: 'orders' | 'begun';
};

/** A kind of pair the search may make, with what an order of it needs. */
export type KindOfAnswer = {
  readonly size: number;
  readonly colourOfRole: ReadonlyMap<string, number>;
  readonly colours: readonly NewLineColour[];
};

export type AskedShelf = { readonly question: ShelfQuestion; readonly kinds: readonly KindOfAnswer[] };

/** What each lot can give: less what is put aside for pairs begun, and what agreed orders will take of it where that is theirs. */
export function freeLotsOf({ plan, input, settings, rows }: WorkshopPlan, leave: ShelfWish['leave']): LotLeft[] {
  const wants = leave === 'orders' ? wantsOf(plan.wanted.pairs, plan.weeks, plan.handwork, settings).wants : [];
  const ballMgOfColour = new Map(
    rows.yarnColours.map((colour) => [colour.id, rows.yarns.find((yarn) => yarn.id === colour.yarnId)?.ballMg]),
  );
  const isBegun = new Set(
    rows.lots
      .filter((lot) =>
        rows.balls.some((ball) => ball.lotId === lot.id && ball.massMg !== ballMgOfColour.get(lot.yarnColourId)),
      )
      .map((lot) => lot.id),
  );
  const dayOf = new Map(rows.lots.map((lot) => [lot.id, lot.gotDay]));
  // Part balls first, then what has lain longest.
  const rank = (id: number) => `${isBegun.has(id) ? 0 : 1}${dayOf.get(id) ?? ''}`;
  // What is on its way is on no shelf yet.
  const here = input.shelf.filter(({ id }) => !isOnWayLot(id));
  return joinLots(leave === 'orders' ? lotsAfter(here, wants, plan.placed) : here)
    .map(({ id, yarnColourId, freeMg }) => ({ id, yarnColourId, freeMg }))
    .sort((a, b) => {
      if (rank(a.id) === rank(b.id)) return a.id - b.id;
      return rank(a.id) < rank(b.id) ? -1 : 1;
    });
}

/** Every choice of one colour a role, the main role leading, that may go together. */
function combinations(
  roles: readonly string[],
  { coloursOfRole, together, mixesYarns }: ShelfWish,
  yarnOf: (colourId: number) => number | undefined,
): readonly (readonly number[])[] {
  const mostColours = { one: 1, two: 2, any: roles.length }[together];
  let chosen: readonly (readonly number[])[] = [[]];
  for (const role of roles) {
    const ticked = coloursOfRole.get(role) ?? [];
    chosen = chosen.flatMap((before) =>
      ticked
        .filter((id) => mixesYarns || before.length === 0 || yarnOf(before[0]!) === yarnOf(id))
        .map((id) => [...before, id])
        .filter((all) => new Set(all).size <= mostColours),
    );
  }
  return chosen;
}

/** The roles that are knitted, the main one leading. */
export function rolesOfWish({ style, cuff }: Pick<ShelfWish, 'style' | 'cuff'>): readonly string[] {
  const knitted = rolesKnitted(style.body, cuff === 'none' ? 0 : 1);
  return style.roles.map((role) => role.name).filter((role) => knitted.includes(role));
}

function handOf({ input }: WorkshopPlan, knitterId: number | null): Hand {
  const knitter = input.knitters.find((each) => each.id === knitterId);
  return input.hands.find((hand) => hand.key === knitter?.handKey) ?? referenceHand(input);
}

type NeedsOf = (kind: Kind) => WishedPair['needs'];

/** What a pair takes of each colour, mg: kinds that are alike but for their colours are knitted once. */
function needsIn(hand: Hand, confidence: number): NeedsOf {
  const specs = new Map<string, Spec>();
  const known = new Map<string, readonly number[]>();
  return (kind) => {
    const spec = entryOf(specs, kind.shape.key, () => specify([kind.shape], [hand]).get(specKey(kind.shape, hand))!);
    const ids = [...new Set(Object.values(kind.colours).flat())];
    const pattern = Object.entries(kind.colours).map(([role, own]) => `${role}${own.map((id) => ids.indexOf(id))}`);
    const amounts = entryOf(known, `${kind.shape.key}#${pattern.join()}`, () => {
      const enough = enoughForPair(kind, spec, confidence);
      return ids.map((id) => enough.find(({ yarnColourId }) => yarnColourId === id)?.mg ?? 0);
    });
    return ids.map((yarnColourId, at) => ({ yarnColourId, mg: amounts[at]! })).filter(({ mg }) => mg > 0);
  };
}

/**
 * What the search is asked: lots with what is free of them, and every size in every allowed choice of colours with the
 * yarn it takes in that hand.
 *
 * @param known every colour by id
 */
export function askShelf(
  workshopPlan: WorkshopPlan,
  known: ReadonlyMap<number, KnownColour>,
  wish: ShelfWish,
): AskedShelf {
  const { rows, settings } = workshopPlan;
  const { style } = wish;
  const whole = stylesFrom(rows).current.get(style.id);
  const lots = freeLotsOf(workshopPlan, wish.leave);
  const sizes = wish.sizes.map(({ least, most }) => ({ least, most }));
  if (!whole) return { question: { lots, kinds: [], sizes }, kinds: [] };
  const yarns = new Map<number, Yarn>(rows.yarns.map((row) => [row.id, yarnFrom(row)]));
  const roles = rolesOfWish(wish);
  const choices = combinations(roles, wish, (id) => known.get(id)?.yarnId);
  const needsOf = needsIn(handOf(workshopPlan, wish.knitterId), wish.amounts === 'safe' ? settings.confidence : 0.5);
  const kinds: KindOfAnswer[] = [];
  const wished: WishedPair[] = [];
  for (const [size, { foot }] of wish.sizes.entries()) {
    for (const choice of choices) {
      const colourOfRole = new Map(roles.map((role, at) => [role, choice[at]!]));
      const { colours } = coloursOf(style, new Map([...colourOfRole].map(([role, id]) => [role, known.get(id)!])));
      const ids: Record<string, number[]> = {};
      const ofYarn: Record<string, Yarn[]> = {};
      for (const { role, yarnColourId } of colours) {
        ids[role] = [...(ids[role] ?? []), yarnColourId];
        ofYarn[role] = [...(ofYarn[role] ?? []), yarns.get(known.get(yarnColourId)!.yarnId)!];
      }
      const kind = kindFor({
        style: whole,
        foot: footFrom({ person: foot.person, lengthMm: foot.lengthMm }),
        fit: 'usual',
        yarns: ofYarn,
        colours: ids,
        cuff: wish.cuff,
      });
      kinds.push({ size, colourOfRole, colours });
      wished.push({ size, needs: needsOf(kind) });
    }
  }
  return { question: { lots, kinds: wished, sizes }, kinds };
}
