import type { BuyingAnswer, BuyingProblem } from '#core/buying/problem.ts';

/** A search to make. `stop` holds one number: anything but 0 asks to end it. */
export type SearchOrder = {
  readonly id: number;
  readonly problem: BuyingProblem;
  /** A list that is known, to begin from and to better. */
  readonly known: { readonly packs: BuyingAnswer['packs']; readonly cents: number };
  readonly deadlineMs: number;
  readonly stop: SharedArrayBuffer;
};

/** What the worker says while it looks, and how it ended. */
export type SearchNews =
  | { readonly kind: 'ready' }
  | { readonly id: number; readonly kind: 'list'; readonly packs: BuyingAnswer['packs'] }
  | { readonly id: number; readonly kind: 'bound'; readonly bound: number }
  | { readonly id: number; readonly kind: 'ended'; readonly how: 'proven' | 'interrupted' | 'failed' };
