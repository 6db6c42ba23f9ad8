import { type Child, useContext } from 'hono/jsx';
import type { UnitSystem } from '#core/shared/measures.ts';
import type { Problem } from '#core/shared/problem.ts';
import type { SettingName } from '#core/shared/settings.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Card } from '#views/components/card.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { type SelectOption, TextField } from '#views/components/field.tsx';
import { Page, ThisWorkshop } from '#views/layout.tsx';
import { SeenSettings, SettingField } from '#views/pages/settings/setting-field.tsx';

/** The settings of this page; wage and running costs stand with costs and prices. */
export const settingGroups: readonly { readonly title: string; readonly names: readonly SettingName[] }[] = [
  { title: 'The workshop', names: ['purpose', 'workshopName', 'currency', 'unitSystem', 'timeZone'] },
  {
    title: 'Yarn',
    names: [
      'confidence',
      'buyAt',
      'oneSupplierPerColour',
      'mixLotsInGifts',
      'orderByBufferDays',
      'leastPartBallG',
      'scaleStepG',
    ],
  },
  { title: 'Sizes and pairs', names: ['usWomenOffset', 'spareRatio'] },
  { title: 'Selling and posting', names: ['quoteDays', 'packingG', 'cashStepCents'] },
  { title: 'Time and knitters', names: ['knittingMinutesPerHour', 'dailyCapMin', 'referenceKnitterId'] },
];

export const settingNamesHere: readonly SettingName[] = settingGroups.flatMap((group) => group.names);

export type SettingsPageProps = {
  readonly values: Readonly<Record<string, string>>;
  readonly seen: string;
  readonly currency: string;
  /** What the weights are shown in. */
  readonly units: UnitSystem;
  readonly problems: readonly Problem[];
  readonly knitters: readonly SelectOption[];
  readonly isSample: boolean;
  /** What somebody did in the sample since it was loaded; null for nothing. */
  readonly ownWork: string | null;
  readonly isEmpty: boolean;
  readonly clearingWord: string;
  /** What was typed to clear. */
  readonly typed: string;
  /** What just happened, in a sentence. */
  readonly notice: Child | null;
};

const Passphrase = () => {
  const { isSignedIn } = useContext(ThisWorkshop);
  return (
    <Card title="Who may come in">
      <p>
        <a href="/settings/passphrase">The passphrase</a>: set it, change it, take it away
      </p>
      {isSignedIn ? (
        <form method="post" action="/sign-out">
          <Actions>
            <Button kind="quiet">Sign out of this browser</Button>
          </Actions>
        </form>
      ) : null}
    </Card>
  );
};

const Copies = ({ problems }: { readonly problems: readonly Problem[] }) => (
  <Card title="Copies">
    <p>
      The whole workshop is one file. Save a copy now and then, somewhere else: on a stick, or with a friend. A copy can
      be opened here or on another machine. It holds no passphrase: each workshop keeps its own.
    </p>
    <Actions>
      <LinkButton href="/settings/copy" kind="quiet">
        Save a copy
      </LinkButton>
    </Actions>
    <form method="post" action="/settings/copy" enctype="multipart/form-data">
      <TextField
        name="file"
        type="file"
        accept=".db"
        label="Open a copy"
        hint="Takes the place of what is here now. What is here is kept in a file beside it first."
        problems={problems}
      />
      <Actions>
        <Button kind="quiet">Open this copy</Button>
      </Actions>
    </form>
  </Card>
);

const Clear = ({ isSample, ownWork, isEmpty, clearingWord, typed, problems }: SettingsPageProps) => (
  <section class="card" id="clear">
    <h2>{isSample ? 'Clear the sample season' : 'Clear all'}</h2>
    {isEmpty ? (
      <p>There is nothing here to clear.</p>
    ) : (
      <form method="post" action="/settings/clear">
        {isSample && ownWork === null ? (
          <p>Everything in the sample goes. You can have it again at any time.</p>
        ) : (
          <>
            <p>
              {isSample
                ? `Takes away everything in the sample, with ${ownWork}.`
                : 'Takes away every order, yarn, knitter, price and setting, and the history.'}{' '}
              A copy of it all is kept in a file beside the workshop first; <em>open a copy</em> brings it back.
            </p>
            <TextField
              name="typed"
              label={`To be sure, type “${clearingWord}”`}
              value={typed}
              problems={problems}
              width="medium"
            />
          </>
        )}
        <Actions>
          <Button kind="remove">{isSample ? 'Clear the sample season' : 'Clear everything'}</Button>
        </Actions>
      </form>
    )}
    {isSample ? null : (
      <p id="see-sample">
        The sample season, a made-up workshop to look around in, opens only where nothing else is:{' '}
        {isEmpty ? (
          <>
            <a href="/">open it on Today</a>.
          </>
        ) : (
          <>
            <a href="/settings/copy">save a copy</a> of your own work, clear everything here, and Today offers it.
            Afterwards <a href="#field-file">open your copy</a> to have your own work back.
          </>
        )}
      </p>
    )}
  </section>
);

export const SettingsPage = (props: SettingsPageProps) => {
  const { values, seen, currency, units, problems, knitters, notice } = props;
  return (
    <Page title="Settings" current="settings" problems={problems}>
      <ErrorSummary problems={problems} />
      {notice ? (
        <p role="status" class="notice">
          {notice}
        </p>
      ) : null}
      <form method="post" action="/settings">
        <SeenSettings seen={seen} />
        {settingGroups.map((group) => (
          <Card title={group.title}>
            <div class="stack">
              {group.names.map((name) => (
                <SettingField
                  name={name}
                  values={values}
                  problems={problems}
                  currency={currency}
                  units={units}
                  rows={{ options: knitters, blank: 'the first knitter of the list' }}
                />
              ))}
            </div>
          </Card>
        ))}
        <Actions>
          <Button>Save the settings</Button>
        </Actions>
      </form>
      <section>
        <h2>Elsewhere</h2>
        <ul>
          <li>
            <a href="/pricing/hour">What an hour costs</a>: wage, running costs, a note on tax
          </li>
          <li>
            <a href="/pricing#outlets">Outlets</a>: prices, fees and tax at each
          </li>
          <li>
            <a href="/knitters">Knitters</a>: hours, days off, swatches
          </li>
          <li>
            <a href="/settings/history">History</a>: what was changed, the last 200 times
          </li>
        </ul>
      </section>
      <Passphrase />
      <Copies problems={problems} />
      <Clear {...props} />
      <p class="soft">
        Tax, product safety and labelling rules are local: check yours, or ask someone licensed to advise. What stands
        here are estimates, not advice.
      </p>
    </Page>
  );
};
