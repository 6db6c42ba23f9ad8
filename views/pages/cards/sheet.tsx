import type { Card, CardPiece, CardSlipper, CardStep } from '#core/cards/card.ts';
import { formatDay } from '#core/shared/format.ts';
import { Chip } from '#views/components/chip.tsx';
import { FinishedSlipper } from '#views/drawings/finished-slipper.tsx';
import { FlatPieces } from '#views/drawings/flat-pieces.tsx';
import { formatLength, formatMass } from '#views/format.ts';
import { orderWords } from '#views/pages/batch/pair-parts.tsx';
import type { OrderName } from '#views/pages/batch/types.ts';
import { RowStrip } from '#views/pages/cards/row-strip.tsx';

/** A card with what stands at its head. */
export type Sheet = {
  readonly key: string;
  readonly pairId: number | null;
  readonly card: Card;
  readonly sizeWords: string;
  readonly fit: string;
  readonly knitter: string;
  readonly orders: readonly OrderName[];
  readonly dueDay: string | null;
  readonly lots: readonly { readonly colour: string; readonly dyeLot: string }[];
};

/** The colours of a role, out of the card. */
export function hexesBy(card: Card): (role: string) => readonly string[] {
  return (role) => card.colours.find((colour) => colour.roles.includes(role))?.hexes ?? [];
}

/** "for order 12, Hilda"; nothing for stock. */
export function forWords({ orders }: Pick<Sheet, 'orders'>): string {
  return orders.length === 0 ? 'for stock' : `for ${orders.map(orderWords).join('; ')}`;
}

export const StepList = ({ steps, start }: { readonly steps: readonly CardStep[]; readonly start?: number }) => (
  <ol class="card-steps" start={start}>
    {steps.map((step) => (
      <li>{step.words}</li>
    ))}
  </ol>
);

const Colours = ({ card }: { readonly card: Card }) => (
  <ul class="card-colours plain-list">
    {card.colours.map(({ words, name, yarn, hexes }) => (
      <li>
        <Chip
          colours={hexes}
          name={
            <>
              <strong>{name}</strong> <small>{`${yarn}, ${words.toLowerCase()}`}</small>
            </>
          }
        />
      </li>
    ))}
  </ul>
);

const Weights = ({ card, lots }: Pick<Sheet, 'card' | 'lots'>) => (
  <table class="card-weights">
    <caption>Weigh out for the pair</caption>
    <tbody>
      {card.weights.map(({ pieceWords, colour, grams }) => (
        <tr>
          <th scope="row">{pieceWords}</th>
          <td>{colour}</td>
          <td class="number">{formatMass(grams)}</td>
        </tr>
      ))}
    </tbody>
    <tfoot>
      {card.totals.map(({ colour, grams }) => {
        const lot = lots.find((each) => each.colour === colour);
        return (
          <tr>
            <th scope="row">In all</th>
            <td>
              {colour}
              {lot ? <small>{` lot ${lot.dyeLot}`}</small> : null}
            </td>
            <td class="number">{formatMass(grams)}</td>
          </tr>
        );
      })}
    </tfoot>
  </table>
);

type Foot = CardSlipper['foot'];

/** "22.8 cm heel to toe, lying flat; 20.7 cm around the foot". */
function finishedWords({ measures }: Card, foot: Foot): string {
  return measures
    .filter((measure) => measure.foot === foot)
    .map(({ name, mm }) => `${formatLength(mm)} ${name}`)
    .join('; ');
}

const Tools = ({ card, feet }: { readonly card: Card; readonly feet: readonly Foot[] }) => (
  <dl class="card-tools">
    <div>
      <dt>Needles</dt>
      <dd>{card.needles.join('; ')}</dd>
    </div>
    <div>
      <dt>{card.gauge.name}</dt>
      <dd>{card.gauge.words}</dd>
    </div>
    <div>
      <dt>Finished</dt>
      <dd>{feet.map((foot) => `${foot === 'both' ? '' : `${foot} `}${finishedWords(card, foot)}`).join('; ')}</dd>
    </div>
  </dl>
);

/** Empty boxes that come back with the pair. */
const WriteBack = () => (
  <ul class="write-back plain-list" aria-label="To write back">
    {['Time', 'Grams left', 'Length', 'Width'].map((name) => (
      <li>
        <span>{name}</span>
      </li>
    ))}
    <li class="remarks">
      <span>Remarks</span>
    </li>
  </ul>
);

const SheetHead = ({ sheet }: { readonly sheet: Sheet }) => (
  <header class="sheet-head">
    <div>
      <h2>{sheet.card.title}</h2>
      <p>
        <strong>{sheet.sizeWords}</strong>
        {sheet.fit === 'usual' ? '' : `, ${sheet.fit}`}
        {sheet.knitter ? ` · ${sheet.knitter}` : ''}
        {` · ${forWords(sheet)}`}
        {sheet.dueDay ? ` · by ${formatDay(sheet.dueDay)}` : ''}
      </p>
    </div>
    <p class="pair-number">{sheet.pairId === null ? 'not started yet' : `Pair ${sheet.pairId}`}</p>
  </header>
);

export type StripSize = { readonly perLine: number; readonly boxMm: number };

/** One piece of a slipper, or of both where it is alike. */
type SidedPiece = { readonly piece: CardPiece; readonly side: 'left' | 'right' | 'both' };

const isAlike = (one: CardPiece, other: CardPiece) => JSON.stringify(one) === JSON.stringify(other);

/** The pieces of a pair in their order, each once where both slippers have it alike, else left and right. */
export function sidedPieces([first, second]: readonly CardSlipper[]): readonly (readonly SidedPiece[])[] {
  return first!.pieces.map((piece, index): readonly SidedPiece[] => {
    const other = second?.pieces[index];
    if (!other || isAlike(piece, other)) return [{ piece, side: 'both' }];
    return [
      { piece, side: 'left' },
      { piece: other, side: 'right' },
    ];
  });
}

/** A strip for each piece; like slippers have their boxes one above the other, unlike ones a strip each. */
const Strips = ({ slippers, perLine, boxMm }: StripSize & { readonly slippers: readonly CardSlipper[] }) => {
  const both = slippers.length > 1 ? 'left and right' : 'first and second';
  return (
    <div class="row-strips">
      {sidedPieces(slippers)
        .flat()
        .map(({ piece: { title, rows, marks }, side }) => (
          <RowStrip
            title={`${title}, ${side === 'both' ? both : side}`}
            rows={rows}
            marks={marks}
            perLine={perLine}
            boxMm={boxMm}
            slippers={side === 'both' ? 2 : 1}
          />
        ))}
    </div>
  );
};

const sideWords = { both: 'make two alike', left: 'left slipper', right: 'right slipper' };

/** What to knit, piece by piece; left and right side by side where they differ. */
const KnittingWords = ({ slippers }: { readonly slippers: readonly CardSlipper[] }) => (
  <div class="slipper-words">
    {sidedPieces(slippers).map((pieces) => (
      <div class={pieces.length > 1 ? 'slippers-two' : undefined}>
        {pieces.map(({ piece, side }) => (
          <section class="card-piece">
            <h3>
              {piece.title} <small>{sideWords[side]}</small>
            </h3>
            <StepList steps={piece.steps} />
          </section>
        ))}
      </div>
    ))}
  </div>
);

const SewingWords = ({ card }: { readonly card: Card }) => (
  <section class="card-piece">
    <h3>
      Sewing up <small>each slipper</small>
    </h3>
    <StepList steps={[...card.sewing, ...card.finishing]} />
  </section>
);

const Drawings = ({ card, id }: { readonly card: Card; readonly id: string }) => {
  const pieces = sidedPieces(card.slippers)
    .flat()
    .map(({ piece, side }) => (side === 'both' ? piece : { ...piece, name: `${side} ${piece.name}` }));
  return (
    <div class="card-drawings">
      <FlatPieces id={id} pieces={pieces} hexesOf={hexesBy(card)} />
    </div>
  );
};

/** Everything of a pair on one sheet of paper. `index` tells the drawings of one page apart. */
export const CardSheetView = ({ sheet, index }: { readonly sheet: Sheet; readonly index: number }) => {
  const { card } = sheet;
  const isOdd = card.slippers.length > 1;
  return (
    <article class={isOdd ? 'sheet sheet-odd' : 'sheet'}>
      {/* Where a sheet does not do, its head stands on every page of it. */}
      <div class="sheet-repeat">
        <SheetHead sheet={sheet} />
      </div>
      <div class="sheet-body">
        <div class="sheet-aside">
          <FinishedSlipper
            id={`card-${index}`}
            shape={card.silhouette}
            words={`The finished pair, from the side, in ${card.colours.map(({ name }) => name).join(' and ')}`}
            hexesOf={hexesBy(card)}
          />
          <Colours card={card} />
          <Weights card={card} lots={sheet.lots} />
          <Tools card={card} feet={card.slippers.map(({ foot }) => foot)} />
          <Drawings card={card} id={`plan-${index}`} />
        </div>
        <div class="sheet-words">
          <KnittingWords slippers={card.slippers} />
          <SewingWords card={card} />
        </div>
      </div>
      <Strips slippers={card.slippers} perLine={isOdd ? 58 : 50} boxMm={isOdd ? 3.2 : 3.7} />
      <WriteBack />
      <footer class="sheet-foot">
        <p>{card.cautions.join(' ')}</p>
        <p>{card.abbreviations.join('; ')}.</p>
      </footer>
    </article>
  );
};

/** The same in a quarter of a page: no drawings, small type. */
export const SmallCard = ({ sheet }: { readonly sheet: Sheet }) => {
  const { card } = sheet;
  return (
    <article class="small-card">
      <SheetHead sheet={sheet} />
      <p>
        {card.totals.map(({ colour, grams }, index) => (
          <>
            {index > 0 ? ', ' : ''}
            <strong>{`${colour} ${formatMass(grams)}`}</strong>
          </>
        ))}
        {`. ${card.needles.join('; ')}. ${card.gauge.words}`}
      </p>
      <KnittingWords slippers={card.slippers} />
      <p>
        <strong>Sewing up: </strong>
        {card.sewingShort}
      </p>
      <Strips slippers={card.slippers} perLine={25} boxMm={3.3} />
      <WriteBack />
    </article>
  );
};
