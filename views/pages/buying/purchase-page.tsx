import type { Day } from '#core/shared/calendar.ts';
import { countOf, currencySign, formatCents } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button } from '#views/components/actions.tsx';
import { Card } from '#views/components/card.tsx';
import { Chip } from '#views/components/chip.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { FieldRow, TextField } from '#views/components/field.tsx';
import { type FigureEntry, FigureRow } from '#views/components/figure-row.tsx';
import { DataTable } from '#views/components/table.tsx';
import { formatDayShort } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';
import { OtherLotFields } from '#views/pages/buying/basket-fields.tsx';
import { ColourAndYarn } from '#views/pages/buying/colour-and-yarn.tsx';
import { hereWords, type PurchaseProps, stateWords } from '#views/pages/buying/purchase-words.ts';
import { Waiting } from '#views/pages/buying/purchases-page.tsx';
import { countPacks, packWords } from '#views/pages/buying/shopping-list.tsx';
import { hexesOf } from '#views/pages/shelf/yarn-words.ts';

export type PurchasePageProps = {
  readonly purpose: Purpose;
  readonly currency: string;
  readonly today: Day;
  readonly view: PurchaseProps;
  readonly values: Readonly<Record<string, string>>;
  readonly problems: readonly Problem[];
};

function figuresOf({ view, currency }: PurchasePageProps): FigureEntry[] {
  const { purchase, missingPacks, arrivedPacks, totalCents, daysOverdue } = view;
  return [
    { value: formatCents(totalCents, currency), words: 'with its postage' },
    purchase.state === 'ordered'
      ? {
          value: formatDayShort(purchase.expectedDay),
          words: daysOverdue > 0 ? `was its day: ${countOf(daysOverdue, 'day', 'days')} overdue` : 'it should be here',
          ...(daysOverdue > 0 ? { tone: 'late' as const } : {}),
        }
      : {
          value: purchase.state === 'arrived' ? 'All here' : 'Cancelled',
          words: `ordered ${formatDayShort(purchase.orderedDay)}`,
        },
    { value: `${arrivedPacks} of ${arrivedPacks + missingPacks}`, words: 'packs are on the shelf' },
  ];
}

const Lines = ({ view, currency }: Pick<PurchasePageProps, 'view' | 'currency'>) => (
  <DataTable
    caption="What was ordered"
    columns={[
      { name: 'Colour', kind: 'heading', cell: ({ colour }) => <ColourAndYarn colour={colour} /> },
      { name: 'Ordered', cell: ({ line }) => countPacks({ packs: line.packs, offer: line }) },
      { name: 'Here', kind: 'number', cell: ({ line }) => line.arrivedPacks },
      { name: 'One cost', kind: 'number', cell: ({ line }) => formatCents(line.priceCents, currency) },
      { name: 'With postage', kind: 'number', cell: ({ landedCents }) => formatCents(landedCents, currency) },
    ]}
    rows={view.lines}
    footer={[
      view.purchase.offCents > 0 ? `${formatCents(view.purchase.offCents, currency)} taken off in all` : 'Together',
      null,
      null,
      null,
      formatCents(view.totalCents, currency),
    ]}
  />
);

type FormProps = Pick<PurchasePageProps, 'view' | 'values' | 'problems' | 'currency'>;

const Arrive = ({ view, values, problems }: FormProps) => {
  const fieldOf = (id: number) => (name: string) => ({
    name: `${name}-${id}`,
    value: values[`${name}-${id}`],
    problems,
  });
  return (
    <section>
      <h2>What came?</h2>
      <form method="post" action={`/buying/purchases/${view.purchase.id}/arrived`}>
        <input type="hidden" name="version" value={values.version} />
        {view.lines
          .filter(({ missing }) => missing > 0)
          .map(({ line, colour, missing }) => {
            const field = fieldOf(line.id);
            const unit = `× ${packWords(line)}`;
            return (
              <Card title={<Chip colours={hexesOf(colour.swatchHex)} name={`${colour.name}, ${colour.yarn.name}`} />}>
                <FieldRow>
                  <TextField
                    {...field('packs')}
                    label="Came"
                    hint={`${missing} to come; 0 when none came`}
                    inputmode="numeric"
                    unit={unit}
                    width="short"
                  />
                  <TextField {...field('lot')} label="Dye lot" hint="On the ball band" maxlength={200} />
                </FieldRow>
                <OtherLotFields id={line.id} unit={unit} values={values} problems={problems} />
              </Card>
            );
          })}
        <TextField name="day" value={values.day} problems={problems} label="Day it came" type="date" required />
        <Actions>
          <Button>Put it on the shelf</Button>
        </Actions>
      </form>
    </section>
  );
};

const Change = ({ view, values, problems, currency }: FormProps) => {
  const { purchase, lines, arrivedPacks } = view;
  const field = (name: string) => ({ name, value: values[name], problems });
  const sign = currencySign(currency);
  return (
    <section>
      <h2>Something changed?</h2>
      <form method="post" action={`/buying/purchases/${purchase.id}/change`}>
        <input type="hidden" name="version" value={values.version} />
        <FieldRow>
          <TextField {...field('expectedDay')} label="Here by" type="date" required />
          {arrivedPacks > 0 ? null : (
            <>
              <TextField {...field('shipping')} label="Postage" inputmode="decimal" unit={sign} width="short" />
              <TextField {...field('off')} label="Taken off all of it" inputmode="decimal" unit={sign} width="short" />
            </>
          )}
        </FieldRow>
        {arrivedPacks > 0 ? (
          <p class="soft">Some of it is on the shelf at its price already, so only the day can be changed.</p>
        ) : (
          <FieldRow>
            {lines.map(({ line, colour }) => (
              <TextField
                {...field(`price-${line.id}`)}
                label={`${colour.name}, a ${packWords(line)}`}
                inputmode="decimal"
                unit={sign}
                width="short"
              />
            ))}
          </FieldRow>
        )}
        <Actions>
          <Button kind="quiet">Save the change</Button>
          <Button kind="remove" formaction={`/buying/purchases/${purchase.id}/cancel`} formnovalidate>
            {arrivedPacks > 0 ? 'The rest will not come' : 'Cancel all of it'}
          </Button>
        </Actions>
        <p class="soft">
          {arrivedPacks > 0
            ? 'What came stays on the shelf and pays the postage alone; the rest is to buy again.'
            : 'When it is cancelled, the yarn is to buy again.'}
        </p>
      </form>
    </section>
  );
};

/** One purchase: what came of it, another day, or that it will not come. */
export const PurchasePage = (props: PurchasePageProps) => {
  const { purpose, view, problems, today } = props;
  const isOpen = view.purchase.state === 'ordered';
  return (
    <Page
      title={`${view.shop.name}: ${isOpen ? hereWords(view, today) : stateWords(view, today)}`}
      where={<a href="/buying/purchases">Purchases</a>}
      current="buying"
      purpose={purpose}
      problems={problems}
    >
      <ErrorSummary problems={problems} />
      <FigureRow figures={figuresOf(props)} />
      {isOpen ? <Waiting view={view} /> : null}
      {isOpen ? <Arrive {...props} /> : null}
      <Lines {...props} />
      {isOpen ? <Change {...props} /> : null}
    </Page>
  );
};
