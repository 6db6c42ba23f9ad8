import { countOf } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Caution } from '#views/components/caution.tsx';
import type { SelectOption } from '#views/components/field.tsx';
import { MakingSteps } from '#views/components/steps.tsx';
import { DataTable } from '#views/components/table.tsx';
import { FlatPieces } from '#views/drawings/flat-pieces.tsx';
import { Page, type Purpose } from '#views/layout.tsx';
import { type FormValues, SampleFields, SampleFigures, type SampleView } from '#views/pages/styles/sample.tsx';

type Named = { readonly name: string; readonly words: string };

export type StylePageProps = {
  readonly purpose: Purpose;
  readonly style: {
    readonly id: number;
    readonly name: string;
    readonly isShipped: boolean;
    readonly version: number;
    readonly versionNumber: number;
    readonly pairsOrdered: number;
    readonly pairsBegun: number;
    /** What keeps it from being removed; empty for nothing. */
    readonly usedBy: string;
    readonly make: number;
  };
  readonly words: {
    readonly colours: string;
    readonly lengths: readonly Named[];
    readonly pieces: readonly { readonly name: string; readonly note: string; readonly steps: readonly string[] }[];
    readonly marks: readonly string[];
    readonly seams: readonly string[];
    readonly checks: readonly string[];
  };
  readonly settings: readonly { readonly words: string; readonly value: string }[];
  readonly values: FormValues;
  readonly yarns: readonly SelectOption[];
  readonly problems: readonly Problem[];
  readonly sample: SampleView | null;
};

const Sentences = ({ title, sentences }: { readonly title: string; readonly sentences: readonly string[] }) =>
  sentences.length === 0 ? null : (
    <section>
      <h3>{title}</h3>
      <ul>
        {sentences.map((sentence) => (
          <li>{sentence}</li>
        ))}
      </ul>
    </section>
  );

function standing({ isShipped, versionNumber, pairsOrdered, pairsBegun }: StylePageProps['style']): string {
  const from = isShipped ? 'It comes with the program and stays as it is.' : `Your own, version ${versionNumber}.`;
  const ordered =
    pairsOrdered === 0 ? 'No pair of it is ordered.' : `${countOf(pairsOrdered, 'pair', 'pairs')} in orders.`;
  const begun =
    pairsBegun === 0 ? '' : ` ${countOf(pairsBegun, 'pair', 'pairs')} begun; a begun pair keeps its version.`;
  return `${from} ${ordered}${begun}`;
}

const Sample = ({ style, values, yarns, problems, sample }: StylePageProps) => (
  <section>
    <h2>As it comes out</h2>
    <form method="get" action={`/styles/${style.id}`} class="no-print">
      <SampleFields values={values} yarns={yarns} problems={problems} />
      <Actions>
        <Button kind="quiet">Show this size</Button>
      </Actions>
    </form>
    {sample ? (
      <>
        <SampleFigures sample={sample} />
        {sample.spec.warnings.length > 0 ? (
          <Caution title="At this size">{sample.spec.warnings.map((warning) => warning.message).join(' ')}</Caution>
        ) : null}
        <div class="columns">
          <div>
            <FlatPieces id="piece" pieces={sample.flat} hexesOf={() => sample.hexes} />
          </div>
          <div class="making">
            <MakingSteps card={sample.card} />
          </div>
        </div>
      </>
    ) : null}
  </section>
);

/** An own style goes only while nothing was made or asked of it. */
const Remove = ({ style }: Pick<StylePageProps, 'style'>) => {
  if (style.isShipped) return null;
  if (style.usedBy !== '') {
    return <p class="soft no-print">{`It cannot be removed while it is used by ${style.usedBy}.`}</p>;
  }
  return (
    <form method="post" action={`/styles/${style.id}/remove`}>
      <input type="hidden" name="version" value={style.version} />
      <Actions>
        <Button kind="remove">Remove this style</Button>
      </Actions>
    </form>
  );
};

/** A style: how it comes out at a size, then its rules in plain words. */
export const StylePage = (props: StylePageProps) => {
  const { purpose, style, words, settings, problems } = props;
  return (
    <Page title={style.name} where="Styles and sizes" current="sizing" purpose={purpose} problems={problems}>
      <p>{standing(style)}</p>
      <form method="post" action={`/styles/${style.id}/copy`}>
        <Actions>
          {style.isShipped ? null : <LinkButton href={`/styles/${style.id}/edit`}>Change it</LinkButton>}
          <Button kind={style.isShipped ? 'main' : 'quiet'}>Copy and change</Button>
          <LinkButton href={`/sizing?style=${style.id}`} kind="quiet">
            Its size chart
          </LinkButton>
          <LinkButton href={`/styles/${style.id}.json`} kind="quiet">
            Save it as a file
          </LinkButton>
        </Actions>
      </form>
      <Sample {...props} />
      <section>
        <h2>What it is reckoned from</h2>
        <p>{`Make ${style.make} of each piece. Colours: ${words.colours}.`}</p>
        <div class="columns">
          <div class="stack">
            {words.pieces.map((piece) => (
              <section>
                <h3>{`The ${piece.name}`}</h3>
                {piece.note ? <p>{piece.note}</p> : null}
                <ol>
                  {piece.steps.map((step) => (
                    <li>{step}</li>
                  ))}
                </ol>
              </section>
            ))}
          </div>
          <div class="stack">
            <section>
              <h3>Lengths</h3>
              <dl class="working-lines">
                {words.lengths.map((length) => (
                  <div>
                    <dt>{length.name}</dt>
                    <dd>{length.words}</dd>
                  </div>
                ))}
              </dl>
            </section>
            <Sentences title="Marks" sentences={words.marks} />
            <Sentences title="Seams" sentences={words.seams} />
            <Sentences title="Checks" sentences={words.checks} />
            <section>
              <h3>Settings</h3>
              <DataTable
                caption="Settings"
                isCaptionHidden
                columns={[
                  { name: 'Setting', kind: 'heading', cell: (row: (typeof settings)[number]) => row.words },
                  { name: 'Value', kind: 'number', cell: (row) => row.value },
                ]}
                rows={settings}
              />
            </section>
          </div>
        </div>
      </section>
      <Remove style={style} />
    </Page>
  );
};
