import { Actions, LinkButton } from '#views/components/actions.tsx';
import { Page } from '#views/layout.tsx';

/** A form came from somebody who is not signed in, or no longer. */
export const SignedOutPage = ({ signIn }: { readonly signIn: string }) => (
  <Page title="You are signed out" isBare>
    <p>
      Nothing was saved. Sign in on another tab, then come back to this one, go one page back, where your browser still
      has what you typed, and send it again.
    </p>
    <Actions>
      <LinkButton href={signIn}>Sign in</LinkButton>
    </Actions>
  </Page>
);
