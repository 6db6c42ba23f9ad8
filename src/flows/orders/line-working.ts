import type { Kind } from '#core/batch/lines.ts';
import { edgeLengths, type SlipperCounts } from '#core/cards/seams.ts';
import type { Hand } from '#core/gauge/hand.ts';
import { ageSpreadWords } from '#core/sizing/ages.ts';
import type { Foot } from '#core/sizing/foot.ts';
import { sizeWordsIn } from '#core/sizing/size-words.ts';
import { ageSystem, choiceOfStored } from '#core/sizing/stored-size.ts';
import type { Spec } from '#core/styles/spec.ts';
import { specifyWithWorking, specKey } from '#core/styles/specify.ts';
import { workOut } from '#core/styles/work-out.ts';
import type { Knitter } from '#core/timing/knitter.ts';
import { minutesOfPair } from '#core/timing/minutes.ts';
import { yarnOfPair } from '#core/yardage/needs.ts';
import { type PairCounts, pairCountsOf } from '#flows/batch/foot-counts.ts';
import { type PairNumbers, pairNumbers } from '#flows/knitters/pair-numbers.ts';
import type { OrdersSource } from '#flows/orders/read-orders.ts';
import { priceOfKind, priceOfPair } from '#flows/pricing/price-of-pair.ts';
import { type FlatPieceView, flatPiecesOf } from '#flows/styles/flat-pieces-of.ts';

/** A check that the foot gets in, in millimetres. */
export type FitCheck = {
  /** The opening, or the edge of a piece, in words. */
  readonly what: string;
  /** Null where both feet are alike. */
  readonly side: 'left' | 'right' | null;
  readonly edgeMm: number;
  readonly stretchedMm: number;
  readonly neededMm: number;
  readonly passes: boolean;
};

/** One pair of a line in one knitter's hand. */
export type LineInHand = PairNumbers & {
  readonly knitterId: number;
  readonly name: string;
  readonly isGaugeGuessed: boolean;
};

/** What one line is in one knitter's hands, the reference knitter's unless another is named. */
export type LineWorking = {
  readonly kind: Kind;
  readonly knitter: { readonly id: number; readonly name: string; readonly isReference: boolean };
  /** The same pair in every hand. */
  readonly hands: readonly LineInHand[];
  /** The left foot where they differ. */
  readonly foot: Foot;
  readonly rightFoot: Foot | null;
  readonly footWords: string;
  /** How far feet of an age lie apart; null where the size is none. */
  readonly ageWords: string | null;
  readonly spec: Spec;
  /** The flat pieces, to be drawn; the left ones where the feet differ. */
  readonly flat: readonly FlatPieceView[];
  /** The right ones where the feet differ; null where they are alike. */
  readonly flatRight: readonly FlatPieceView[] | null;
  readonly checks: readonly FitCheck[];
  readonly yarn: readonly { readonly yarnColourId: number; readonly grams: number; readonly metres: number }[];
  readonly minutes: number;
  /** At the order's outlet; null where pairs are given or no price can be made. */
  readonly price: {
    /** Null while neither the price of its yarn nor the worth of an hour is known. */
    readonly costCents: number | null;
    readonly priceCents: number | null;
    /** The price of its yarn is not known, so that the cost is too low. */
    readonly isYarnPriceUnknown: boolean;
    /** Whose hand it is reckoned in. */
    readonly inHandOf: string;
  } | null;
};

function checksOf(kind: Kind, slipper: SlipperCounts, neededMm: number, side: FitCheck['side']): FitCheck[] {
  const { body } = kind.shape.style;
  const lengths = edgeLengths(slipper, body);
  return body.checks.flatMap((check): FitCheck[] => {
    if (!('stretch' in check) || check.over !== 'heelAnkleGirth') return [];
    const edges = check.edge.map((edge) => lengths.get(edge) ?? 0);
    if (edges.some((length) => length === 0)) return [];
    const edgeMm = edges.reduce((sum, length) => sum + length, 0);
    const [piece = '', , mark] = check.edge[0]!.split('.');
    const isCuff = body.pieces.some((each) => each.name === piece && each.isOptional);
    const what = isCuff ? piece : mark ? 'opening' : `edge of the ${piece}`;
    const stretchedMm = edgeMm * check.stretch;
    return [{ what, side, edgeMm, stretchedMm, neededMm, passes: stretchedMm >= neededMm - 1e-9 }];
  });
}

type KnitterInHand = { readonly knitter: Knitter; readonly hand: Hand };

function handOfKnitter({ plan: { input } }: OrdersSource, knitterId: number): KnitterInHand | null {
  const knitter = input.knitters.find((each) => each.id === knitterId);
  const hand = input.hands.find((each) => each.key === knitter?.handKey);
  return knitter && hand ? { knitter, hand } : null;
}

function referenceHandOf(source: OrdersSource): KnitterInHand | null {
  const { knitters, referenceKnitterId } = source.plan.input;
  return handOfKnitter(source, referenceKnitterId) ?? handOfKnitter(source, knitters[0]?.id ?? 0);
}

/** A spec out of the plan; an order that is only asked is in no plan, and its counts are worked out here. */
function specIn({ plan }: OrdersSource, shape: Kind['shape'], hand: Hand): Spec {
  return plan.plan.specs.get(specKey(shape, hand)) ?? specifyWithWorking(shape, hand).spec;
}

function handsOfLine(source: OrdersSource, kind: Kind): LineInHand[] {
  return source.plan.input.knitters.flatMap(({ id, name }) => {
    const own = handOfKnitter(source, id);
    if (!own) return [];
    const spec = specIn(source, kind.shape, own.hand);
    return [{ ...pairNumbers(spec, kind, own.knitter), knitterId: id, name, isGaugeGuessed: spec.isGaugeGuessed }];
  });
}

function ageWordsOf({ rows, plan }: OrdersSource, lineId: number): string | null {
  const line = rows.lines.find((each) => each.id === lineId);
  if (!line || line.sizeSystem !== ageSystem) return null;
  const choice = choiceOfStored({ person: 'child', system: ageSystem, label: line.sizeLabel ?? '' });
  return choice?.by === 'age' ? ageSpreadWords(choice.years, plan.settings.unitSystem) : null;
}

/** The counts, yarn, time and price of one pair of a line; null when the plan cannot say, with the reason in `problem`. */
export function lineWorkingOf(
  source: OrdersSource,
  lineId: number,
  outletId: number,
  knitterId: number | null = null,
): { readonly working: LineWorking | null; readonly problem: string | null } {
  const { kindOfLine, footOfLine, lineProblems, input, settings } = source.plan;
  const problem = lineProblems.find((each) => each.lineId === lineId)?.message ?? null;
  const kind = kindOfLine.get(lineId);
  const foot = footOfLine.get(lineId);
  const reference = referenceHandOf(source);
  if (!kind || !foot || !reference) return { working: null, problem };
  const { knitter, hand } = (knitterId === null ? null : handOfKnitter(source, knitterId)) ?? reference;
  const { spec, worked } = specifyWithWorking(kind.shape, hand);
  const { shape } = kind;
  const right = shape.right && workOut({ ...shape, foot: shape.right, right: null }, hand);
  const outlet = input.outlets.find((each) => each.id === outletId);
  const working = {
    kind,
    knitter: { id: knitter.id, name: knitter.name, isReference: knitter.id === reference.knitter.id },
    hands: handsOfLine(source, kind),
    foot: foot.foot,
    rightFoot: shape.right,
    footWords: sizeWordsIn(foot.words, settings.unitSystem),
    ageWords: ageWordsOf(source, lineId),
    spec,
    flat: flatPiecesOf(spec, shape.style.body),
    flatRight: spec.right && flatPiecesOf(spec.right, shape.style.body),
    checks: [
      ...checksOf(kind, spec, worked.needed.value, spec.right ? 'left' : null),
      ...(spec.right && right ? checksOf(kind, spec.right, right.needed.value, 'right') : []),
    ],
    yarn: yarnOfPair(kind, spec),
    minutes: minutesOfPair(spec.operations, knitter.rates),
    price: null,
  };
  if (!outlet || outlet.kind === 'gift' || settings.purpose === 'give') return { working, problem };
  // Prices are made once for all, in the reference hand, whoever knits.
  const { cost, isYarnPriceUnknown, isCostUnknown } = priceOfKind(source.plan, kind);
  const { priceCents } = priceOfPair(source.plan, kind, outletId);
  const inHandOf = reference.knitter.name;
  const price = { costCents: isCostUnknown ? null : cost.totalCents, priceCents, isYarnPriceUnknown, inHandOf };
  return { working: { ...working, price }, problem };
}

/**
 * Stitches to cast on and rows of a pair, by line, in the hand of whom the line is given to, else the reference hand;
 * lines that cannot be planned are left out.
 */
export function footCountsOf(source: OrdersSource, lineIds: readonly number[]): ReadonlyMap<number, PairCounts> {
  const { kindOfLine } = source.plan;
  const reference = referenceHandOf(source)?.hand;
  const counts = new Map<number, PairCounts>();
  if (!reference) return counts;
  const knitterOf = new Map(source.rows.lines.map((line) => [line.id, line.knitterId]));
  for (const lineId of lineIds) {
    const shape = kindOfLine.get(lineId)?.shape;
    if (!shape) continue;
    const hand = handOfKnitter(source, knitterOf.get(lineId) ?? 0)?.hand ?? reference;
    const spec = specIn(source, shape, hand);
    if (spec.pieces.length > 0) counts.set(lineId, pairCountsOf(spec));
  }
  return counts;
}
