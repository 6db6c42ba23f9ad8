import { describe, expect, it } from 'vitest';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { CheckField, ChoiceField, fieldId, SelectField, TextAreaField, TextField } from '#views/components/field.tsx';

const problems = [
  { code: 'range', path: 'lines.0.size', message: 'Enter a size, like 38.' },
  { code: 'none', path: 'name', message: 'Enter a name.' },
];

describe('TextField', () => {
  it('keeps what was typed, says what is wrong and leads to both', () => {
    const text = String(
      <TextField name="lines.0.size" label="Size" hint="EU, like 38" value={'"380'} problems={problems} />,
    );
    expect(text).toContain('<label for="field-lines-0-size">Size</label>');
    expect(text).toContain('value="&quot;380"');
    expect(text).toContain('aria-describedby="field-lines-0-size-hint field-lines-0-size-error"');
    expect(text).toContain('aria-invalid="true"');
    expect(text).toContain('<p class="error" id="field-lines-0-size-error">Enter a size, like 38.</p>');
    expect(text).not.toContain('Enter a name.');
  });

  it('is quiet when nothing is wrong', () => {
    const text = String(<TextField name="size" label="Size" value={null} problems={problems} />);
    expect(text).not.toMatch(/aria-|class="error"|has-error/);
    expect(text).toContain('value=""');
  });
});

describe('SelectField', () => {
  const options = [
    { value: '1', words: 'Heather' },
    { group: 'Darker', options: [{ value: '2', words: 'Fir' }] },
  ];

  it('keeps the choice, in a group too, a number as well as a text', () => {
    const text = String(<SelectField name="colour" label="Colour" options={options} value={2} />);
    expect(text).toContain('<option value="2" selected="">Fir</option>');
    expect(text.match(/selected/g)).toHaveLength(1);
  });

  it('begins with nothing chosen when there is a blank', () => {
    const text = String(<SelectField name="colour" label="Colour" options={options} blank="Any" />);
    expect(text).toContain('<option value="">Any</option>');
    expect(text).not.toContain('selected');
  });
});

describe('ChoiceField, CheckField and TextAreaField', () => {
  it('keep what was chosen and typed', () => {
    const fits = [
      { value: 'snug', words: 'Snug' },
      { value: 'usual', words: 'Usual' },
    ];
    const choices = String(<ChoiceField name="fit" label="Fit" options={fits} value="usual" />);
    expect(choices).toMatch(/value="usual" checked=""/);
    expect(choices.match(/checked/g)).toHaveLength(1);
    // A link from the summary leads to the first choice.
    expect(choices).toMatch(/value="snug"[^>]* id="field-fit"/);
    expect(String(<CheckField name="wrap" label="Wrapped" isChecked />)).toContain('checked=""');
    expect(String(<TextAreaField name="note" label="Note" value={'a\n</textarea>'} />)).toContain(
      '>a\n&lt;/textarea&gt;</textarea>',
    );
  });
});

describe('ErrorSummary', () => {
  it('leads to every field, and stands alone for what belongs to none', () => {
    const text = String(<ErrorSummary problems={[...problems, { code: 'late', path: '', message: 'Too late.' }]} />);
    expect(text).toContain(`<a href="#${fieldId('lines.0.size')}">Enter a size, like 38.</a>`);
    expect(text).toContain('<li>Too late.</li>');
    expect(text).toContain('tabindex="-1"');
  });

  it('is not there when nothing is wrong', () => {
    expect(ErrorSummary({ problems: [] })).toBeNull();
  });
});
