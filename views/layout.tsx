import { type Child, createContext, type FC, useContext } from 'hono/jsx';
import type { Day } from '#core/shared/calendar.ts';
import type { UnitSystem } from '#core/shared/measures.ts';
import type { Problem } from '#core/shared/problem.ts';
import { ChipStitches } from '#views/components/chip.tsx';
import { type AreaName, PageNav, type Purpose, ThumbNav } from '#views/components/nav.tsx';

export type { AreaName, Purpose } from '#views/components/nav.tsx';

export type PageProps = {
  /** What this is, in words: "Twelve pairs for the winter market". Heading and window title. */
  readonly title: string;
  /** Where am I, small above the heading: "Batch 7, gathered from 5 orders". */
  readonly where?: Child;
  readonly current?: AreaName;
  /** `give` hides money. Without it the workshop's own purpose counts. */
  readonly purpose?: Purpose;
  /** What was wrong with the form on this page; the window title then begins with "Error:". */
  readonly problems?: readonly Problem[];
  /** Says why something failed; the window title then begins with "Error:" too. */
  readonly isError?: boolean;
  /** For strangers: without the ways to other pages. */
  readonly isBare?: boolean;
  readonly children?: Child;
};

export type WorkshopState = {
  readonly isSample: boolean;
  readonly purpose: Purpose;
  /** How lengths and masses are shown. */
  readonly unitSystem: UnitSystem;
  /** The present day: days of another year are shown with it. */
  readonly today: Day;
  /** Somebody signed in, and can sign out again. */
  readonly isSignedIn?: boolean;
};

/** What every page knows of the workshop it belongs to. */
export const ThisWorkshop = createContext<WorkshopState>({
  isSample: false,
  purpose: 'sell',
  unitSystem: 'metric',
  today: '',
});

const SampleBand = () => (
  <aside class="sample-band" aria-label="Sample season">
    <p>
      Sample season: look around, change anything. <a href="/settings#clear">Clear it and begin your own</a>
    </p>
  </aside>
);

/** Addresses of the files every page loads; the server puts the hash of their content in. */
export const AssetUrls = createContext({ style: '/assets/style.css', script: '/assets/htmx.js' });

export const Page: FC<PageProps> = (props) => {
  const {
    title,
    where,
    current,
    purpose: ownPurpose,
    problems = [],
    isError = false,
    isBare = false,
    children,
  } = props;
  const urls = useContext(AssetUrls);
  const workshop = useContext(ThisWorkshop);
  const purpose = ownPurpose ?? workshop.purpose;
  return (
    <html lang="en-GB">
      <head>
        <meta charset="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta name="color-scheme" content="light dark" />
        <title>{`${isError || problems.length > 0 ? 'Error: ' : ''}${title} – Toe to Till`}</title>
        <link rel="icon" href="/assets/favicon.svg" type="image/svg+xml" />
        <link rel="stylesheet" href={urls.style} />
        <script src={urls.script} defer></script>
      </head>
      <body>
        <a class="skip-link" href="#main">
          Skip to the page
        </a>
        <ChipStitches />
        <header class="site-header">
          <a class="site-name" href="/">
            Toe to Till
          </a>
          {isBare ? null : <PageNav current={current} purpose={purpose} />}
        </header>
        {workshop.isSample ? <SampleBand /> : null}
        <main id="main" tabindex={-1}>
          <div class="page-heading">
            {where ? <p class="where">{where}</p> : null}
            <h1>{title}</h1>
          </div>
          {children}
        </main>
        {isBare ? null : <ThumbNav current={current} purpose={purpose} isSignedIn={workshop.isSignedIn === true} />}
      </body>
    </html>
  );
};
