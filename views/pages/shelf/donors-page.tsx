import { countOf, formatDay, formatGrams } from '#core/shared/format.ts';
import { Chip } from '#views/components/chip.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { FigureRow } from '#views/components/figure-row.tsx';
import { DataTable } from '#views/components/table.tsx';
import { unitSystem } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';
import { hexesOf, lotWords } from '#views/pages/shelf/yarn-words.ts';

/** Whole grams, or tenths of an ounce: received = inPairs + left + waste. */
type Steps = {
  readonly received: number;
  readonly inPairs: number;
  readonly left: number;
  readonly waste: number;
  readonly back: number;
};

export type DonorAccount = {
  readonly donor: string | null;
  readonly steps: Steps;
  readonly pairIds: readonly number[];
  readonly lots: readonly {
    readonly lot: { readonly id: number; readonly dyeLot: string | null; readonly gotDay: string };
    readonly colour: string;
    readonly swatchHex: string;
    readonly yarn: string;
    readonly massMg: number;
  }[];
};

export type DonorsPageProps = {
  readonly purpose: Purpose;
  readonly today: string;
  readonly accounts: readonly DonorAccount[];
};

function inSteps(steps: number): string {
  if (unitSystem() === 'metric') return formatGrams(steps);
  return `${steps < 0 ? '\u2212' : ''}${(Math.abs(steps) / 10).toFixed(1)}\u00a0oz`;
}

const nameOf = ({ donor }: DonorAccount) => donor ?? 'Giver not written down';

function totalOf(accounts: readonly DonorAccount[]): Steps {
  const sumOf = (name: keyof Steps) => accounts.reduce((sum, { steps }) => sum + steps[name], 0);
  return {
    ...{ received: sumOf('received'), inPairs: sumOf('inPairs'), left: sumOf('left') },
    ...{ waste: sumOf('waste'), back: sumOf('back') },
  };
}

const GivenLots = ({ accounts }: Pick<DonorsPageProps, 'accounts'>) => (
  <section>
    <h2>What they gave</h2>
    <ul class="plain-list spaced">
      {accounts.map((account) => (
        <li>
          <strong>{nameOf(account)}</strong>
          {account.steps.back > 0 ? (
            <span class="soft"> ({inSteps(account.steps.back)} went back and is not counted)</span>
          ) : null}
          <ul class="plain-list">
            {account.lots.map(({ lot, colour, swatchHex, yarn, massMg }) => (
              <li>
                <Chip
                  colours={hexesOf(swatchHex)}
                  name={
                    <>
                      <a href={`/shelf/lots/${lot.id}`}>
                        {colour}, {lotWords(lot.dyeLot)}
                      </a>{' '}
                      <span class="soft">
                        {yarn}; came {formatDay(lot.gotDay)}
                        {massMg === 0 ? ', all used up' : ''}
                      </span>
                    </>
                  }
                />
              </li>
            ))}
          </ul>
        </li>
      ))}
    </ul>
  </section>
);

/** What became of given yarn: to the gram, so that a giver can be told. */
export const DonorsPage = ({ purpose, today, accounts }: DonorsPageProps) => {
  const where = <a href="/shelf">Yarn shelf</a>;
  if (accounts.length === 0) {
    return (
      <Page title="Given yarn" where={where} current="shelf" purpose={purpose}>
        <EmptyState action={{ href: '/shelf/add', words: 'Put yarn on the shelf' }}>
          Nobody gave you yarn yet. When somebody does, say so as you put it on the shelf.
        </EmptyState>
      </Page>
    );
  }
  const total = totalOf(accounts);
  const pairs = new Set(accounts.flatMap((account) => account.pairIds)).size;
  return (
    <Page title="Given yarn" where={where} current="shelf" purpose={purpose}>
      <FigureRow
        figures={[
          { value: inSteps(total.received), words: `received from ${countOf(accounts.length, 'giver', 'givers')}` },
          {
            value: inSteps(total.inPairs),
            words: pairs === 0 ? 'knitted up' : `knitted up, in ${countOf(pairs, 'pair', 'pairs')} we know of`,
          },
          { value: inSteps(total.left), words: 'still on the shelf' },
          { value: inSteps(total.waste), words: 'waste' },
        ]}
      />
      <section>
        <h2>To the {unitSystem() === 'metric' ? 'gram' : 'tenth of an ounce'}</h2>
        <DataTable
          caption={`Received = in pairs + left + waste, as of ${formatDay(today)}`}
          columns={[
            { name: 'Given by', kind: 'heading', cell: nameOf },
            { name: 'Received', kind: 'number', cell: ({ steps }) => inSteps(steps.received) },
            { name: 'In pairs', kind: 'number', cell: ({ steps }) => inSteps(steps.inPairs) },
            { name: 'Left', kind: 'number', cell: ({ steps }) => inSteps(steps.left) },
            { name: 'Waste', kind: 'number', cell: ({ steps }) => inSteps(steps.waste) },
            {
              name: 'Pairs',
              kind: 'number',
              cell: (account) => (account.pairIds.length === 0 ? '–' : String(account.pairIds.length)),
            },
          ]}
          rows={accounts}
          footer={
            accounts.length > 1
              ? [
                  'All of them',
                  inSteps(total.received),
                  inSteps(total.inPairs),
                  inSteps(total.left),
                  inSteps(total.waste),
                  pairs === 0 ? null : String(pairs),
                ]
              : undefined
          }
        />
        <p class="hint">
          In pairs is all that was used, swatches too. Waste is what was lost, and what the scale found missing; where
          it found more than was written down, waste is below nothing. What went back to the giver is not counted as
          received.
        </p>
      </section>
      <GivenLots accounts={accounts} />
    </Page>
  );
};
