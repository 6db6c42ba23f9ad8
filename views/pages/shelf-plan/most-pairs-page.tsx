import { confidences } from '#core/shared/estimate.ts';
import { countOf } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button } from '#views/components/actions.tsx';
import { Card } from '#views/components/card.tsx';
import { Chip } from '#views/components/chip.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { CheckField, ChoiceField, FieldRow, fieldId, SelectField, TextField } from '#views/components/field.tsx';
import { formatMass } from '#views/format.ts';
import { Page } from '#views/layout.tsx';
import { SizeRunFields } from '#views/pages/orders/size-run-fields.tsx';
import type { FormNames, FormValues } from '#views/pages/orders/types.ts';
import { AnswerParts, type AnswerProps, batchFormId, SearchEnd } from '#views/pages/shelf-plan/answer.tsx';

export type MostPairsPageProps = {
  readonly names: FormNames;
  readonly values: FormValues;
  readonly problems: readonly Problem[];
  readonly style: {
    readonly id: number;
    readonly hasCuff: boolean;
    readonly roles: readonly { readonly name: string; readonly words: string }[];
  } | null;
  readonly rows: readonly { readonly value: string; readonly words: string }[];
  /** Colours there is yarn of, with what is free. */
  readonly colours: readonly (FormNames['colours'][number] & { readonly freeG: number })[];
  readonly ticked: ReadonlyMap<string, readonly number[]>;
  readonly knitters: readonly { readonly value: string; readonly words: string }[];
  readonly confidence: number;
  readonly outlets: readonly { readonly value: string; readonly words: string }[];
  readonly outlet: string;
  readonly due: string;
  /** The question as it was sent, name and value. */
  readonly sent: readonly (readonly [string, string])[];
  readonly revision: number;
  readonly mostOfOneSize: number;
  readonly answered: AnswerProps | null;
};

const messagesAt = (problems: readonly Problem[], path: string) =>
  problems.filter((problem) => problem.path === path).map((problem) => problem.message);

const CountBox = ({
  name,
  label,
  values,
  problems,
  placeholder,
}: {
  readonly name: string;
  readonly label: string;
  readonly values: FormValues;
  readonly problems: readonly Problem[];
  readonly placeholder?: string;
}) => {
  const messages = messagesAt(problems, name);
  const id = fieldId(name);
  return (
    <>
      <input
        id={id}
        name={name}
        type="text"
        inputmode="numeric"
        class="cell-input"
        autocomplete="off"
        maxlength={6}
        aria-label={label}
        placeholder={placeholder}
        value={values[name] ?? ''}
        {...(messages.length > 0 ? { 'aria-invalid': 'true' as const, 'aria-describedby': `${id}-error` } : {})}
      />
      {messages.length > 0 ? (
        <span class="error cell-error" id={`${id}-error`}>
          {messages.join(' ')}
        </span>
      ) : null}
    </>
  );
};

const Sizes = ({ names, values, problems, rows }: MostPairsPageProps) => (
  <Card title="Sizes">
    <FieldRow>
      <SizeRunFields names={names} values={values} problems={problems} />
      <Button kind="quiet" name="show" value="yes">
        Show these
      </Button>
      <input type="hidden" name="shownPerson" value={values.person} />
      <input type="hidden" name="shownSystem" value={values.system} />
    </FieldRow>
    <div class="size-grid-frame">
      <table class="size-grid">
        <caption>How many pairs of each size</caption>
        <thead>
          <tr>
            <th scope="col">Size</th>
            <th scope="col">At least</th>
            <th scope="col">At most</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ value, words }) => (
            <tr>
              <th scope="row">{words}</th>
              <td>
                <span class="cell-name">At least</span>
                <CountBox name={`least-${value}`} label={`At least, ${words}`} values={values} problems={problems} />
              </td>
              <td>
                <span class="cell-name">At most</span>
                <CountBox name={`most-${value}`} label={`At most, ${words}`} values={values} problems={problems} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
    <p class="hint">An empty box is no limit. 0 at most leaves a size out.</p>
  </Card>
);

const Colours = ({ values, problems, style, colours, ticked }: MostPairsPageProps) => {
  const roles = style?.roles ?? [];
  return (
    <Card title="Colours">
      {roles.length > 1 ? (
        <ChoiceField
          name="together"
          label="In one pair"
          options={[
            { value: 'one', words: 'one colour all over' },
            { value: 'two', words: 'one or two colours of those ticked' },
            ...(roles.length > 2 ? [{ value: 'any', words: 'a colour for each part' }] : []),
          ]}
          value={values.together}
          problems={problems}
        />
      ) : (
        <input type="hidden" name="together" value="one" />
      )}
      {roles.map(({ name }) => (
        <input type="hidden" name="asked" value={name} />
      ))}
      <div class="size-grid-frame">
        <table class="size-grid">
          <caption>{roles.length > 1 ? 'Which colours for which part' : 'Which colours'}</caption>
          <thead>
            <tr>
              <th scope="col">Colour</th>
              {roles.map(({ words }) => (
                <th scope="col">{words}</th>
              ))}
            </tr>
          </thead>
          <tbody>
            {colours.map((colour) => (
              <tr>
                <th scope="row">
                  <Chip
                    colours={colour.hexes}
                    name={
                      <>
                        {colour.name}{' '}
                        <small class="soft">{`${formatMass(colour.freeG)} free, ${colour.yarnName}`}</small>
                      </>
                    }
                  />
                </th>
                {roles.map(({ name, words }) => (
                  <td>
                    <label class="choice">
                      <input
                        type="checkbox"
                        name={`use-${name}`}
                        value={String(colour.id)}
                        checked={ticked.get(name)?.includes(colour.id) ?? false}
                        {...(colour === colours[0] ? { id: fieldId(`use-${name}`) } : {})}
                        aria-label={`${words}: ${colour.name}, ${colour.yarnName}`}
                      />
                      <span class="cell-name">{words}</span>
                    </label>
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {roles.flatMap(({ name }) =>
        messagesAt(problems, `use-${name}`).map((message) => <p class="error">{message}</p>),
      )}
      <CheckField
        name="mixYarns"
        label="Different yarns may go together in a pair"
        isChecked={values.mixYarns === 'yes'}
        problems={problems}
      />
    </Card>
  );
};

const Rest = ({ names, values, problems, style, knitters, confidence }: MostPairsPageProps) => {
  const often = confidences.find((each) => each.ratio === confidence)?.words ?? '';
  return (
    <Card title="The same for all of them">
      <FieldRow>
        {names.styles.length > 1 ? (
          <SelectField
            name="style"
            label="Style"
            options={names.styles.map(({ id, name }) => ({ value: String(id), words: name }))}
            value={values.style || String(style?.id ?? '')}
            problems={problems}
          />
        ) : null}
        {style?.hasCuff ? (
          <SelectField
            name="cuff"
            label="Cuff"
            width="short"
            options={[
              { value: 'short', words: 'short' },
              { value: 'turned down', words: 'turned down' },
              { value: 'none', words: 'none' },
            ]}
            value={values.cuff}
            problems={problems}
          />
        ) : null}
        {knitters.length > 0 ? (
          <SelectField
            name="knitter"
            label="Knitted by"
            blank="as for prices"
            options={knitters}
            value={values.knitter}
            problems={problems}
          />
        ) : null}
      </FieldRow>
      <ChoiceField
        name="amounts"
        label="Yarn for a pair"
        options={[
          { value: 'safe', words: `safe: enough ${often}`, hint: 'A pair that runs short has no more of its dye lot.' },
          { value: 'likely', words: 'most likely', hint: 'More pairs, and now and then one that runs short.' },
        ]}
        value={values.amounts}
        problems={problems}
      />
      <ChoiceField
        name="leave"
        label="Leave alone"
        options={[
          { value: 'orders', words: 'what is put aside, and what agreed orders will take' },
          { value: 'begun', words: 'only what is put aside for pairs that are begun' },
        ]}
        value={values.leave}
        problems={problems}
      />
    </Card>
  );
};

const MakeBatch = ({ outlets, outlet, due, sent, revision, values, problems }: MostPairsPageProps) => (
  <Card title="Make these pairs a batch">
    <form id={batchFormId} method="post" action="/shelf/most-pairs">
      {sent.map(([name, value]) => (
        <input type="hidden" name={name} value={value} />
      ))}
      <input type="hidden" name="revision" value={String(revision)} />
      <FieldRow>
        <SelectField name="outlet" label="Where they go" options={outlets} value={outlet} problems={problems} />
        <TextField
          name="due"
          label="Due, if there is a day"
          type="date"
          width="short"
          value={due}
          problems={problems}
        />
      </FieldRow>
      <p class="hint">
        They become one order and stand in the batch. The plan shares all yarn out anew with every order, so it may take
        other lots for some of them; it never mixes two in a colour.
        {values.leave === 'begun'
          ? ' Agreed orders want some of this yarn too: what is then missing stands under Yarn to buy.'
          : ''}
      </p>
      <Actions>
        <Button>Put them in the batch</Button>
      </Actions>
    </form>
  </Card>
);

/** What is wanted of the shelf, and the most pairs it can make. */
export const MostPairsPage = (props: MostPairsPageProps) => {
  const { names, problems, colours, answered, style } = props;
  const answer = answered?.answer ?? null;
  // What may still change is no title.
  const title =
    answer && answer.state !== 'looking'
      ? `${countOf(answer.pairs, 'pair', 'pairs')} from this shelf`
      : 'Most pairs from this shelf';
  const isFaulty = problems.length > 0;
  return (
    <Page
      title={title}
      where={<a href="/shelf">Yarn shelf</a>}
      current="shelf"
      purpose={names.purpose}
      problems={problems}
    >
      <ErrorSummary problems={problems} />
      {colours.length === 0 ? (
        <EmptyState action={{ href: '/shelf/add', words: 'Put yarn on the shelf' }}>
          There is no free yarn on the shelf to make pairs of.
        </EmptyState>
      ) : style === null ? (
        <EmptyState action={{ href: '/styles', words: 'Look at the styles' }}>
          There is no style to knit yet.
        </EmptyState>
      ) : (
        <>
          {answered ? <AnswerParts {...answered} /> : null}
          {answer?.state === 'looking' ? <SearchEnd /> : null}
          {answer && answer.pairs > 0 ? <MakeBatch {...props} /> : null}
          <section class="no-print">
            {answer ? (
              <h2>What was asked</h2>
            ) : (
              <p>The most whole pairs your yarn makes, none of them in two dye lots of a colour.</p>
            )}
            <form method="get" action="/shelf/most-pairs" class="order-form">
              <Sizes {...props} />
              <div class="columns">
                <Colours {...props} />
                <Rest {...props} />
              </div>
              <Actions>
                <Button kind={answer && !isFaulty ? 'quiet' : 'main'}>Find the most pairs</Button>
              </Actions>
            </form>
          </section>
        </>
      )}
    </Page>
  );
};
