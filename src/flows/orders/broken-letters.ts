const windows = new TextDecoder('windows-1252');
/** The byte of each letter that a text in one byte a letter can have. */
const byteOf = new Map(Array.from({ length: 256 }, (_, byte) => [windows.decode(Uint8Array.of(byte)), byte]));
const strict = new TextDecoder('utf-8', { fatal: true });

/** The text as it was before its UTF-8 was read as one byte a letter: “MÃ¼ller” was “Müller”; null where it was not. */
function unbroken(text: string): string | null {
  const bytes = [...text].map((letter) => byteOf.get(letter));
  if (!bytes.some((byte) => byte !== undefined && byte > 127) || bytes.includes(undefined)) return null;
  try {
    return strict.decode(Uint8Array.from(bytes as number[]));
  } catch {
    return null;
  }
}

/**
 * What is wrong with the letters of a text: some were lost when a file was read or saved in another way of writing
 * letters than its own. Null where they seem whole.
 */
export function brokenLetters(text: string): string | null {
  const lost = /\S*\ufffd\S*/.exec(text)?.[0];
  const advice = 'Save the table as UTF-8, or type the letters anew.';
  if (lost !== undefined) return `A letter of “${lost.slice(0, 40)}” was lost. ${advice}`;
  for (const word of text.split(/\s+/)) {
    const was = unbroken(word);
    if (was !== null) return `“${word.slice(0, 40)}” seems to have been “${was.slice(0, 40)}”. ${advice}`;
  }
  return null;
}
