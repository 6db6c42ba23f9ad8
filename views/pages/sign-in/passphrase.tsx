import type { Child } from 'hono/jsx';
import { countOf } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button } from '#views/components/actions.tsx';
import { Card } from '#views/components/card.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { TextField } from '#views/components/field.tsx';
import { Page } from '#views/layout.tsx';

export type PassphrasePageProps = {
  readonly hasPassphrase: boolean;
  /** Others can reach this workshop now, so the passphrase may be changed and not taken away. */
  readonly isReachedByOthers: boolean;
  /** On how many browsers somebody is signed in. */
  readonly sessions: number;
  /** What a good passphrase is. */
  readonly hint: Child;
  readonly problems: readonly Problem[];
  /** What just happened, in a sentence. */
  readonly notice: string | null;
};

const State = ({ hasPassphrase, isReachedByOthers, sessions }: PassphrasePageProps) => (
  <p>
    {isReachedByOthers
      ? 'Others can reach this workshop over the network, so everybody signs in, on this machine too.'
      : 'This workshop answers on this machine alone, and nobody signs in here. With a passphrase it can also be opened to the phones on your home network: stop it, and start it with HOST=0.0.0.0 npm start.'}{' '}
    {hasPassphrase ? 'Changing the passphrase signs everybody out.' : null}{' '}
    {sessions > 0 ? `${countOf(sessions, 'browser is', 'browsers are')} signed in.` : null}
  </p>
);

export const PassphrasePage = (props: PassphrasePageProps) => {
  const { hasPassphrase, isReachedByOthers, hint, problems, notice } = props;
  const words = hasPassphrase ? 'Change the passphrase' : 'Set a passphrase';
  return (
    <Page title={words} where={<a href="/settings">Settings</a>} current="settings" problems={problems}>
      <ErrorSummary problems={problems} />
      {notice ? (
        <p role="status" class="notice">
          {notice}
        </p>
      ) : null}
      <State {...props} />
      <Card>
        <form method="post" action="/settings/passphrase">
          <div class="stack">
            {hasPassphrase ? (
              <TextField
                name="present"
                type="password"
                label="Present passphrase"
                autocomplete="current-password"
                problems={problems}
              />
            ) : null}
            <TextField
              name="passphrase"
              type="password"
              label={hasPassphrase ? 'New passphrase' : 'Passphrase'}
              hint={hint}
              autocomplete="new-password"
              problems={problems}
            />
            <TextField
              name="again"
              type="password"
              label="The same once more"
              autocomplete="new-password"
              problems={problems}
            />
          </div>
          <Actions>
            <Button>{words}</Button>
          </Actions>
        </form>
      </Card>
      {hasPassphrase && !isReachedByOthers ? (
        <Card title="Take the passphrase away">
          <form method="post" action="/settings/passphrase/remove">
            <TextField
              name="presentToRemove"
              type="password"
              label="Present passphrase"
              autocomplete="current-password"
              problems={problems}
            />
            <Actions>
              <Button kind="remove">Take it away</Button>
            </Actions>
          </form>
        </Card>
      ) : null}
    </Page>
  );
};
