import type { MadePairs } from '#core/buying/count-pairs.ts';
import type { MostPairs } from '#core/buying/most-pairs.ts';
import type { Ball } from '#core/buying/one-more-ball.ts';
import type { ShelfQuestion } from '#core/buying/pair-ways.ts';

/** A program as the solver takes it: columns and rows by position, the rows' terms one after another. */
export type ProgramData = {
  readonly numCols: number;
  readonly numRows: number;
  readonly colCost: Float64Array;
  readonly colLower: Float64Array;
  readonly colUpper: Float64Array;
  readonly rowLower: Float64Array;
  readonly rowUpper: Float64Array;
  /** 1 where a column is whole. */
  readonly integrality: Int32Array;
  readonly matrix: {
    readonly format: 'csr';
    readonly numRows: number;
    readonly numCols: number;
    readonly starts: Int32Array;
    readonly indices: Int32Array;
    readonly values: Float64Array;
  };
};

/** A cheaper list to look for. */
export type ListTask = {
  readonly kind: 'list';
  readonly model: ProgramData;
  /** Column values of a list that is known, to begin from. */
  readonly start: Float64Array;
};

/** The most pairs to look for, and then what each ball would add. */
export type PairsTask = {
  readonly kind: 'pairs';
  readonly question: ShelfQuestion;
  readonly balls: readonly Ball[];
  /** Pairs that are known to be possible, to begin from. */
  readonly start: readonly MadePairs[];
};

export type SearchTask = ListTask | PairsTask;

/** A search to make. `stop` holds one number: anything but 0 asks to end it. */
export type SearchOrder<Task extends SearchTask = SearchTask> = {
  readonly id: number;
  readonly task: Task;
  readonly deadlineMs: number;
  readonly stop: SharedArrayBuffer;
};

/** What is found on the way. */
export type SearchFinding =
  | { readonly kind: 'list'; readonly values: Float64Array }
  | { readonly kind: 'bound'; readonly bound: number }
  /** `ball` by its place, null without one. */
  | { readonly kind: 'pairs'; readonly ball: number | null; readonly answer: MostPairs };

/** What a worker says while it looks, and how it ended. */
export type SearchNews =
  | { readonly kind: 'ready' }
  | ({ readonly id: number } & SearchFinding)
  | { readonly id: number; readonly kind: 'ended'; readonly how: 'done' | 'interrupted' | 'failed' };
