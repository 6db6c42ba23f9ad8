import { Chip } from '#views/components/chip.tsx';
import { hexesOf } from '#views/pages/shelf/yarn-words.ts';

export type BuyingColour = {
  readonly id: number;
  readonly name: string;
  readonly swatchHex: string;
  readonly yarn: { readonly name: string; readonly ballMg: number };
};

/** A colour's chip and name with its yarn. */
export const ColourAndYarn = ({ colour }: { readonly colour: BuyingColour }) => (
  <>
    <Chip colours={hexesOf(colour.swatchHex)} name={colour.name} /> <small>{colour.yarn.name}</small>
  </>
);
