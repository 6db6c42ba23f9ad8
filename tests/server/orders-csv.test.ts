import { describe, expect, it } from 'vitest';
import { readSentTable, writeCsv } from '#server/forms/csv.ts';

describe('writeCsv', () => {
  it('quotes what would break a row', () => {
    expect(writeCsv([['a', 'b,c', 'd"e', 'f\ng', 'h;i']])).toBe('a,"b,c","d""e","f\ng","h;i"\r\n');
    expect(writeCsv([])).toBe('');
  });

  it.each(['=1+1', '+1', '-1', '@a', '\tx'])('makes %j harmless to a spreadsheet', (text) => {
    expect(writeCsv([[text]])).toMatch(/^"?'/);
  });
});

describe('readSentTable', () => {
  it('takes the file before the text', async () => {
    const body = { file: new File(['in the file'], 'a.csv'), text: 'pasted' };
    expect(await readSentTable(body)).toEqual({ text: 'in the file', fileName: 'a.csv', problem: null });
    expect(await readSentTable({ file: new File([], ''), text: 'pasted' })).toMatchObject({
      text: 'pasted',
      fileName: 'pasted table',
    });
  });

  it('keeps the name of the file whose text is being mended', async () => {
    expect(await readSentTable({ text: 'mended', fileName: 'a.csv' })).toMatchObject({ fileName: 'a.csv' });
  });

  it('says when a file is no text', async () => {
    const { text, problem } = await readSentTable({ file: new File([Uint8Array.from([0xff, 0, 1])], 'a.png') });
    expect([text, problem?.startsWith('This file is no text')]).toEqual(['', true]);
  });
});
