/** What the knitting is for; where it is given away, money is not shown. */
export type Purpose = 'sell' | 'order' | 'give';

export type AreaName =
  | 'home'
  | 'orders'
  | 'batch'
  | 'buying'
  | 'shelf'
  | 'cards'
  | 'pricing'
  | 'fair'
  | 'sizing'
  | 'knitters'
  | 'settings';

type NavEntry = { readonly area: AreaName; readonly href: string; readonly words: string; readonly isDaily: boolean };

const entries: readonly NavEntry[] = [
  { area: 'home', href: '/', words: 'Today', isDaily: true },
  { area: 'orders', href: '/orders', words: 'Orders', isDaily: true },
  { area: 'batch', href: '/batch', words: 'Batch', isDaily: true },
  { area: 'buying', href: '/buying', words: 'Yarn to buy', isDaily: true },
  { area: 'shelf', href: '/shelf', words: 'Yarn shelf', isDaily: false },
  { area: 'cards', href: '/cards', words: 'Knitting cards', isDaily: false },
  { area: 'pricing', href: '/pricing', words: 'Costs and prices', isDaily: true },
  { area: 'fair', href: '/fair', words: 'Fair', isDaily: false },
  { area: 'sizing', href: '/sizing', words: 'Styles and sizes', isDaily: false },
  { area: 'knitters', href: '/knitters', words: 'Knitters', isDaily: false },
  { area: 'settings', href: '/settings', words: 'Settings', isDaily: false },
];

export type NavProps = { readonly current?: AreaName | undefined; readonly purpose: Purpose };

/** Where knitting is given away nothing is sold, and what was given stands where the prices would. */
const gifts: NavEntry = { area: 'pricing', href: '/pricing/gifts', words: 'Gifts', isDaily: true };

function entriesFor(purpose: Purpose): readonly NavEntry[] {
  if (purpose !== 'give') return entries;
  return entries.filter((entry) => entry.area !== 'fair').map((entry) => (entry.area === 'pricing' ? gifts : entry));
}

const NavLink = ({ entry, current }: { entry: NavEntry; current?: AreaName | undefined }) => (
  <li>
    <a href={entry.href} aria-current={entry.area === current ? 'page' : undefined}>
      {entry.words}
    </a>
  </li>
);

/** All pages as plain words in a row; hidden on a phone, where the bar below takes its place. */
export const PageNav = ({ current, purpose }: NavProps) => (
  <nav class="page-nav" aria-label="Pages">
    <ul>
      {entriesFor(purpose).map((entry) => (
        <NavLink entry={entry} current={current} />
      ))}
    </ul>
  </nav>
);

/** The pages used daily within reach of the thumb, the rest behind one disclosure; shown on a phone alone. */
export const ThumbNav = ({ current, purpose, isSignedIn = false }: NavProps & { readonly isSignedIn?: boolean }) => {
  const shown = entriesFor(purpose);
  const rest = shown.filter((entry) => !entry.isDaily);
  const isInRest = rest.some((entry) => entry.area === current);
  return (
    <nav class="thumb-nav" aria-label="Pages">
      <ul>
        {shown
          .filter((entry) => entry.isDaily)
          .map((entry) => (
            <NavLink entry={entry} current={current} />
          ))}
        <li>
          <details>
            <summary class={isInRest ? 'holds-current' : undefined}>More</summary>
            <ul>
              {rest.map((entry) => (
                <NavLink entry={entry} current={current} />
              ))}
              {isSignedIn ? (
                <li>
                  <form method="post" action="/sign-out">
                    <button type="submit">Sign out</button>
                  </form>
                </li>
              ) : null}
            </ul>
          </details>
        </li>
      </ul>
    </nav>
  );
};
