import { formatMassRange } from '#views/format.ts';

/** How far an amount of yarn may lie to either side, small beside it; for totals alone. */
export const MassRange = ({ sdG }: { readonly sdG: number }) => <small class="range"> {formatMassRange(sdG)}</small>;
