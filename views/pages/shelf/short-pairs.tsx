import { countOf } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { type NamedPair, namePair } from '#core/shelf/pair-words.ts';
import { ChoiceField } from '#views/components/field.tsx';
import { formatWeighed } from '#views/format.ts';
import { lotWords } from '#views/pages/shelf/yarn-words.ts';

export type ShortLot = {
  readonly lotId: number;
  readonly colour: string;
  readonly dyeLot: string | null;
  readonly massMg: number;
  readonly neededMg: number;
  readonly pairs: readonly (NamedPair & { readonly needsMg: number; readonly isUnderWay: boolean })[];
};

export type PairThatWaits = NamedPair & { readonly colour: string; readonly mg: number };

/** What is missing of a lot, and who goes without. */
export const ShortLotWords = ({ lot }: { readonly lot: ShortLot }) => (
  <>
    <p>
      {lot.colour}, <a href={`/shelf/lots/${lot.lotId}`}>{lotWords(lot.dyeLot)}</a>, has {formatWeighed(lot.massMg)},
      and the pairs that are begun still need {formatWeighed(lot.neededMg)} of it.{' '}
      {formatWeighed(lot.neededMg - lot.massMg)} is missing, so{' '}
      {lot.pairs.length === 1 ? 'one pair is' : `${lot.pairs.length} pairs are`} left without enough:
    </p>
    <ul>
      {lot.pairs.map((pair) => (
        <li>
          {namePair(pair)}: needs {formatWeighed(pair.needsMg)}
          {pair.isUnderWay ? ' more; some of it is knitted' : ''}
        </li>
      ))}
    </ul>
  </>
);

const missingMg = (short: readonly ShortLot[]) => short.reduce((sum, lot) => sum + lot.neededMg - lot.massMg, 0);

/** "47.1 g of Ink is missing"; of several colours together, "of yarn". */
export function missingWords(short: readonly ShortLot[]): string {
  const colours = [...new Set(short.map(({ colour }) => colour))];
  return `${formatWeighed(missingMg(short))} of ${colours.length === 1 ? colours[0] : 'yarn'} is missing`;
}

/** Where pages tell of yarn to buy, or that all is there: what begun pairs lack, and the way to have it bought. */
export const MissingYarn = ({ short }: { readonly short: readonly ShortLot[] }) => (
  <>
    {short.map((lot) => (
      <p>
        {formatWeighed(missingMg([lot]))} of {lot.colour}, {lotWords(lot.dyeLot)}, is missing for{' '}
        {countOf(lot.pairs.length, 'pair that is begun', 'pairs that are begun')}; it is bought once{' '}
        <a href={`/shelf/lots/${lot.lotId}`}>
          {lot.pairs.length === 1 ? 'this pair gives' : 'these pairs give'} back what is put aside
        </a>
        .
      </p>
    ))}
  </>
);

export type ShortQuestionProps = {
  /** Empty while nothing is asked. */
  readonly short: readonly ShortLot[];
  readonly values: Readonly<Record<string, string>>;
  readonly problems: readonly Problem[];
};

/** Within a form that was refused, as pairs would lack yarn by it: who, and what becomes of them. */
export const ShortQuestion = ({ short, values, problems }: ShortQuestionProps) => {
  if (short.length === 0) return null;
  const ids = [...new Set(short.flatMap(({ pairs }) => pairs.map(({ id }) => id)))];
  return (
    <section class="caution">
      <h2>Some pairs would lack yarn</h2>
      {short.map((lot) => (
        <ShortLotWords lot={lot} />
      ))}
      <input type="hidden" name="shortPairs" value={ids.join(' ')} />
      <ChoiceField
        name="short"
        value={values.short}
        problems={problems}
        label={ids.length === 1 ? 'What becomes of this pair' : 'What becomes of these pairs'}
        options={[
          {
            value: 'back',
            words: ids.length === 1 ? 'It gives its yarn back and waits' : 'They give their yarn back and wait',
            hint: 'Another lot that has enough is given to them; else it is on the list of yarn to buy. Undo the weight and they have it again.',
          },
          {
            value: 'leave',
            words: ids.length === 1 ? 'It keeps what is put aside' : 'They keep what is put aside',
            hint: 'For yarn that is on the needles already, or will turn up. Nothing is bought for them.',
          },
        ]}
        required
      />
    </section>
  );
};

/** Begun pairs that wait, one a line. */
export const WaitingPairs = ({ pairs }: { readonly pairs: readonly PairThatWaits[] }) => (
  <ul>
    {pairs.map((pair) => (
      <li>
        {namePair(pair)}: waits for {formatWeighed(pair.mg)} of {pair.colour}
      </li>
    ))}
  </ul>
);

/** What became of pairs that gave their yarn back: those that wait are named, the others have got some. */
export const GaveBack = ({
  count,
  waiting,
}: {
  readonly count: number;
  readonly waiting: readonly PairThatWaits[];
}) => {
  const waits = new Set(waiting.map(({ id }) => id)).size;
  return (
    <>
      <p>
        {countOf(count, 'pair has', 'pairs have')} given yarn back.{' '}
        {waits < count ? `${countOf(count - waits, 'has', 'have')} got other yarn that was free. ` : ''}
        {waits === 0 ? null : (
          <>
            {countOf(waits, 'waits', 'wait')} for yarn that is <a href="/buying">on the list to buy</a>:
          </>
        )}
      </p>
      {waits === 0 ? null : <WaitingPairs pairs={waiting} />}
    </>
  );
};
