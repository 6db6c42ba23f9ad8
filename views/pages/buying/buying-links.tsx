import { countOf } from '#core/shared/format.ts';

export type OnWay = { readonly parcels: number; readonly overdue: number };

function parcelWords({ parcels, overdue }: OnWay): string {
  if (parcels === 0) return 'What was ordered';
  const late = overdue === 0 ? '' : `, ${overdue === parcels ? 'overdue' : `${overdue} of them overdue`}`;
  return `${countOf(parcels, 'parcel', 'parcels')} on the way${late}`;
}

/** What else there is about buying: what was ordered, bought elsewhere, how sure the amounts are, dye lots. */
export const BuyingLinks = ({ onWay, hasNeeds }: { readonly onWay: OnWay; readonly hasNeeds: boolean }) => (
  <p class="no-print">
    <a href="/buying/purchases">
      {onWay.overdue > 0 ? <strong class="late-words">{parcelWords(onWay)}</strong> : parcelWords(onWay)}
    </a>
    {' · '}
    <a href="/buying/elsewhere">Bought elsewhere</a>
    {hasNeeds ? (
      <>
        {' · '}
        <a href="/buying/enough">Is it enough?</a>
        {' · '}
        <a href="/buying/dye-lots">Which dye lot for which pair</a>
        {' · '}
        <a href="/buying/instead">A like yarn instead</a>
      </>
    ) : null}
  </p>
);
