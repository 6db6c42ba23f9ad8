import { currencySign } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { CheckField, FieldRow, SelectField, TextAreaField, TextField } from '#views/components/field.tsx';
import type { FormNames, FormValues } from '#views/pages/orders/types.ts';

export type QuoteFieldsProps = {
  readonly names: FormNames;
  readonly values: FormValues;
  readonly problems: readonly Problem[];
  /** Parts of the world that the post has prices for. */
  readonly destinations: readonly string[];
  /** How many days a quote is good for, unless it says otherwise. */
  readonly quoteDays: number;
};

const hasProblem = (problems: readonly Problem[], ...paths: readonly string[]) =>
  problems.some(({ path }) => paths.includes(path));

const PostFields = ({ names, values, problems, destinations }: QuoteFieldsProps) => (
  <details class="more" open={(values.post ?? 'no') !== 'no' || hasProblem(problems, 'post', 'postage', 'postDays')}>
    <summary>By post</summary>
    <div class="more-fields">
      <SelectField
        name="post"
        label="How does it go?"
        options={[
          { value: 'no', words: 'not by post' },
          ...destinations.map((name, index) => ({ value: `to-${index}`, words: `by post: ${name}` })),
          { value: 'typed', words: 'by post, at the price below' },
        ]}
        value={values.post ?? 'no'}
        problems={problems}
      />
      <FieldRow>
        <TextField
          name="postage"
          label="Postage"
          width="short"
          unit={currencySign(names.currency)}
          inputmode="decimal"
          maxlength={20}
          value={values.postage}
          problems={problems}
        />
        <TextField
          name="postDays"
          label="Days in the post"
          width="short"
          inputmode="numeric"
          maxlength={5}
          value={values.postDays}
          problems={problems}
        />
      </FieldRow>
      {destinations.length > 0 ? (
        <p class="hint">Left empty, both are taken from your prices of the post and what the pairs weigh.</p>
      ) : null}
    </div>
  </details>
);

const usual = { deposit: '', validUntil: '', remarks: '' };

const TermsFields = ({ names, values, problems, quoteDays }: QuoteFieldsProps) => (
  <details
    class="more"
    open={
      Object.keys(usual).some((name) => (values[name] ?? '') !== '') ||
      hasProblem(problems, 'deposit', 'validUntil', 'remarks')
    }
  >
    <summary>Deposit, last day and their message</summary>
    <div class="more-fields">
      <TextField
        name="deposit"
        label="Deposit"
        hint="Left empty, it is the share that the outlet asks."
        width="short"
        unit={currencySign(names.currency)}
        inputmode="decimal"
        maxlength={20}
        value={values.deposit}
        problems={problems}
      />
      <TextField
        name="validUntil"
        label="Good until"
        hint={`Left empty, it is good for ${quoteDays} days.`}
        type="date"
        value={values.validUntil}
        problems={problems}
      />
      <TextAreaField
        name="remarks"
        label="What they wrote"
        hint="Kept with the quote; not in the reply."
        rows={3}
        maxlength={2000}
        value={values.remarks}
        problems={problems}
      />
    </div>
  </details>
);

/** For whom, where, by when, and what is offered beside the pairs. */
export const QuoteFields = (props: QuoteFieldsProps) => {
  const { names, values, problems } = props;
  return (
    <>
      <div class="order-details">
        <SelectField
          name="outlet"
          label="Priced as for"
          options={names.outlets.map((outlet) => ({ value: String(outlet.id), words: outlet.name }))}
          value={values.outlet}
          problems={problems}
        />
        <TextField name="due" label="Wished for by, if any day" type="date" value={values.due} problems={problems} />
        <TextField
          name="customer"
          label="For whom, if you know"
          maxlength={200}
          suggestions={names.customers.map((customer) => customer.name)}
          value={values.customer}
          problems={problems}
        />
        <TextField
          name="contact"
          label="Where to reach them"
          maxlength={1000}
          value={values.contact}
          problems={problems}
        />
      </div>
      <CheckField
        name="holds"
        label="Hold the evenings and the yarn"
        hint="So that no other quote promises the same. It ends with the quote’s last day."
        isChecked={values.holds === 'yes'}
        problems={problems}
      />
      <PostFields {...props} />
      <TermsFields {...props} />
    </>
  );
};
