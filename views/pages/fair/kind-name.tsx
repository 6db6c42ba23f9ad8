import { PairColours } from '#views/pages/batch/pair-parts.tsx';
import type { RoleColours } from '#views/pages/batch/types.ts';

/** Size and colours of like pairs; those with a flaw say so. */
export const KindName = ({
  kind,
}: {
  readonly kind: { readonly size: string; readonly colours: readonly RoleColours[]; readonly isSecond: boolean };
}) => (
  <span class="pair-name">
    <span>
      {kind.size}
      {kind.isSecond ? <small>, with a flaw</small> : null}
    </span>
    <PairColours colours={kind.colours} />
  </span>
);
