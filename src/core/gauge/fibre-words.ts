import type { YarnsByRole } from '#core/gauge/hand.ts';
import type { Person } from '#core/sizing/foot.ts';

const nothingSaid = /^(?:\?+|-+|unknown|not known|no idea|mixed|mixture|various|unlabelled|unlabeled)\b|^[?-]+$/i;

/** Whether nobody knows what a yarn is made of: nothing is said, or that it is not known. */
export function isFibreUnknown(fibre: string | null): boolean {
  return fibre === null || fibre.trim() === '' || nothingSaid.test(fibre.trim());
}

export const unknownFibre = 'Fibre unknown: hand wash, not for babies.';

/**
 * What to be careful about with a child's pair of a yarn that nobody knows; any yarn of the pair, since a cuff is nearer
 * to the mouth than the foot.
 *
 * @returns the sentence; null where all fibres are known or the pair is for no child
 * Source: our own rule
 * @example childFibreWords({ foot: { person: 'woman' }, yarns: { foot: [{ fibre: null }] } }) // => null
 * @example childFibreWords({ foot: { person: 'child' }, yarns: { foot: [{ fibre: 'wool' }], cuff: [{ fibre: null }] } }) // => 'Fibre unknown: hand wash, not for babies.'
 */
export function childFibreWords(shape: {
  readonly foot: { readonly person: Person };
  readonly yarns: YarnsByRole;
}): string | null {
  const isUnknown = Object.values(shape.yarns).some((yarns) => yarns.some(({ fibre }) => isFibreUnknown(fibre)));
  return shape.foot.person === 'child' && isUnknown ? unknownFibre : null;
}
