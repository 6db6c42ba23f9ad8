import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Card } from '#views/components/card.tsx';
import { Caution } from '#views/components/caution.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { type SelectOption, TextField } from '#views/components/field.tsx';
import { Page, type Purpose } from '#views/layout.tsx';
import { fieldOf, type StyleForm } from '#views/pages/styles/form-parts.tsx';
import {
  CheckFields,
  JoinFields,
  LengthFields,
  MarkFields,
  PiecesFields,
  RoleFields,
  SettingFields,
} from '#views/pages/styles/part-fields.tsx';
import { type FormValues, type PreviewProps, SampleFields, StylePreview } from '#views/pages/styles/sample.tsx';

export type EditStylePageProps = {
  readonly purpose: Purpose;
  readonly id: number;
  readonly name: string;
  readonly version: number;
  readonly values: FormValues;
  /** The fields as they are stored, so that what was changed is shown opened. */
  readonly stored: FormValues;
  /** What the last button changed; empty for none. */
  readonly touched: string;
  readonly problems: readonly Problem[];
  readonly yarns: readonly SelectOption[];
  readonly fabrics: readonly SelectOption[];
  readonly settingHelp: StyleForm['settingHelp'];
  readonly preview: PreviewProps;
  /** Somebody else saved this style since the form was opened. */
  readonly isOthersNewer?: boolean;
};

function formOf({ id, values, stored, touched, problems, fabrics, settingHelp }: EditStylePageProps): StyleForm {
  const names = new Set([...Object.keys(values), ...Object.keys(stored)]);
  const changed = [...names].filter((name) => (values[name] ?? '') !== (stored[name] ?? ''));
  const paths = [...changed, ...problems.map((problem) => problem.path), ...(touched ? [touched] : [])];
  const isUnder = (path: string, part: string) => path === part || path.startsWith(`${part}.`);
  return {
    ...{ action: `/styles/${id}/edit`, values, problems, fabrics, settingHelp },
    isOpen: (part) => paths.some((path) => isUnder(path, part)),
  };
}

/** The form of a style, and beside it what the style comes to. */
export const EditStylePage = (props: EditStylePageProps) => {
  const { purpose, id, name, version, values, problems, yarns, preview, isOthersNewer = false } = props;
  const form = formOf(props);
  return (
    <Page title={`Change ${name}`} where="Styles and sizes" current="sizing" purpose={purpose} problems={problems}>
      <ErrorSummary problems={problems} />
      {isOthersNewer ? (
        <Caution title="Somebody else saved this style while you had it open">
          What you typed is below. Saving again makes yours the newest version; the other's stays among the older ones.
        </Caution>
      ) : null}
      <form
        method="post"
        action={form.action}
        class="style-form"
        hx-post="/styles/preview"
        hx-trigger="input delay:400ms"
        hx-target="#style-preview"
        hx-swap="outerHTML"
        hx-sync="replace"
      >
        <input type="hidden" name="version" value={version} />
        {/* Enter presses the first button: it looks, and neither saves nor removes anything. */}
        <aside class="style-look" aria-label="As it comes out">
          <Card title="As it comes out">
            <SampleFields values={values} yarns={yarns} problems={problems} />
            <Actions>
              <Button kind="quiet" name="do" value="look" formnovalidate>
                Look
              </Button>
            </Actions>
            <StylePreview {...preview} />
          </Card>
        </aside>
        <div class="style-fields stack-cards">
          <Card title="The style">
            <input type="hidden" name="make" value={values.make ?? '2'} />
            <TextField {...fieldOf(form, 'style')} label="Name" width="long" maxlength={80} />
            <p class="soft">A pair is two slippers: two of each piece are made.</p>
          </Card>
          <PiecesFields form={form} />
          <LengthFields form={form} />
          <SettingFields form={form} />
          <MarkFields form={form} />
          <JoinFields form={form} />
          <CheckFields form={form} />
          <RoleFields form={form} />
          <p class="soft">Pairs that are begun keep the version they were begun from.</p>
          <Actions>
            <Button name="do" value="save">
              Save the style
            </Button>
            <LinkButton href={`/styles/${id}`} kind="quiet">
              Leave it
            </LinkButton>
          </Actions>
        </div>
      </form>
    </Page>
  );
};
