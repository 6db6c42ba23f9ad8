import type { Child } from 'hono/jsx';
import { countOf } from '#core/shared/format.ts';
import { CheckField, FieldRow, fieldId, SelectField, TextField } from '#views/components/field.tsx';
import {
  CommandButton,
  countIn,
  Entry,
  EntryButtons,
  FactorField,
  Faults,
  fieldOf,
  hasFault,
  NameSelect,
  type PartProps,
  pathsIn,
  ShortField,
  type StyleForm,
} from '#views/pages/styles/form-parts.tsx';
import { kindWords, SectionFields } from '#views/pages/styles/section-fields.tsx';

type Props = { readonly form: StyleForm };

/** A list of the style: closed while nothing in it is wrong or was changed. */
const ListPart = ({
  form,
  list,
  title,
  nouns,
  hint,
  children,
}: Props & {
  readonly list: string;
  readonly title: string;
  readonly nouns: readonly [string, string];
  readonly hint?: Child;
  readonly children: Child;
}) => {
  const count = countIn(form.values, list);
  return (
    <details class="card style-part" id={fieldId(list)} open={form.isOpen(list)}>
      <summary>
        <h2>{title}</h2> <small class="soft">{count === 0 ? 'none' : countOf(count, ...nouns)}</small>
      </summary>
      <div class="more-fields">
        {hint ? <p class="soft">{hint}</p> : null}
        <Faults form={form} path={list} />
        {children}
        <CommandButton form={form} command={`add ${list}`} to={`${list}.${count}`}>{`Add a ${nouns[0]}`}</CommandButton>
      </div>
    </details>
  );
};

export const RoleFields = ({ form }: Props) => (
  <ListPart
    form={form}
    list="roles"
    title="Colours"
    nouns={['colour', 'colours']}
    hint="What a colour is for. The word is shown in orders."
  >
    {pathsIn(form, 'roles').map((path) => (
      <div class="entry-row" id={fieldId(path)}>
        <FieldRow>
          <TextField {...fieldOf(form, `${path}.name`)} label="Name here" width="short" maxlength={60} />
          <TextField {...fieldOf(form, `${path}.words`)} label="Word in orders" width="short" maxlength={60} />
        </FieldRow>
        <EntryButtons form={form} path={path} what="colour" name={form.values[`${path}.name`] ?? ''} />
      </div>
    ))}
  </ListPart>
);

/** A setting that the program knows, by its words; its name stays what lengths and rows call it. */
const KnownSetting = ({ form, path, name }: PartProps & { readonly name: string }) => {
  const { words, unit, hint } = form.settingHelp(name)!;
  return (
    <>
      <input type="hidden" name={`${path}.name`} value={name} />
      <p>
        <strong>{words}</strong> <small class="soft">{`${name} in other boxes`}</small>
      </p>
      <FieldRow>
        <ShortField form={form} path={`${path}.value`} label="Value" hint={hint} unit={unit} inputmode="decimal" />
        <ShortField
          form={form}
          path={`${path}.child`}
          label="for a child"
          hint="Empty: the same"
          unit={unit}
          inputmode="decimal"
        />
      </FieldRow>
    </>
  );
};

const OwnSetting = ({ form, path }: PartProps) => (
  <FieldRow>
    <TextField {...fieldOf(form, `${path}.name`)} label="Name" maxlength={60} />
    <ShortField form={form} path={`${path}.value`} label="Value" inputmode="decimal" />
    <ShortField form={form} path={`${path}.child`} label="for a child" inputmode="decimal" />
  </FieldRow>
);

export const SettingFields = ({ form }: Props) => (
  <ListPart
    form={form}
    list="settings"
    title="Settings"
    nouns={['setting', 'settings']}
    hint="Numbers with a name, which lengths, rows and marks may use instead of a number."
  >
    {pathsIn(form, 'settings').map((path) => {
      const name = form.values[`${path}.name`] ?? '';
      const isKnown = form.settingHelp(name) !== null && !hasFault(form, `${path}.name`);
      return (
        <div class={hasFault(form, path) ? 'entry-row has-error' : 'entry-row'} id={fieldId(path)}>
          <Faults form={form} path={path} />
          {isKnown ? <KnownSetting form={form} path={path} name={name} /> : <OwnSetting form={form} path={path} />}
          <EntryButtons form={form} path={path} what="setting" name={name} isOrdered={false} />
        </div>
      );
    })}
  </ListPart>
);

const measures = [
  { value: 'footLength', words: 'length of the foot ×' },
  { value: 'ballGirth', words: 'girth of the ball ×' },
  { value: 'heelAnkleGirth', words: 'girth of heel and ankle ×' },
  { value: 'cuffHeight', words: 'height of the cuff ×' },
  { value: 'mm', words: 'millimetres:' },
];

const passed = measures.slice(0, 4).map(({ value, words }) => ({ value, words: words.replace(' ×', '') }));

export const LengthFields = ({ form }: Props) => (
  <ListPart
    form={form}
    list="lengths"
    title="Lengths"
    nouns={['length', 'lengths']}
    hint="Each is a sum: a measure of the foot times a number or a setting, and millimetres."
  >
    {pathsIn(form, 'lengths').map((path) => {
      const name = form.values[`${path}.name`] ?? '';
      const parts = pathsIn(form, `${path}.sum`);
      return (
        <Entry form={form} path={path} summary={name}>
          <TextField {...fieldOf(form, `${path}.name`)} label="Name" maxlength={60} />
          {parts.map((part, index) => (
            <div class="entry-row" id={fieldId(part)}>
              <FieldRow>
                <SelectField
                  {...fieldOf(form, `${part}.of`)}
                  label={index === 0 ? 'Sum of' : 'and'}
                  options={measures}
                />
                <FactorField form={form} path={`${part}.times`} label="Number or setting" />
              </FieldRow>
              {parts.length > 1 ? (
                <EntryButtons form={form} path={part} what="part" name={`${index + 1} of ${name}`} />
              ) : null}
            </div>
          ))}
          <CommandButton form={form} command={`add ${path}.sum`} to={path}>
            Add a part
          </CommandButton>
          <EntryButtons form={form} path={path} what="length" name={name} isOrdered={false} />
        </Entry>
      );
    })}
  </ListPart>
);

/** A piece with its steps in order. */
const PieceFields = ({ form, path }: PartProps) => {
  const name = form.values[`${path}.name`] ?? '';
  const sections = `${path}.sections`;
  return (
    <section class={hasFault(form, path) ? 'card has-error' : 'card'} id={fieldId(path)}>
      <h2>{`Piece: ${name}`}</h2>
      <Faults form={form} path={path} />
      <FieldRow>
        <TextField {...fieldOf(form, `${path}.name`)} label="Name of the piece" maxlength={60} />
        <NameSelect form={form} path={`${path}.gaugeOf`} list="roles" label="Gauge of the yarn for" />
      </FieldRow>
      <CheckField
        {...fieldOf(form, `${path}.isOptional`)}
        label="It may be left out, like a cuff"
        value="yes"
        isChecked={form.values[`${path}.isOptional`] === 'yes'}
      />
      <div class="entries" id={fieldId(sections)}>
        {pathsIn(form, sections).map((section) => (
          <SectionFields form={form} path={section} />
        ))}
      </div>
      <FieldRow>
        <SelectField
          name={`${path}.add`}
          label="Another step"
          options={Object.entries(kindWords).map(([value, words]) => ({ value, words }))}
          value="work"
        />
        <CommandButton form={form} command={`add ${sections}`} to={sections}>
          Add the step
        </CommandButton>
      </FieldRow>
      <EntryButtons form={form} path={path} what="piece" name={name} />
    </section>
  );
};

export const PiecesFields = ({ form }: Props) => (
  <div class="stack-cards" id={fieldId('pieces')}>
    <Faults form={form} path="pieces" />
    {pathsIn(form, 'pieces').map((path) => (
      <PieceFields form={form} path={path} />
    ))}
    <CommandButton form={form} command="add pieces" to={`pieces.${countIn(form.values, 'pieces')}`}>
      Add a piece
    </CommandButton>
  </div>
);

export const MarkFields = ({ form }: Props) => (
  <ListPart
    form={form}
    list="marks"
    title="Marks"
    nouns={['mark', 'marks']}
    hint="A mark splits the sides of a piece: up to it they bear its name, beyond it they are called rest."
  >
    {pathsIn(form, 'marks').map((path) => {
      const name = form.values[`${path}.name`] ?? '';
      return (
        <Entry form={form} path={path} summary={name}>
          <TextField {...fieldOf(form, `${path}.name`)} label="Name" maxlength={60} />
          <ShortField
            form={form}
            path={`${path}.edges`}
            label="Sides"
            hint="A piece and its side, like foot.left, foot.right"
            width="long"
          />
          <FieldRow>
            <SelectField
              {...fieldOf(form, `${path}.how`)}
              label="It stands"
              options={[
                { value: 'share', words: 'after a share of the rows' },
                { value: 'oneLess', words: 'where a share of the rows is left' },
                { value: 'after', words: 'at the end of a step' },
              ]}
            />
            <FactorField
              form={form}
              path={`${path}.value`}
              label="Share, setting or step"
              hint="0.5 is half of the rows"
            />
          </FieldRow>
          <NameSelect
            form={form}
            path={`${path}.until`}
            list="checks"
            label="Further until this check holds"
            blank="none"
          />
          <EntryButtons form={form} path={path} what="mark" name={name} isOrdered={false} />
        </Entry>
      );
    })}
  </ListPart>
);

/** Every edge there is, as it is written. */
function edgesOf(form: StyleForm): string {
  const marked = pathsIn(form, 'marks').flatMap((path) => {
    const name = form.values[`${path}.name`] ?? '';
    const edges = (form.values[`${path}.edges`] ?? '').split(',').map((edge) => edge.trim());
    return edges.filter(Boolean).flatMap((edge) => [`${edge}.${name}`, `${edge}.rest`]);
  });
  const whole = pathsIn(form, 'pieces').flatMap((path) =>
    ['start', 'end', 'left', 'right'].map((side) => `${form.values[`${path}.name`] ?? ''}.${side}`),
  );
  return [...whole, ...marked].join(', ');
}

export const JoinFields = ({ form }: Props) => (
  <ListPart
    form={form}
    list="joins"
    title="Seams"
    nouns={['seam', 'seams']}
    hint={`In the order they are sewn. An edge is a piece and its side: start is its first edge, end its last; left and right are its sides, as far as a mark or beyond it (rest). Here: ${edgesOf(form)}.`}
  >
    {pathsIn(form, 'joins').map((path) => {
      const name = form.values[`${path}.name`] ?? '';
      return (
        <Entry form={form} path={path} summary={name}>
          <FieldRow>
            <TextField {...fieldOf(form, `${path}.name`)} label="Name" maxlength={60} />
            <NameSelect form={form} path={`${path}.colour`} list="roles" label="Colour" />
          </FieldRow>
          <div class="picks">
            <SelectField
              {...fieldOf(form, `${path}.how`)}
              label="How"
              options={[
                { value: 'fold', words: 'one edge, folded', shows: 'shows-a' },
                { value: 'edges', words: 'two sides, sewn together', shows: 'shows-b' },
              ]}
            />
            <ShortField form={form} path={`${path}.one`} label="Edge, or edges of one side" width="long" />
            <div class="pick pick-b">
              <ShortField form={form} path={`${path}.other`} label="Edges of the other side" width="long" />
            </div>
          </div>
          <FieldRow>
            <ShortField
              form={form}
              path={`${path}.takes`}
              label="Takes of each edge"
              hint="Empty: by the yarn"
              unit="sts"
              inputmode="decimal"
            />
            <TextField
              {...fieldOf(form, `${path}.tail`)}
              label="With the end of"
              hint="cast-on, draw-up, bind-off, or empty"
              width="short"
              maxlength={60}
            />
          </FieldRow>
          <TextField
            {...fieldOf(form, `${path}.place`)}
            label="Where, if it needs saying"
            width="long"
            maxlength={120}
          />
          <EntryButtons form={form} path={path} what="seam" name={name} />
        </Entry>
      );
    })}
  </ListPart>
);

export const CheckFields = ({ form }: Props) => (
  <ListPart
    form={form}
    list="checks"
    title="Checks"
    nouns={['check', 'checks']}
    hint="What must hold so that the foot gets in. Stitches and marks may be raised until a check holds."
  >
    {pathsIn(form, 'checks').map((path) => {
      const name = form.values[`${path}.name`] ?? '';
      return (
        <Entry form={form} path={path} summary={name}>
          <TextField {...fieldOf(form, `${path}.name`)} label="Name" maxlength={60} />
          <div class="picks">
            <SelectField
              {...fieldOf(form, `${path}.how`)}
              label="What is checked"
              options={[
                { value: 'stretch', words: 'edges, stretched, pass the foot', shows: 'shows-a' },
                { value: 'ratio', words: 'two edges are nearly as long', shows: 'shows-b' },
              ]}
            />
            <ShortField form={form} path={`${path}.one`} label="Edges" width="long" />
            <div class="pick pick-a">
              <FieldRow>
                <ShortField form={form} path={`${path}.stretch`} label="Stretched" unit="times" inputmode="decimal" />
                <SelectField {...fieldOf(form, `${path}.over`)} label="passes the" options={passed} />
              </FieldRow>
            </div>
            <div class="pick pick-b stack-fields">
              <ShortField form={form} path={`${path}.other`} label="Against these edges" width="long" />
              <FieldRow>
                <ShortField form={form} path={`${path}.from`} label="Ratio from" inputmode="decimal" />
                <ShortField form={form} path={`${path}.to`} label="to" inputmode="decimal" />
              </FieldRow>
            </div>
          </div>
          <TextField
            {...fieldOf(form, `${path}.otherwise`)}
            label="What to say when it fails"
            width="long"
            maxlength={200}
          />
          <EntryButtons form={form} path={path} what="check" name={name} isOrdered={false} />
        </Entry>
      );
    })}
  </ListPart>
);
