import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { formatWeighed } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';
import { lotWords } from '#views/pages/shelf/yarn-words.ts';

export type FinishPageProps = {
  readonly purpose: Purpose;
  readonly pairId: number;
  readonly missing: readonly {
    readonly colour: string;
    readonly lot: { readonly id: number; readonly dyeLot: string | null };
    readonly usedMg: number;
    readonly massMg: number;
  }[];
  /** Where the press came from: the form goes there once more, with what it said. */
  readonly action: string;
  readonly fields: Readonly<Record<string, string>>;
};

/** Asked before a pair is finished that likely used more than is written down. */
export const FinishPage = ({ purpose, pairId, missing, action, fields }: FinishPageProps) => (
  <Page
    title={`Pair ${pairId} used more than is on the shelf`}
    where={<a href="/batch">Batch</a>}
    current="batch"
    purpose={purpose}
  >
    {missing.map(({ colour, lot, usedMg, massMg }) => (
      <p>
        It likely used {formatWeighed(usedMg)} of {colour}, <a href={`/shelf/lots/${lot.id}`}>{lotWords(lot.dyeLot)}</a>
        , which has {formatWeighed(massMg)}: {formatWeighed(usedMg - massMg)} is missing.
      </p>
    ))}
    <p>Finish it, and all that is written down is used up. Or weigh the lot first.</p>
    <form method="post" action={action}>
      {Object.entries({ ...fields, sure: 'yes' }).map(([name, value]) => (
        <input type="hidden" name={name} value={value} />
      ))}
      <Actions>
        <Button>Finish it all the same</Button>
        <LinkButton href={`/shelf/lots/${missing[0]!.lot.id}`} kind="quiet">
          Look at the lot
        </LinkButton>
      </Actions>
    </form>
  </Page>
);
