import { Chip } from '#views/components/chip.tsx';
import { formatMass } from '#views/format.ts';
import { listInWords } from '#views/pages/batch/count-words.ts';
import type { FootCounts, OrderName, PairCounts, PairView, RoleColours } from '#views/pages/batch/types.ts';
import { hexesOf, lotWords } from '#views/pages/shelf/yarn-words.ts';

/** The colours of a pair as chips: one a role, two yarns held together in one chip. */
export const PairColours = ({ colours }: { readonly colours: readonly RoleColours[] }) => (
  <span class="line-colours">
    {colours.map(({ words, colours: strands }) => (
      <Chip
        colours={[...new Set(strands.flatMap(({ swatchHex }) => hexesOf(swatchHex)))]}
        name={
          <>
            {listInWords([...new Set(strands.map(({ name }) => name))])}
            {words === 'all' ? null : <small> {words.toLowerCase()}</small>}
          </>
        }
      />
    ))}
  </span>
);

/** What to be careful about with a pair, beside its name. */
export const PairCaution = ({ words }: { readonly words: string | null }) =>
  words === null ? null : (
    <small class="block">
      <strong>{words}</strong>
    </small>
  );

/** Size and colours of a pair: what it is called in a table. */
export const PairName = ({
  pair,
}: {
  readonly pair: { readonly sizeWords: string; readonly colours: readonly RoleColours[] };
}) => (
  <span class="pair-name">
    <span>{pair.sizeWords}</span>
    <PairColours colours={pair.colours} />
  </span>
);

/** A count of a pair: both feet's where they differ, each on a line of its own. */
export const Sides = ({ left, right }: { readonly left: string; readonly right: string | undefined }) =>
  right === undefined || right === left ? (
    left
  ) : (
    <>
      left {left},<br />
      right {right}
    </>
  );

/** One count of a pair's table row. */
export const PairCount = ({ pair, of }: { readonly pair: PairCounts; readonly of: keyof FootCounts }) => {
  const words = (count: number | null) => (count === null ? 'none' : String(count));
  return <Sides left={words(pair[of])} right={pair.right ? words(pair.right[of]) : undefined} />;
};

/** The same in a sentence: "28 stitches", or "left 28, right 30 stitches". */
export function sidesInWords(left: number, right: number | undefined, many: string): string {
  return right === undefined || right === left ? `${left} ${many}` : `left ${left}, right ${right} ${many}`;
}

/** "order 12, Hilda", or the stall a pair is for. */
export function orderWords({ number, customer }: OrderName): string {
  return `order ${number}${customer ? `, ${customer}` : ''}`;
}

export const OrderLink = ({ order }: { readonly order: OrderName }) => (
  <a href={`/orders/${order.id}`}>{orderWords(order)}</a>
);

const stageWords = { waiting: 'to do', begun: 'begun', done: 'done' };

/** How far a pair is, in words. */
export function stateWords(pair: PairView): string {
  if (pair.left !== null) return pair.left;
  if (pair.isFinished) return 'finished';
  const started = pair.pieces.filter(({ stage }) => stage !== 'waiting');
  return started.length === 0
    ? 'not begun'
    : started.map(({ piece, stage }) => `${piece} ${stageWords[stage]}`).join(', ');
}

/** What to weigh out for a pair, and from which lot. */
export const PairYarn = ({ pair }: { readonly pair: PairView }) => (
  <span>
    {pair.yarn.map(({ colour, grams, lot, isHere }, index) => (
      <>
        {index > 0 ? <br /> : null}
        {formatMass(grams)} {colour.name}{' '}
        <small class="unbroken">
          {isHere ? lotWords(lot) : pair.isFinished ? 'not from the shelf' : 'still to come'}
        </small>
      </>
    ))}
  </span>
);
