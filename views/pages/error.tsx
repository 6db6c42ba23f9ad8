import { Actions, LinkButton } from '#views/components/actions.tsx';
import { Page } from '#views/layout.tsx';

export type ErrorPageProps = {
  readonly title: string;
  readonly sentence: string;
  readonly back: { readonly href: string; readonly words: string };
  /** The name under which the failure stands in the log. */
  readonly errorId?: string | undefined;
};

/** What went wrong, in a sentence, and a way back. */
export const ErrorPage = ({ title, sentence, back, errorId }: ErrorPageProps) => (
  <Page title={title}>
    <p>{sentence}</p>
    {errorId ? (
      <p class="soft">
        If it happens again, look in the program’s output for <strong>{errorId}</strong>; it says what failed.
      </p>
    ) : null}
    <Actions>
      <LinkButton href={back.href}>{back.words}</LinkButton>
    </Actions>
  </Page>
);
