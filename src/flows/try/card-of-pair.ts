import type { Card } from '#core/cards/card.ts';
import { cardOf } from '#core/cards/card-of.ts';
import type { UnitSystem } from '#core/shared/measures.ts';
import type { TriedPair } from '#flows/try/try-pair.ts';

/** The steps of a tried pair in words. Its colours are named after what they are for, since none was chosen. */
export function cardOfPair({ shape, working, person }: TriedPair, unitSystem: UnitSystem): Card {
  const { body } = shape.style;
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
        ...{ role, strand, yarnColourId: index, colour: `the ${words.toLowerCase()} colour`, yarn: yarn.name },
        ...{ fibre: yarn.fibre, hexes: [], tex: yarn.tex, ballMg: yarn.ballMg, mg: 0 },
      })),
    ),
    needlesMm: {},
  });
}
