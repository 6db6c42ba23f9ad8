import type { FormBody } from '#server/forms/fields.ts';
import { textOf } from '#server/forms/fields.ts';

/** A table that was sent: pasted or in a file. */
export type SentTable = {
  readonly text: string;
  readonly fileName: string;
  /** What is wrong with the file as such, in a sentence; its text is then the best that could be made of it. */
  readonly problem: string | null;
};

function decode(bytes: Uint8Array): Pick<SentTable, 'text' | 'problem'> {
  const [first, second] = bytes;
  const is16 = (first === 0xff && second === 0xfe) || (first === 0xfe && second === 0xff);
  if (is16) return { text: new TextDecoder(first === 0xff ? 'utf-16le' : 'utf-16be').decode(bytes), problem: null };
  try {
    return { text: new TextDecoder('utf-8', { fatal: true }).decode(bytes), problem: null };
  } catch {
    if (bytes.includes(0)) {
      return { text: '', problem: 'This file is no text. Save the table as CSV and choose that file.' };
    }
    return {
      text: new TextDecoder('windows-1252').decode(bytes),
      problem:
        'This file is not written in UTF-8, so its special letters are a guess. Look through the text below, mend them, and import it from there.',
    };
  }
}

const mostNameLetters = 200;

/** The table of a form with a field `file` and a field `text`; a file that was chosen counts before the text. */
export async function readSentTable(body: FormBody): Promise<SentTable> {
  const file = [body.file].flat().find((each): each is File => each instanceof File && each.size > 0);
  const kept = textOf(body, 'fileName')
    .replace(/\p{Cc}+/gu, ' ')
    .trim()
    .slice(0, mostNameLetters);
  if (!file) {
    const text = textOf(body, 'text');
    return { text, fileName: kept || 'pasted table', problem: null };
  }
  const fileName =
    file.name
      .replace(/\p{Cc}+/gu, ' ')
      .trim()
      .slice(0, mostNameLetters) || 'a file';
  return { fileName, ...decode(new Uint8Array(await file.arrayBuffer())) };
}

/** An amount as it is to stand in a table: a number below 0 is no formula. */
export type AmountCell = { readonly amount: string };

// A spreadsheet takes a cell that begins so for a formula.
function safeCell(text: string): string {
  const safe = /^[=+\-@\t\r]/.test(text) ? `'${text}` : text;
  return /[",;\t\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/** A table as comma-separated values; cells that a spreadsheet would take for formulas are made harmless. */
export function writeCsv(rows: readonly (readonly (string | AmountCell)[])[]): string {
  const cellOf = (cell: string | AmountCell) => (typeof cell === 'string' ? safeCell(cell) : cell.amount);
  return rows.map((row) => `${row.map(cellOf).join(',')}\r\n`).join('');
}
