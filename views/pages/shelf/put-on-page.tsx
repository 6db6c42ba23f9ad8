import { currencySign } from '#core/shared/format.ts';
import { unitOf } from '#core/shared/measures.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import {
  ChoiceField,
  FieldRow,
  SelectField,
  type SelectGroup,
  TextField,
  UnitsField,
} from '#views/components/field.tsx';
import { unitsOfForm } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';
import { PlaceField } from '#views/pages/shelf/lot-forms.tsx';

export type PutOnPageProps = {
  readonly purpose: Purpose;
  readonly currency: string;
  /** Colours by yarn; empty when there are none yet. */
  readonly colours: readonly SelectGroup[];
  /** Places and givers that were typed before. */
  readonly places: readonly string[];
  readonly donors: readonly string[];
  readonly values: Readonly<Record<string, string>>;
  readonly problems?: readonly Problem[];
};

/** Yarn that came: bought or given, whole balls and part balls. */
export const PutOnPage = ({ purpose, currency, colours, places, donors, values, problems = [] }: PutOnPageProps) => {
  const field = (name: string) => ({ name, value: values[name], problems });
  const units = unitsOfForm(values);
  return (
    <Page
      title="Put yarn on the shelf"
      where={<a href="/shelf">Yarn shelf</a>}
      current="shelf"
      purpose={purpose}
      problems={problems}
    >
      {colours.length === 0 ? (
        <EmptyState action={{ href: '/shelf/yarns/new', words: 'Add a yarn' }}>
          Before yarn can go on the shelf, it needs a name and a colour.
        </EmptyState>
      ) : (
        <form method="post" action="/shelf/add">
          <ErrorSummary problems={problems} />
          <UnitsField units={units} />
          <SelectField {...field('colour')} label="Colour" options={colours} blank="Choose a colour" required />
          <TextField
            {...field('dyeLot')}
            label="Dye lot"
            hint="The number on the ball band; a pair never mixes two of them"
            maxlength={200}
          />
          <FieldRow>
            <TextField {...field('balls')} label="Whole balls" inputmode="numeric" unit="balls" width="short" />
            <TextField
              {...field('ballG')}
              label="Each has"
              hint="Empty: as the yarn says"
              inputmode="decimal"
              unit={unitOf('massG', units)}
              width="short"
            />
            <TextField
              {...field('parts')}
              label="Part balls, weighed"
              hint={units === 'metric' ? 'In grams, like 43 27.5' : 'In ounces, like 1.5 0.95'}
              inputmode="decimal"
            />
          </FieldRow>
          <ChoiceField
            {...field('reason')}
            value={values.reason || 'bought'}
            label="How it came"
            layout="row"
            options={[
              { value: 'bought', words: 'bought' },
              { value: 'given', words: 'given to us' },
            ]}
          />
          <FieldRow>
            <TextField
              {...field('paid')}
              label="Paid for all of it"
              hint="With its share of the postage; nothing for a gift"
              inputmode="decimal"
              unit={currencySign(currency)}
              width="short"
            />
            <TextField {...field('gotDay')} label="Day it came" type="date" required />
            <TextField
              {...field('returnable')}
              label="Until when at the shop"
              hint="Its last day to take it back, or to keep it for you; may be left empty"
              type="date"
            />
          </FieldRow>
          <PlaceField {...field('place')} places={places} />
          <FieldRow>
            <TextField
              {...field('donor')}
              label="Given by"
              hint="For a gift; may be left empty"
              maxlength={200}
              suggestions={donors}
            />
            <TextField
              {...field('worth')}
              label="Would have cost"
              hint="For a gift; may be left empty"
              inputmode="decimal"
              unit={currencySign(currency)}
              width="short"
            />
          </FieldRow>
          <Actions>
            <Button>Put it on the shelf</Button>
            <LinkButton href="/shelf" kind="quiet">
              Back to the shelf
            </LinkButton>
          </Actions>
        </form>
      )}
    </Page>
  );
};
