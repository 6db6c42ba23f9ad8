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

/** A search to make. `stop` holds one number: anything but 0 asks to end it. */
export type SearchOrder = {
  readonly id: number;
  readonly model: ProgramData;
  /** Column values of a list that is known, to begin from. */
  readonly start: Float64Array;
  readonly deadlineMs: number;
  readonly stop: SharedArrayBuffer;
};

/** What the worker says while it looks, and how it ended. */
export type SearchNews =
  | { readonly kind: 'ready' }
  | { readonly id: number; readonly kind: 'list'; readonly values: Float64Array }
  | { readonly id: number; readonly kind: 'bound'; readonly bound: number }
  | { readonly id: number; readonly kind: 'ended'; readonly how: 'proven' | 'interrupted' | 'failed' };
