import type { Child } from 'hono/jsx';
import type { Problem } from '#core/shared/problem.ts';
import { Card } from '#views/components/card.tsx';
import { Chip } from '#views/components/chip.tsx';
import { packWords } from '#views/pages/buying/shopping-list.tsx';
import type { ShopEntry } from '#views/pages/buying/shops-page.tsx';
import { hexesOf } from '#views/pages/shelf/yarn-words.ts';

export type OfferEntry = ShopEntry['offers'][number];

type OfferEntriesProps = {
  readonly shop: { readonly name: string };
  readonly offers: readonly OfferEntry[];
  readonly values: Readonly<Record<string, string>>;
  readonly problems: readonly Problem[];
  /** Said where nothing is filled in. */
  readonly hint: string;
  readonly fields: (entry: OfferEntry) => Child;
};

const typedNames = ['packs', 'more', 'lot', 'lot2'];

const NameOf = ({ colour, yarn }: OfferEntry) => (
  <Chip colours={hexesOf(colour.swatchHex)} name={`${colour.name}, ${yarn.name}`} />
);

/** The prices of a shop in a form: those with something in their boxes as cards, the others folded to their names. */
export const OfferEntries = ({ shop, offers, values, problems, hint, fields }: OfferEntriesProps) => {
  const isAsked = ({ offer: { id } }: OfferEntry) =>
    typedNames.some((name) => values[`${name}-${id}`]) || problems.some(({ path }) => path.endsWith(`-${id}`));
  const asked = offers.filter(isAsked);
  const others = offers.filter((entry) => !isAsked(entry));
  return (
    <>
      {asked.length === 0 ? <p>{hint}</p> : null}
      {asked.map((entry) => (
        <Card title={<NameOf {...entry} />}>{fields(entry)}</Card>
      ))}
      {asked.length > 0 && others.length > 0 ? <h2>What else {shop.name} sells</h2> : null}
      {others.length === 0 ? null : (
        <div class="entries">
          {others.map((entry) => (
            <details class="entry">
              <summary>
                <NameOf {...entry} /> <small>{packWords(entry.offer)}</small>
              </summary>
              <div class="entry-fields">{fields(entry)}</div>
            </details>
          ))}
        </div>
      )}
    </>
  );
};
