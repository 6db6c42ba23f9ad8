import { formatNumber } from '#core/shared/format.ts';
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
    return { text: strict.decode(bytes), problem: null };
  } catch {
    if (bytes.includes(0)) {
      return { text: '', problem: 'This file is no text. Save the table as CSV and choose that file.' };
    }
    return guessLines(bytes);
  }
}

const strict = new TextDecoder('utf-8', { fatal: true });
const windows = new TextDecoder('windows-1252');
const mostNamed = 5;

/** Reads each line that is not written in UTF-8 as older programs write, and says which letters that made. */
function guessLines(bytes: Uint8Array): Pick<SentTable, 'text' | 'problem'> {
  const guessed: string[] = [];
  const lines: string[] = [];
  for (let start = 0; start <= bytes.length; ) {
    const end = bytes.indexOf(0x0a, start);
    const line = bytes.subarray(start, end < 0 ? bytes.length : end);
    try {
      lines.push(strict.decode(line));
    } catch {
      const text = windows.decode(line);
      lines.push(text);
      const words = text.match(/[^\s,;"]*[^ -~\s][^\s,;"]*/g) ?? [];
      guessed.push(
        `row ${lines.length}: ${words
          .slice(0, 3)
          .map((word) => `“${word.slice(0, 40)}”`)
          .join(' ')}`,
      );
    }
    start = end < 0 ? bytes.length + 1 : end + 1;
  }
  const more = guessed.length > mostNamed ? ` and ${guessed.length - mostNamed} more rows` : '';
  const problem = `This file is not written in UTF-8, so these letters are a guess: ${guessed.slice(0, mostNamed).join('; ')}${more}. Are they right? Then import the text below; if not, mend them there, or save the table as UTF-8.`;
  return { text: lines.join('\n'), problem };
}

const mostFileBytes = 2 * 1024 * 1024;

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
  if (file.size > mostFileBytes) {
    const size = formatNumber(Math.ceil((file.size / 1024 ** 2) * 10) / 10, 1);
    const problem = `“${fileName}” has ${size} MB; up to 2 MB can be read at once. Split it, and send the parts one after the other.`;
    return { text: textOf(body, 'text'), fileName: kept, problem };
  }
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
