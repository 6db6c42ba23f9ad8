import { countOf } from '#core/shared/format.ts';
import { unitOf } from '#core/shared/measures.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Chip } from '#views/components/chip.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { UnitsField } from '#views/components/field.tsx';
import { formatFineMass, formatMass, unitsOfForm } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';
import { ShelfCell, ShelfCellChoice } from '#views/pages/shelf/cell.tsx';
import { GaveBack, type PairThatWaits, type ShortLot, ShortQuestion } from '#views/pages/shelf/short-pairs.tsx';
import { hexesOf, lotWords } from '#views/pages/shelf/yarn-words.ts';

export type StockBall = {
  readonly id: number;
  readonly version: number;
  readonly number: number;
  readonly massMg: number;
  readonly yarn: string;
  readonly colour: string;
  readonly swatchHex: string;
  readonly dyeLot: string | null;
  readonly donor: string | null;
};

export type StocktakePageProps = {
  readonly purpose: Purpose;
  readonly places: readonly { readonly place: string | null; readonly balls: readonly StockBall[] }[];
  readonly scaleStepG: number;
  readonly values: Readonly<Record<string, string>>;
  readonly problems: readonly Problem[];
  /** Lots that pairs would lack by what was typed. */
  readonly short: readonly ShortLot[];
  /** What the last one booked; null before. */
  readonly taken: {
    readonly weighed: number;
    readonly booked: number;
    /** How many pairs gave yarn back, and which of them wait now. */
    readonly gaveBack: number;
    readonly waiting: readonly PairThatWaits[];
  } | null;
};

const placeWords = (place: string | null) =>
  place === null ? 'No place written down' : `${place.charAt(0).toUpperCase()}${place.slice(1)}`;

type PlaceProps = Pick<StocktakePageProps, 'values' | 'problems'> & {
  readonly place: StocktakePageProps['places'][number];
  readonly unit: string;
  readonly index: number;
};

const PlaceTable = ({ place: { place, balls }, values, problems, unit, index }: PlaceProps) => (
  <section id={`place-${index + 1}`}>
    <h2>{placeWords(place)}</h2>
    <div class="size-grid-frame">
      <table class="size-grid stock-grid">
        <caption class="visually-hidden">Balls: {placeWords(place)}</caption>
        <thead>
          <tr>
            <th scope="col">Ball</th>
            <th scope="col" class="number">
              Written down
            </th>
            <th scope="col">The scale shows ({unit})</th>
            <th scope="col" class="no-print">
              A difference is
            </th>
          </tr>
        </thead>
        <tbody>
          {balls.map((ball) => {
            const name = `${ball.colour}, ${lotWords(ball.dyeLot)}, ball ${ball.number}`;
            const cell = (field: string) => ({
              name: `${field}-${ball.id}`,
              value: values[`${field}-${ball.id}`],
              problems,
            });
            return (
              <tr>
                <th scope="row">
                  <span>
                    <Chip colours={hexesOf(ball.swatchHex)} name={ball.colour} />
                    <small class="block soft">
                      {ball.yarn}; {lotWords(ball.dyeLot)}
                      {ball.donor === null ? '' : `, from ${ball.donor}`}, ball {ball.number}
                    </small>
                  </span>
                </th>
                <td class="number">
                  <span class="cell-name">Written down</span>
                  {formatFineMass(ball.massMg / 1000)}
                </td>
                <td>
                  <span class="cell-name">The scale shows ({unit})</span>
                  <input type="hidden" name={`version-${ball.id}`} value={String(ball.version)} />
                  <ShelfCell {...cell('grams')} label={`The scale shows: ${name}`} inputmode="decimal" />
                </td>
                <td class="no-print">
                  <span class="cell-name">A difference is</span>
                  <ShelfCellChoice
                    {...cell('reason')}
                    value={values[`reason-${ball.id}`] ?? 'weighed'}
                    label={`A difference is: ${name}`}
                    options={[
                      { value: 'weighed', words: 'a wrong number' },
                      { value: 'lost', words: 'lost or spoiled' },
                    ]}
                  />
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </div>
  </section>
);

/** Every ball by its place, to be weighed: on the screen, or on paper to carry around. */
export const StocktakePage = (props: StocktakePageProps) => {
  const { purpose, places, scaleStepG, values, problems, short, taken } = props;
  const units = unitsOfForm(values);
  const count = places.reduce((sum, { balls }) => sum + balls.length, 0);
  const massMg = places.reduce((sum, { balls }) => sum + balls.reduce((own, ball) => own + ball.massMg, 0), 0);
  return (
    <Page
      title="Stocktake"
      where={<a href="/shelf">Yarn shelf</a>}
      current="shelf"
      purpose={purpose}
      problems={problems}
    >
      {taken === null ? null : (
        <div class="notice" role="status">
          <p>
            {countOf(taken.weighed, 'ball was', 'balls were')} weighed;{' '}
            {taken.booked === 0
              ? 'every one as it was written down.'
              : `${countOf(taken.booked, 'difference', 'differences')} booked.`}{' '}
            <a href="/shelf">Look at the shelf</a>
          </p>
          {taken.gaveBack === 0 ? null : <GaveBack count={taken.gaveBack} waiting={taken.waiting} />}
        </div>
      )}
      {count === 0 ? (
        <EmptyState action={{ href: '/shelf/add', words: 'Put yarn on the shelf' }}>
          There is no ball to weigh yet.
        </EmptyState>
      ) : (
        <form method="post" action="/shelf/stocktake" class="in-print">
          <ErrorSummary problems={problems} />
          <UnitsField units={units} />
          <ShortQuestion short={short} values={values} problems={problems} />
          <p id="field-balls" tabindex={-1}>
            {countOf(count, 'ball', 'balls')}, {formatMass(massMg / 1000)} written down. Put them on the scale and write
            what it shows; a ball whose box stays empty stays as it is.{' '}
            <span class="no-print">
              Your scale shows steps of {formatFineMass(scaleStepG)}, so a difference that it cannot show is not booked
              (<a href="/settings">change the step</a>). To carry the list around, print this page.
            </span>
          </p>
          {places.length > 1 ? (
            <p class="no-print">
              {places.map(({ place, balls }, index) => (
                <>
                  {index > 0 ? ', ' : ''}
                  <a href={`#place-${index + 1}`}>{placeWords(place)}</a> ({balls.length})
                </>
              ))}
            </p>
          ) : null}
          {places.map((place, index) => (
            <PlaceTable place={place} index={index} values={values} problems={problems} unit={unitOf('massG', units)} />
          ))}
          <Actions>
            <Button>Book the weights</Button>
            <LinkButton href="/shelf" kind="quiet">
              Back to the shelf
            </LinkButton>
          </Actions>
        </form>
      )}
    </Page>
  );
};
