import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Card } from '#views/components/card.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { TextAreaField, TextField } from '#views/components/field.tsx';
import { Page, type Purpose } from '#views/layout.tsx';

export type ImportStylePageProps = {
  readonly purpose: Purpose;
  readonly text: string;
  readonly problems: readonly Problem[];
};

/** A style from a file, or pasted. */
export const ImportStylePage = ({ purpose, text, problems }: ImportStylePageProps) => (
  <Page
    title="Read a style from a file"
    where="Styles and sizes"
    current="sizing"
    purpose={purpose}
    problems={problems}
  >
    <Card>
      <form method="post" action="/styles/import" enctype="multipart/form-data">
        <ErrorSummary problems={problems} />
        <TextField name="file" label="The file" hint="A style saved here or elsewhere" type="file" accept=".json" />
        <TextAreaField
          name="text"
          label="Or paste it"
          rows={text ? 24 : 8}
          value={text}
          problems={
            problems.length > 0 ? [{ ...problems[0]!, message: 'Nothing was stored: see above what to mend.' }] : []
          }
        />
        <p class="soft">It is checked at every size before it is kept. A name that is taken gets a number.</p>
        <Actions>
          <Button>Read the style</Button>
          <LinkButton href="/styles" kind="quiet">
            Leave it
          </LinkButton>
        </Actions>
      </form>
    </Card>
  </Page>
);
