import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Page } from '#views/layout.tsx';

export type ErrorPageProps = {
  readonly title: string;
  readonly sentence: string;
  readonly back: { readonly href: string; readonly words: string };
  /** The name under which the failure stands in the log. */
  readonly errorId?: string | undefined;
  /** The form that could not be saved, to send once more with all that was typed. */
  readonly again?:
    | { readonly action: string; readonly fields: readonly (readonly [name: string, value: string])[] }
    | undefined;
  /** The record as somebody else has left it meanwhile. */
  readonly theirs?: readonly (readonly [name: string, value: string])[] | undefined;
};

/** What went wrong, in a sentence, and a way back. */
export const ErrorPage = ({ title, sentence, back, errorId, again, theirs }: ErrorPageProps) => (
  <Page title={title}>
    <p>{sentence}</p>
    {errorId ? (
      <p class="soft">
        If it happens again, look in the program’s output for <strong>{errorId}</strong>; it says what failed.
      </p>
    ) : null}
    {theirs ? (
      <section>
        <h2>As it stands now</h2>
        <dl class="working-lines">
          {theirs.map(([name, value]) => (
            <div>
              <dt>{name}</dt>
              <dd>{value}</dd>
            </div>
          ))}
        </dl>
      </section>
    ) : null}
    {theirs && again ? (
      <section>
        <h2>What you typed</h2>
        <dl class="working-lines">
          {again.fields
            .filter(([name, value]) => name !== 'version' && value !== '')
            .map(([name, value]) => (
              <div>
                <dt>{name}</dt>
                <dd>{value}</dd>
              </div>
            ))}
        </dl>
      </section>
    ) : null}
    {again ? (
      <form method="post" action={again.action}>
        {again.fields.map(([name, value]) => (
          <input type="hidden" name={name} value={value} />
        ))}
        <p>What you typed is kept on this page.</p>
        <Actions>
          <Button>{theirs ? 'Save mine over it' : 'Send it again'}</Button>
        </Actions>
      </form>
    ) : null}
    <Actions>
      <LinkButton href={back.href} kind={again ? 'quiet' : 'main'}>
        {back.words}
      </LinkButton>
    </Actions>
  </Page>
);
