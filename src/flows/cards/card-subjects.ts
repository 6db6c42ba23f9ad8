import { strandsOfKind } from '#core/batch/kinds.ts';
import type { Kind } from '#core/batch/lines.ts';
import type { CardInput, CardStrand, KnittingWords } from '#core/cards/card.ts';
import { gaugeOf } from '#core/gauge/gauge.ts';
import type { Hand } from '#core/gauge/hand.ts';
import { strandsOf } from '#core/styles/work-out.ts';
import { pairsToStart } from '#flows/batch/start-batch.ts';
import { type FrozenPair, readPairs, type StoredPair } from '#flows/batch/started-pairs.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { coloursOf } from '#flows/shelf/colours-of.ts';

/** A pair that can have a card: begun, or in the plan and not started yet. */
export type CardSubject = {
  /** The plan's own key of the pair. */
  readonly key: string;
  /** Null while it is not started. */
  readonly pairId: number | null;
  readonly lineId: number | null;
  readonly knitterId: number | null;
  readonly kind: Kind;
  readonly frozen: FrozenPair;
  readonly yarn: readonly {
    readonly role: string;
    readonly strand: number;
    readonly yarnColourId: number;
    readonly lotId: number | null;
    readonly allottedMg: number;
  }[];
};

/** A begun pair as a subject; null when its style or a yarn can no longer be read. */
export function subjectOfStored({ row, kind, frozen, knitterId, colours }: StoredPair): CardSubject | null {
  if (kind === null) return null;
  return {
    key: `started-${row.id}`,
    pairId: row.id,
    lineId: row.lineId,
    knitterId,
    kind,
    frozen,
    yarn: colours,
  };
}

/** Every pair on the needles, then every pair of the plan that somebody can knit; not remembered, since it is quick. */
export function cardSubjects(workshopPlan: WorkshopPlan): readonly CardSubject[] {
  const { rows } = workshopPlan;
  const begun = readPairs(rows)
    .filter(({ row, isFinished }) => row.left === null && !isFinished)
    .flatMap((pair) => subjectOfStored(pair) ?? []);
  const orderIds = new Set(rows.orders.map((order) => order.id));
  const planned = pairsToStart(workshopPlan, orderIds, true).map(
    ({ pair, knitterId, frozen, colours }): CardSubject => ({
      key: pair.key,
      pairId: null,
      lineId: pair.lineId,
      knitterId,
      kind: pair.kind,
      frozen,
      yarn: colours,
    }),
  );
  return [...begun, ...planned];
}

function handOf(subject: CardSubject, { input }: WorkshopPlan): Hand {
  const knitterId = subject.knitterId ?? input.referenceKnitterId;
  const knitter = input.knitters.find(({ id }) => id === knitterId) ?? input.knitters[0]!;
  return input.hands.find(({ key }) => key === knitter.handKey)!;
}

/** The words a knitter likes; British where nobody is named. */
export function wordsOf(knitterId: number | null, { rows }: WorkshopPlan): KnittingWords {
  return rows.knitters.find(({ id }) => id === knitterId)?.words ?? 'british';
}

/** What the card of a pair is made from: frozen counts, today's names of colours, the knitter's needle. */
export function cardInputOf(subject: CardSubject, workshopPlan: WorkshopPlan, words: KnittingWords): CardInput {
  const { kind, frozen } = subject;
  const { style } = kind.shape;
  const named = coloursOf(workshopPlan.rows);
  const used = new Set(frozen.spec.metres.map(({ role }) => role));
  const hand = handOf(subject, workshopPlan);
  const strands = strandsOfKind(kind)
    .filter(({ role }) => used.has(role))
    .map(({ role, strand, yarn, yarnColourId }): CardStrand => {
      const colour = named.get(yarnColourId);
      const own = subject.yarn.find((each) => each.role === role && each.strand === strand);
      return {
        role,
        strand,
        yarnColourId,
        colour: colour?.name ?? 'a colour that is gone',
        yarn: yarn.name,
        fibre: yarn.fibre,
        hexes: (colour?.swatchHex ?? '').split(' ').filter((hex) => hex !== ''),
        tex: yarn.tex,
        ballMg: yarn.ballMg,
        mg: own?.allottedMg ?? 0,
      };
    });
  const needlesMm = Object.fromEntries(
    frozen.spec.pieces.map(({ name }) => {
      const role = style.body.pieces.find((piece) => piece.name === name)?.gaugeOf ?? style.body.roles[0]!.name;
      return [name, gaugeOf(hand, strandsOf(kind.shape, role)).needleMm];
    }),
  );
  return {
    body: style.body,
    spec: frozen.spec,
    person: frozen.foot.person,
    footLengthMm: frozen.foot.lengthMm,
    cuffHeightMm: frozen.cuffHeightMm,
    words,
    unitSystem: workshopPlan.settings.unitSystem,
    strands,
    needlesMm,
  };
}
