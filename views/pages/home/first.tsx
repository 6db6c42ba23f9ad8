import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Card } from '#views/components/card.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { ChoiceField } from '#views/components/field.tsx';
import { gaugeUnit } from '#views/format.ts';
import { Page } from '#views/layout.tsx';

export type FirstPageProps = {
  readonly purpose: string;
  readonly problems: readonly Problem[];
  /** The file a workshop that was just cleared is kept in; null otherwise. */
  readonly keptAs: string | null;
};

/** The first screen of an empty workshop. */
export const FirstPage = ({ purpose, problems, keptAs }: FirstPageProps) => (
  <Page title="Slippers, from foot to finished price" where="Toe to Till" current="home" problems={problems}>
    <ErrorSummary problems={problems} />
    {keptAs ? (
      <p class="notice" role="status">
        Everything is cleared. What was here is kept as {keptAs}, in the folder of the workshop’s own file.{' '}
        <a href="/settings#field-file">Open a copy</a> brings it back.
      </p>
    ) : null}
    <section class="card first-choice">
      <h2>Try one pair</h2>
      <p>
        Say a size and a yarn, and your stitches {gaugeUnit()} if you know them. Out come the knitting card, the yarn it
        takes and the hours. Nothing else is asked.
      </p>
      <Actions>
        <LinkButton href="/try">Try one pair</LinkButton>
      </Actions>
    </section>
    <div class="columns">
      <section class="card">
        <h2>Look around in the sample season</h2>
        <p>
          A made-up workshop before a winter fair: three knitters, some fifteen orders, yarn on the shelf and two shops.
          Change anything; one button clears it.
        </p>
        <form method="post" action="/begin/sample">
          <Actions>
            <Button kind="quiet">Open the sample season</Button>
          </Actions>
        </form>
      </section>
      <section class="card">
        <h2>Begin my own</h2>
        <p>You get the two-piece slipper, the usual sizes, two plain yarns and yourself; the rest is yours to say.</p>
        <form method="post" action="/begin/own">
          <ChoiceField
            name="purpose"
            label="I knit"
            options={[
              { value: 'sell', words: 'to sell', hint: 'at fairs and in shops, from stock' },
              { value: 'order', words: 'to order', hint: 'a pair for somebody, at a price agreed' },
              { value: 'give', words: 'to give', hint: 'money stays out of the way' },
            ]}
            value={purpose}
            problems={problems}
          />
          <Actions>
            <Button kind="quiet">Begin my own</Button>
          </Actions>
        </form>
      </section>
    </div>
    <Card title="Had a workshop before?">
      <p>
        <a href="/settings#field-file">Open a copy</a> that was saved here or on another machine.
      </p>
    </Card>
  </Page>
);
