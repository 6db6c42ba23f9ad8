import { formatRange } from '#core/shared/format.ts';

/** How far a value may lie to either side, small beside it; for totals and workings only. */
export const Range = ({ spread }: { readonly spread: number }) => <small class="range"> {formatRange(spread)}</small>;
