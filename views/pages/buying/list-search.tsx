import { formatCents } from '#core/shared/format.ts';
import { Actions, Button } from '#views/components/actions.tsx';
import type { BuyingPageProps, SearchView } from '#views/pages/buying/buying-page.tsx';

type ProgressProps = Pick<BuyingPageProps, 'searches' | 'currency'>;

function progressWords(name: string, { totalCents, boundCents }: SearchView, currency: string): string {
  const saving =
    totalCents === boundCents
      ? 'it cannot be cheaper'
      : `at most ${formatCents(totalCents - boundCents, currency)} less`;
  return `the ${name} list comes to ${formatCents(totalCents, currency)} so far, ${saving}`;
}

/**
 * That a cheaper list is being looked for, with how far it got; nothing when none is. It asks for itself every second,
 * and the server has the page loaded anew when the search has ended. Without a script a link shows how far it is.
 */
export const SearchProgress = ({ searches, currency }: ProgressProps) => {
  const looking = (['likely', 'safe'] as const).flatMap((name) => {
    const search = searches[name];
    return search?.state === 'looking' ? [{ name, search }] : [];
  });
  if (looking.length === 0) return null;
  return (
    <div
      id="list-search"
      class="no-print stack"
      hx-get="/buying/search"
      hx-trigger="every 1s"
      hx-target="this"
      hx-swap="outerHTML"
    >
      <p>
        Looking for a cheaper list:{' '}
        {looking.map(({ name, search }) => progressWords(name, search, currency)).join('; ')}.{' '}
        <a href="/buying">See how far it is</a>
      </p>
      <form method="post" action="/buying/search/stop">
        <Actions>
          <Button kind="quiet">Stop looking</Button>
        </Actions>
      </form>
    </div>
  );
};

type LookLongerProps = { readonly name: 'likely' | 'safe'; readonly search: SearchView | null };

/** Where a search ended without a proof: a button that looks once more. */
export const LookLonger = ({ name, search }: LookLongerProps) =>
  search === null || search.state === 'looking' ? null : (
    <form class="no-print" method="post" action="/buying/search">
      <input type="hidden" name="list" value={name} />
      <Actions>
        <Button kind="quiet">
          {search.state === 'outOfTime' ? 'Look longer for a cheaper list' : 'Look for a cheaper list again'}
        </Button>
      </Actions>
    </form>
  );
