import { currencySign } from '#core/shared/format.ts';
import { unitOf } from '#core/shared/measures.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import {
  FieldRow,
  SelectField,
  type SelectGroup,
  type SelectOption,
  TextField,
  UnitsField,
} from '#views/components/field.tsx';
import { unitsOfForm } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';

export type ElsewherePageProps = {
  readonly purpose: Purpose;
  readonly currency: string;
  readonly shops: readonly SelectOption[];
  /** Colours by yarn. */
  readonly choices: readonly SelectGroup[];
  readonly values: Readonly<Record<string, string>>;
  readonly problems: readonly Problem[];
};

/** Yarn bought in another shop, or at another price: it goes on the shelf, and the need falls by it. */
export const ElsewherePage = ({ purpose, currency, shops, choices, values, problems }: ElsewherePageProps) => {
  const field = (name: string) => ({ name, value: values[name], problems });
  const units = unitsOfForm(values);
  const sign = currencySign(currency);
  return (
    <Page
      title="Bought elsewhere"
      where={<a href="/buying">Yarn to buy</a>}
      current="buying"
      purpose={purpose}
      problems={problems}
    >
      {choices.length === 0 ? (
        <EmptyState action={{ href: '/shelf/yarns/new', words: 'Add a yarn' }}>There is no yarn yet.</EmptyState>
      ) : (
        <form method="post" action="/buying/elsewhere">
          <ErrorSummary problems={problems} />
          <UnitsField units={units} />
          <p>It goes on the shelf at what you paid, and so much less is to buy.</p>
          <SelectField {...field('colour')} label="Colour" options={choices} blank="Choose a colour" required />
          <SelectField
            {...field('shop')}
            label="Shop"
            hint="At a shop of yours a pack without a price gets this one. A market or a friend is somewhere else."
            options={shops}
            blank="Somewhere else"
          />
          <FieldRow>
            <TextField {...field('packs')} label="Bought" inputmode="numeric" unit="packs" width="short" required />
            <TextField
              {...field('ballsPerPack')}
              label="Balls in a pack"
              hint="Empty if sold singly"
              inputmode="numeric"
              unit="balls"
              width="short"
            />
            <TextField
              {...field('ballG')}
              label="A ball has"
              hint="Empty: as the yarn says"
              inputmode="decimal"
              unit={unitOf('massG', units)}
              width="short"
            />
          </FieldRow>
          <FieldRow>
            <TextField
              {...field('price')}
              label="A pack cost"
              hint="Like 8.90; 0 if it was free"
              inputmode="decimal"
              unit={sign}
              width="short"
              required
            />
            <TextField
              {...field('shipping')}
              label="Postage"
              hint="May be left empty"
              inputmode="decimal"
              unit={sign}
              width="short"
            />
          </FieldRow>
          <FieldRow>
            <TextField {...field('dyeLot')} label="Dye lot" hint="On the ball band" maxlength={200} />
            <TextField {...field('day')} label="Day you got it" type="date" required />
          </FieldRow>
          <Actions>
            <Button>Put it on the shelf</Button>
            <LinkButton href="/buying" kind="quiet">
              Back to yarn to buy
            </LinkButton>
          </Actions>
        </form>
      )}
    </Page>
  );
};
