import { LinkButton } from '#views/components/actions.tsx';
import { Chip } from '#views/components/chip.tsx';
import { FigureRow } from '#views/components/figure-row.tsx';
import { DataTable } from '#views/components/table.tsx';
import { formatDayShort, formatMass, formatMassRange, formatWeighed } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';
import { hexesOf, lotWords } from '#views/pages/shelf/yarn-words.ts';

type Colour = { readonly name: string; readonly swatchHex: string; readonly yarn: { readonly name: string } };

export type UseFirstBall = {
  readonly ballId: number;
  readonly lotId: number;
  readonly massMg: number;
  /** Less than is on the ball where some of it is put aside. */
  readonly freeMg: number;
  readonly colour: Colour;
  readonly dyeLot: string | null;
  readonly donor: string | null;
  readonly place: string | null;
  readonly isGiven: boolean;
  readonly isReturnable: boolean;
  readonly returnableUntilDay: string | null;
  readonly knitter: string | null;
  readonly weighedDay: string | null;
  /** How much more than expected the scale showed then; below 0 for less. */
  readonly foundMg: number;
  readonly does: {
    readonly isWholePair: boolean;
    readonly parts: readonly string[];
    readonly stripeRows: number;
  } | null;
};

export type ExpectedLeft = {
  readonly colour: Colour;
  readonly onShelfG: number;
  readonly onWayG: number;
  readonly toBuyG: number;
  readonly neededG: number;
  readonly leftG: number;
  readonly sdG: number;
};

export type LeftoversPageProps = {
  readonly purpose: Purpose;
  readonly balls: readonly UseFirstBall[];
  readonly expected: readonly ExpectedLeft[];
};

const leastStripe = 2;

/** "both cuffs, or both toes, or up to 6 striped rows in each". */
export function doesWords({ does }: Pick<UseFirstBall, 'does'>): string {
  if (does === null) return 'not known for this yarn';
  if (does.isWholePair) return 'a whole pair';
  const stripe = does.stripeRows >= leastStripe ? [`up to ${does.stripeRows} striped rows in each`] : [];
  const parts = does.parts.map((part) => `both ${part}s`);
  return [...parts, ...stripe].join(', or ') || 'sewing up, or a bobble';
}

const foundWords = ({ foundMg }: Pick<UseFirstBall, 'foundMg'>) =>
  `${formatMass(Math.abs(foundMg) / 1000)} ${foundMg < 0 ? 'less' : 'more'} than expected`;

const fromWords = (ball: UseFirstBall): string =>
  [
    ball.isGiven ? `given${ball.donor === null ? '' : ` by ${ball.donor}`}` : null,
    ball.isReturnable ? `may go back until ${formatDayShort(ball.returnableUntilDay!)}` : null,
    ball.knitter === null ? ball.place : `with ${ball.knitter}`,
  ]
    .filter(Boolean)
    .join(', ');

const ColourCell = ({ colour }: { readonly colour: Colour }) => (
  <span>
    <Chip colours={hexesOf(colour.swatchHex)} name={colour.name} />
    <small class="block soft">{colour.yarn.name}</small>
  </span>
);

/** Part balls and ends in the order to use them up, and what the plan will likely leave. */
export const LeftoversPage = ({ purpose, balls, expected }: LeftoversPageProps) => {
  const massMg = balls.reduce((sum, ball) => sum + ball.freeMg, 0);
  const given = balls.filter((ball) => ball.isGiven);
  const left = expected.reduce((sum, each) => sum + Math.max(0, each.leftG), 0);
  return (
    <Page title="Use these first" where={<a href="/shelf">Yarn shelf</a>} current="shelf" purpose={purpose}>
      <FigureRow
        figures={[
          { value: String(balls.length), words: `part balls and ends, ${formatWeighed(massMg)} free` },
          { value: String(given.length), words: 'of them were given' },
          { value: formatMass(left), words: 'likely left of the colours in the plan' },
        ]}
      />
      <section>
        <h2>Part balls and ends</h2>
        {balls.length === 0 ? (
          <p>Every ball on the shelf is whole or put aside.</p>
        ) : (
          <>
            <DataTable
              caption="Given yarn first, the smallest first, and last what the shop still takes back"
              columns={[
                { name: 'Colour', kind: 'heading', cell: (ball) => <ColourCell colour={ball.colour} /> },
                {
                  name: 'Weighs',
                  kind: 'number',
                  cell: ({ massMg, freeMg }) => (
                    <>
                      {formatWeighed(massMg)}
                      {freeMg < massMg ? <small class="block soft">{formatWeighed(freeMg)} of it free</small> : null}
                    </>
                  ),
                },
                {
                  name: 'Last weighed',
                  cell: (ball) =>
                    ball.weighedDay === null ? (
                      <a href={`/shelf/lots/${ball.lotId}/weigh?ball=${ball.ballId}`}>expected: weigh it</a>
                    ) : (
                      <>
                        {formatDayShort(ball.weighedDay)}
                        {ball.foundMg === 0 ? null : <small class="block soft">{foundWords(ball)}</small>}
                      </>
                    ),
                },
                { name: 'Would still do', kind: 'wide', cell: doesWords },
                {
                  name: 'Where from',
                  kind: 'wide',
                  cell: (ball) => (
                    <>
                      <a href={`/shelf/lots/${ball.lotId}`}>{lotWords(ball.dyeLot)}</a>
                      {fromWords(ball) ? `, ${fromWords(ball)}` : ''}
                    </>
                  ),
                },
              ]}
              rows={balls}
            />
            <p class="hint">
              Reckoned for a woman’s EU 38 in your usual style and hand, with the safety you buy at; of a stripe the two
              ends in each slipper are taken off first. A weight is expected where a finished pair’s likely yarn was
              taken off since the ball was last on the scale. What is put aside for pairs is left out, from the smallest
              ball of its lot on.
            </p>
          </>
        )}
      </section>
      <section>
        <h2>Likely left when all is knitted</h2>
        {expected.length === 0 ? (
          <p>Nothing is planned, so what is there stays.</p>
        ) : (
          <DataTable
            caption="On the shelf, on its way and still to buy, less what the pairs likely use"
            columns={[
              { name: 'Colour', kind: 'heading', cell: (each) => <ColourCell colour={each.colour} /> },
              { name: 'On the shelf', kind: 'number', cell: (each) => formatMass(each.onShelfG) },
              {
                name: 'On its way',
                kind: 'number',
                cell: (each) => (each.onWayG === 0 ? '–' : formatMass(each.onWayG)),
              },
              {
                name: 'Still to buy',
                kind: 'number',
                cell: (each) => (each.toBuyG === 0 ? '–' : formatMass(each.toBuyG)),
              },
              { name: 'Pairs use', kind: 'number', cell: (each) => formatMass(each.neededG) },
              {
                name: 'Left then',
                kind: 'number',
                cell: (each) => (
                  <>
                    {formatMass(each.leftG)} <span class="soft">{formatMassRange(each.sdG)}</span>
                  </>
                ),
              },
            ]}
            rows={expected}
          />
        )}
      </section>
      <p class="no-print">
        <LinkButton href="/shelf/stocktake" kind="quiet">
          {balls.length === 0 ? 'Weigh the shelf' : `Weigh ${balls.length === 1 ? 'it' : 'them'} and more`} in a
          stocktake
        </LinkButton>
      </p>
    </Page>
  );
};
