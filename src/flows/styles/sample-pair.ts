import type { Card } from '#core/cards/card.ts';
import type { UnitSystem } from '#core/shared/measures.ts';
import { type Result, succeed } from '#core/shared/problem.ts';
import type { StyleBody } from '#core/styles/style.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { type FlatPieceView, flatPiecesOf } from '#flows/styles/flat-pieces-of.ts';
import { cardOfPair } from '#flows/try/card-of-pair.ts';
import { type TriedPair, type TryValues, tryPair } from '#flows/try/try-pair.ts';

/** A pair in a style at a sample size. */
export type SamplePair = {
  readonly tried: TriedPair;
  readonly grams: number;
  readonly card: Card;
  readonly flat: readonly FlatPieceView[];
};

/** The size that a style is looked at first: a baby's bootie for a baby, everything else for a woman. */
export function firstSample(body: Pick<StyleBody, 'style'>, system: UnitSystem): Pick<TryValues, 'person' | 'size'> {
  const isForBabies = /\bbab(y|ies)\b/i.test(body.style);
  return isForBabies
    ? { person: 'child', size: system === 'metric' ? '9.5 cm' : '3.74 in' }
    : { person: 'woman', size: '38' };
}

/** Reckons a pair of any style, stored or not, as *try one pair* does, with each part in a colour of its own. */
export function samplePair(
  values: TryValues,
  current: WorkshopPlan,
  style: { readonly versionId: number; readonly body: StyleBody },
): Result<SamplePair> {
  const { versionId, body } = style;
  const tried = tryPair(values, current, { versionId, name: body.style, body }, 'own colours');
  if (!tried.ok) return tried;
  return succeed({
    tried: tried.value,
    grams: tried.value.grams.reduce((sum, each) => sum + each.grams, 0),
    card: cardOfPair(tried.value, current.settings.unitSystem),
    flat: flatPiecesOf(tried.value.working.spec, body),
  });
}
