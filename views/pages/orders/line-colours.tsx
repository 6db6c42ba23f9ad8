import { Chip } from '#views/components/chip.tsx';
import type { ColourView } from '#views/pages/orders/types.ts';

/** The colours of a line as chips; one chip with "all over" words when every role has the same. */
export const LineColours = ({ colours }: { readonly colours: readonly ColourView[] }) => {
  const first = colours[0];
  if (!first) return <span class="soft">no colour</span>;
  const isOne = colours.every((colour) => colour.name === first.name && colour.yarnName === first.yarnName);
  if (isOne) return <Chip colours={first.hexes} name={first.name} />;
  return (
    <span class="line-colours">
      {colours.map((colour) => (
        <Chip
          colours={colour.hexes}
          name={
            <>
              {colour.name} <small class="soft">{colour.words.toLowerCase()}</small>
            </>
          }
        />
      ))}
    </span>
  );
};
