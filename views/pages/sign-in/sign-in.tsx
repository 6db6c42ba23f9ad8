import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button } from '#views/components/actions.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { TextField } from '#views/components/field.tsx';
import { Page } from '#views/layout.tsx';

export type SignInPageProps = {
  /** The page to go to afterwards. */
  readonly to: string;
  readonly problems: readonly Problem[];
  /** What just happened, in a sentence. */
  readonly notice: string | null;
};

/** One field. What was typed is not shown again: it is a secret, and it was wrong. */
export const SignInPage = ({ to, problems, notice }: SignInPageProps) => (
  <Page title="Sign in" problems={problems} isBare>
    <ErrorSummary problems={problems} />
    {notice ? (
      <p role="status" class="notice">
        {notice}
      </p>
    ) : null}
    <form method="post" action="/sign-in">
      <input type="hidden" name="to" value={to} />
      <TextField
        name="passphrase"
        type="password"
        label="Passphrase"
        hint="The one whoever set up this workshop has chosen. This browser then stays signed in for 30 days."
        autocomplete="current-password"
        problems={problems}
        required
      />
      <Actions>
        <Button>Sign in</Button>
      </Actions>
    </form>
  </Page>
);
