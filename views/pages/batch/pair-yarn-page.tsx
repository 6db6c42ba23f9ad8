import { countOf } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { ChoiceField } from '#views/components/field.tsx';
import { formatMass } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';
import { upperFirst } from '#views/pages/batch/count-words.ts';
import type { ColourName } from '#views/pages/batch/types.ts';
import { type LotName, lotWords } from '#views/pages/shelf/yarn-words.ts';

export type PairYarnPageProps = {
  readonly purpose: Purpose;
  readonly id: number;
  readonly version: number;
  readonly sizeWords: string;
  readonly colours: readonly {
    readonly colour: ColourName;
    readonly grams: number;
    readonly lots: readonly { readonly id: number; readonly name: LotName; readonly grams: number }[];
  }[];
  /** The press that finishes it. */
  readonly step: string;
  readonly back: string;
  readonly values: Readonly<Record<string, string>>;
  readonly problems: readonly Problem[];
};

const From = (props: Pick<PairYarnPageProps, 'values' | 'problems'> & PairYarnPageProps['colours'][number]) => {
  const { colour, grams, lots, values, problems } = props;
  const name = `yarn-${colour.id}`;
  return (
    <ChoiceField
      name={name}
      label={`${colour.name}, ${colour.yarn.name}: it likely took ${formatMass(grams)}`}
      value={values[name] ?? (lots.length === 0 ? 'elsewhere' : undefined)}
      problems={problems}
      options={[
        ...lots.map(({ id, name: lot, grams: here }) => ({
          value: String(id),
          words: upperFirst(`${lotWords(lot)}: ${formatMass(here)} on the shelf`),
          ...(here < grams ? { hint: 'Less than it likely took: all of it would be booked as used.' } : {}),
        })),
        { value: 'elsewhere', words: 'Yarn that is not on the shelf' },
      ]}
    />
  );
};

/** Asks, before a pair is finished that still waits for yarn, what it was knitted from. */
export const PairYarnPage = ({ purpose, id, version, sizeWords, colours, step, back, ...asked }: PairYarnPageProps) => (
  <Page
    title={`What was pair ${id} knitted from?`}
    where={<a href={back}>Back to the pair</a>}
    current="batch"
    purpose={purpose}
    problems={asked.problems}
  >
    {colours.length === 0 && (
      <p>{`Pair ${id}, ${sizeWords}, has all of its yarn: finish it on the page of its batch.`}</p>
    )}
    {colours.length > 0 && <Asked {...{ id, version, sizeWords, colours, step, back }} {...asked} />}
  </Page>
);

const Asked = ({ id, version, sizeWords, colours, step, back, ...asked }: Omit<PairYarnPageProps, 'purpose'>) => (
  <>
    <p>
      {`Pair ${id}, ${sizeWords}, is to be finished, but ${countOf(colours.length, 'colour', 'colours')} of it still ${colours.length === 1 ? 'waits' : 'wait'} for yarn. Choose the lot that it came from: what the pair likely took is then taken off the shelf.`}
    </p>
    <form method="post" action={`/batch/pairs/${id}/yarn`}>
      <ErrorSummary problems={asked.problems} />
      <input type="hidden" name="version" value={String(version)} />
      <input type="hidden" name="step" value={step} />
      <input type="hidden" name="back" value={back} />
      {colours.map((colour) => (
        <From {...colour} {...asked} />
      ))}
      <p class="hint">
        Of yarn that is not on the shelf nobody knows here what it cost: the pair then counts it at what its colour
        costs now. If you know the price, or it was given to you, <a href="/shelf/add">add the yarn to the shelf</a>{' '}
        first, and choose its lot here.
      </p>
      <Actions>
        <Button>Finished</Button>
        <LinkButton href={back} kind="quiet">
          Not yet
        </LinkButton>
      </Actions>
    </form>
  </>
);
