import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { DataTable } from '#views/components/table.tsx';
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
  /** Where somebody else saved meanwhile: each field that stands otherwise now than it was typed. */
  readonly compared?:
    | readonly { readonly label: string; readonly theirs: string; readonly yours: string }[]
    | undefined;
  /** What was typed into a form that cannot be sent again. */
  readonly typed?: readonly (readonly [label: string, value: string])[] | undefined;
};

const orNothing = (words: string) => (words === '' ? 'nothing' : words);

const Compared = ({ compared }: { readonly compared: NonNullable<ErrorPageProps['compared']> }) =>
  compared.length === 0 ? (
    <p>What is stored now is just what you typed.</p>
  ) : (
    <DataTable
      caption="Where it differs from what you typed"
      columns={[
        { name: 'Field', kind: 'heading', cell: ({ label }) => label },
        { name: 'As it stands now', cell: ({ theirs }) => orNothing(theirs) },
        { name: 'What you typed', cell: ({ yours }) => orNothing(yours) },
      ]}
      rows={compared}
    />
  );

/** What went wrong, in a sentence, and a way back. */
export const ErrorPage = ({ title, sentence, back, errorId, again, compared, typed = [] }: ErrorPageProps) => (
  <Page title={title} isError>
    <p>{sentence}</p>
    {errorId ? (
      <p class="soft">
        If it happens again, look in the program’s output for <strong>{errorId}</strong>; it says what failed.
      </p>
    ) : null}
    {compared ? <Compared compared={compared} /> : null}
    {typed.length === 0 ? null : (
      <section>
        <h2>What you typed</h2>
        <dl class="working-lines">
          {typed.map(([label, value]) => (
            <div>
              <dt>{label}</dt>
              <dd>{value}</dd>
            </div>
          ))}
        </dl>
      </section>
    )}
    {again ? (
      <form method="post" action={again.action}>
        {again.fields.map(([name, value]) => (
          <input type="hidden" name={name} value={value} />
        ))}
        <p>What you typed is kept on this page.</p>
        <Actions>
          <Button>{compared ? 'Save mine over it' : 'Send it again'}</Button>
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
