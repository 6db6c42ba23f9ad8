import type { Card } from '#core/cards/card.ts';
import { cardOf } from '#core/cards/card-of.ts';
import type { UnitSystem } from '#core/shared/measures.ts';
import type { TriedPair } from '#flows/try/try-pair.ts';

/**
 * The steps of a tried pair in words. No colour was chosen: one all over is the knitter's yarn, several are named after
 * what they are for.
 */
export function cardOfPair({ shape, working, person, colours }: TriedPair, unitSystem: UnitSystem): Card {
  const { body } = shape.style;
  const isOne = colours === 'one colour';
  return cardOf({
    body,
    spec: working.spec,
    person,
    footLengthMm: shape.foot.lengthMm,
    cuffHeightMm: shape.cuffHeightMm,
    words: 'british',
    unitSystem,
    strands: body.roles.flatMap(({ name: role, words }, index) =>
      (shape.yarns[role] ?? []).map((yarn, strand) => ({
        ...{ role, strand, yarnColourId: isOne ? 0 : index, yarn: yarn.name },
        colour: isOne ? 'your yarn' : `the ${words.toLowerCase()} colour`,
        ...{ fibre: yarn.fibre, hexes: [], tex: yarn.tex, ballMg: yarn.ballMg, mg: 0 },
      })),
    ),
    needlesMm: {},
  });
}
