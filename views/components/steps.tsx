import type { Card, CardStep } from '#core/cards/card.ts';

type StepsOfCard = Pick<Card, 'slippers' | 'sewing' | 'finishing' | 'abbreviations'>;

const Steps = ({ steps }: { readonly steps: readonly CardStep[] }) => (
  <ol class="steps">
    {steps.map((step) => (
      <li>{step.words}</li>
    ))}
  </ol>
);

/** The making of a pair in knitters' words: each piece, the sewing up, the finishing, and what is abbreviated. */
export const MakingSteps = ({ card }: { readonly card: StepsOfCard }) => (
  <>
    {card.slippers.flatMap((slipper) =>
      slipper.pieces.map((piece) => (
        <section>
          <h3>{slipper.foot === 'both' ? `${piece.title}, make two` : `${piece.title}, ${slipper.foot}`}</h3>
          <Steps steps={piece.steps} />
        </section>
      )),
    )}
    <section>
      <h3>Sewing up</h3>
      <Steps steps={[...card.sewing, ...card.finishing]} />
    </section>
    {card.abbreviations.length > 0 ? <p class="soft">{card.abbreviations.join('; ')}.</p> : null}
  </>
);
