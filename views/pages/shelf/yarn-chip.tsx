import { Chip } from '#views/components/chip.tsx';
import { hexesOf } from '#views/pages/shelf/yarn-words.ts';

type ColourOfYarn = {
  readonly name: string;
  readonly swatchHex: string;
  readonly yarn: { readonly name: string };
};

/** A colour's chip, named with its yarn. */
export const YarnChip = ({ colour }: { readonly colour: ColourOfYarn }) => (
  <Chip
    colours={hexesOf(colour.swatchHex)}
    name={
      <>
        {colour.name} <small>{colour.yarn.name}</small>
      </>
    }
  />
);
