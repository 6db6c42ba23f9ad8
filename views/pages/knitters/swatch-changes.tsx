import { formatMinutes } from '#core/shared/format.ts';
import { Actions, LinkButton } from '#views/components/actions.tsx';
import { FigureRow } from '#views/components/figure-row.tsx';
import { DataTable } from '#views/components/table.tsx';
import { formatMass } from '#views/format.ts';
import { Page } from '#views/layout.tsx';

type PairNumbers = {
  readonly castOn: number;
  readonly rows: number;
  readonly cuff: number | null;
  readonly grams: number;
  readonly minutes: number;
};

type ChangedLine = {
  readonly lineId: number;
  readonly orderNumber: number;
  readonly size: string;
  readonly knitterName: string;
  readonly before: PairNumbers;
  readonly after: PairNumbers;
  readonly isRecounted: boolean;
};

export type SwatchChangesProps = {
  readonly id: number;
  readonly changes: {
    readonly knitterId: number | null;
    readonly yarnWords: string;
    readonly isLeftOut: boolean;
    readonly lines: readonly ChangedLine[];
    readonly recounted: number;
  };
};

/** The number without the swatch, and with it where that differs. */
const Change = ({ was, is }: { readonly was: string; readonly is: string }) =>
  was === is ? (
    is
  ) : (
    <>
      <span class="soft">{was}</span> → <strong>{is}</strong>
    </>
  );

const countWords = (count: number | null) => (count === null ? '–' : String(count));

/** *What a swatch changes*: the open lines in its yarn, without it and with it. */
export const SwatchChangesPage = ({ id, changes }: SwatchChangesProps) => {
  const { lines, recounted, knitterId } = changes;
  const grams = lines.reduce((sum, line) => sum + line.after.grams - line.before.grams, 0);
  const change = (name: string, words: (numbers: PairNumbers) => string) => ({
    name,
    kind: 'number' as const,
    cell: ({ before, after }: ChangedLine) => <Change was={words(before)} is={words(after)} />,
  });
  return (
    <Page
      title="What this swatch changes"
      where={<a href={`/knitters/swatches/${id}`}>{changes.yarnWords}</a>}
      current="knitters"
    >
      {changes.isLeftOut ? <p>It is left out, so it changes nothing.</p> : null}
      {lines.length === 0 ? (
        <p>No open order is in this yarn, so no counts change now. The next order in it is reckoned with the swatch.</p>
      ) : (
        <>
          <FigureRow
            figures={[
              {
                value: `${recounted} of ${lines.length}`,
                words:
                  lines.length === 1
                    ? 'open line has other stitches or rows'
                    : 'open lines have other stitches or rows',
                tone: recounted > 0 ? 'caution' : 'done',
              },
              {
                value: formatMass(Math.abs(grams)),
                words: grams < 0 ? 'less yarn, one pair of each line' : 'more yarn, one pair of each line',
              },
            ]}
          />
          <DataTable
            caption="Without the swatch → with it, for one pair"
            columns={[
              {
                name: 'Line',
                kind: 'heading',
                cell: (line) => (
                  <a href={`/orders/lines/${line.lineId}`}>{`${line.size}, order ${line.orderNumber}`}</a>
                ),
              },
              ...(knitterId === null
                ? [{ name: 'In the hand of', cell: (line: ChangedLine) => line.knitterName }]
                : []),
              change('Cast on', ({ castOn }) => String(castOn)),
              change('Rows', ({ rows }) => String(rows)),
              change('Cuff', ({ cuff }) => countWords(cuff)),
              change('Yarn', (numbers) => formatMass(numbers.grams)),
              change('Time', ({ minutes }) => formatMinutes(minutes)),
            ]}
            rows={lines}
          />
          <p class="soft">Pairs that were begun keep the counts on their cards.</p>
        </>
      )}
      <Actions>
        <LinkButton href={knitterId === null ? '/knitters#swatches' : `/knitters/${knitterId}`}>
          To the knitters
        </LinkButton>
        <LinkButton href={`/knitters/swatches/${id}`} kind="quiet">
          Change the swatch
        </LinkButton>
      </Actions>
    </Page>
  );
};
