import { entryOf } from '#core/shared/entry-of.ts';
import { formatLength } from '#core/shared/measures.ts';
import type { Fit, Person } from '#core/sizing/foot.ts';
import { sizeWords } from '#core/sizing/size-words.ts';
import { choiceOfStored, footLengthOfStored, type StoredSize } from '#core/sizing/stored-size.ts';
import { rolesKnitted } from '#core/styles/roles.ts';
import type { LineColourRow, OrderLineRow } from '#db/stores/orders.ts';
import type { WorkshopRows } from '#db/stores/read-workshop.ts';
import type { LineEntry } from '#flows/orders/entries.ts';
import { type KnownNames, knownNamesOf, turnedDownMm } from '#flows/orders/known-names.ts';
import { type Progress, progressByLine } from '#flows/orders/progress.ts';
import { footEntryOf } from '#flows/orders/stored-line.ts';

/** The colour of one role of a line, as it is shown. */
export type ColourView = {
  readonly role: string;
  /** "Foot", "Cuff". */
  readonly words: string;
  readonly name: string;
  readonly yarnName: string;
  readonly hexes: readonly string[];
};

/** A line in words. */
export type LineView = {
  readonly id: number;
  readonly orderId: number;
  readonly version: number;
  readonly quantity: number;
  readonly size: string;
  readonly fit: Fit;
  readonly cuff: string;
  readonly styleName: string;
  /** The style that the workshop began with: it need not be named. */
  readonly isUsualStyle: boolean;
  readonly agreedCents: number | null;
  /** Who is to knit it; null for whoever has time. */
  readonly knitterName: string | null;
  /** Roles that are knitted; a colour for a cuff that is left out is not among them. */
  readonly colours: readonly ColourView[];
  readonly progress: Progress;
};

export type LineWords = {
  readonly known: KnownNames;
  readonly view: (line: OrderLineRow, colours: readonly LineColourRow[]) => LineView;
  /** The line as a form would enter it; null when something it needs is gone. */
  readonly entry: (line: OrderLineRow, colours: readonly LineColourRow[]) => LineEntry | null;
  /** Whose foot and how long, mm, the left one where they differ; null when that is gone. */
  readonly foot: (line: OrderLineRow) => { readonly person: Person; readonly lengthMm: number } | null;
};

const sizeKey = ({ person, sizeSystem, sizeLabel, bandId, footId }: OrderLineRow) =>
  `${person}/${sizeSystem}/${sizeLabel}/${bandId}/${footId}`;

function storedSizeOf({ person, sizeSystem, sizeLabel }: OrderLineRow): StoredSize {
  return { person: person ?? 'unknown', system: sizeSystem ?? '', label: sizeLabel ?? '' };
}

/** Any height but none: a line that says nothing has its style's own cuff. */
const usualCuffMm = 1;

/** Everything that turns the lines of a workshop into words. */
export function lineWordsOf(rows: WorkshopRows): LineWords {
  const known = knownNamesOf(rows);
  const bands = new Map(rows.bands.map((band) => [band.id, band]));
  const bandLengths = new Map(known.bands.map((band) => [band.id, band.lengthMm]));
  const feet = new Map(rows.feet.map((foot) => [foot.id, foot]));
  const styles = new Map(known.styles.map((style) => [style.id, style]));
  const styleNames = new Map(rows.styles.map((style) => [style.id, style.name]));
  const colours = new Map(known.colours.map((colour) => [colour.id, colour]));
  const { unitSystem } = known.settings;
  const knitters = new Map(rows.knitters.map(({ id, name }) => [id, name]));
  const progressOf = progressByLine(rows);

  function footOf(line: OrderLineRow): { person: Person; lengthMm: number } | null {
    if (line.footId !== null) {
      const foot = feet.get(line.footId);
      return foot ? { person: foot.person, lengthMm: foot.leftLengthMm } : null;
    }
    if (line.bandId !== null) {
      const lengthMm = bandLengths.get(line.bandId);
      return lengthMm === undefined ? null : { person: bands.get(line.bandId)?.person ?? 'unknown', lengthMm };
    }
    const size = storedSizeOf(line);
    const length = footLengthOfStored(size, known.settings.usWomenOffset);
    return length.ok ? { person: size.person, lengthMm: length.value.value } : null;
  }

  function sizeOf(line: OrderLineRow): string {
    if (line.footId !== null) {
      const foot = feet.get(line.footId);
      if (!foot) return 'a foot that is no longer here';
      const { person, name, leftLengthMm: lengthMm, rightLengthMm } = foot;
      const words = sizeWords({ by: 'foot', person, lengthMm, rightLengthMm }, unitSystem);
      return name ? `${name}, ${words}` : words;
    }
    if (line.bandId !== null) {
      const band = bands.get(line.bandId);
      return band
        ? sizeWords({ by: 'band', person: band.person ?? 'unknown', name: band.name })
        : 'a band that is no longer here';
    }
    const choice = choiceOfStored(storedSizeOf(line));
    return choice ? sizeWords(choice) : 'a size that is not understood';
  }

  // Thousands of lines share some dozen sizes and colours, and so their words.
  const sizes = new Map<string, string>();
  const sizeOfLine = (line: OrderLineRow) => entryOf(sizes, sizeKey(line), () => sizeOf(line));
  const cuffs = new Map<string, string>();
  const cuffOfLine = (line: OrderLineRow) =>
    entryOf(cuffs, `${line.styleId}/${line.cuffHeightMm}/${sizeKey(line)}`, () => cuffOf(line));
  const roles = new Map<string, readonly ColourView[]>();
  const coloursOfLine = (line: OrderLineRow, lineColours: readonly LineColourRow[]) => {
    const ids = lineColours.map(({ role, yarnColourId }) => `${role}${yarnColourId}`).join('+');
    return entryOf(roles, `${line.styleId}/${line.cuffHeightMm}/${ids}`, () => coloursOf(line, lineColours));
  };

  function cuffOf(line: OrderLineRow): string {
    const style = styles.get(line.styleId);
    if (style && !style.hasCuff) return '';
    if (line.cuffHeightMm === null) return 'short cuff';
    if (line.cuffHeightMm === 0) return 'no cuff';
    const foot = footOf(line);
    const isTurnedDown = style && foot && turnedDownMm(style, foot.person, foot.lengthMm) === line.cuffHeightMm;
    return isTurnedDown ? 'turned-down cuff' : `cuff of ${formatLength(line.cuffHeightMm, unitSystem)}`;
  }

  function coloursOf(line: OrderLineRow, lineColours: readonly LineColourRow[]): ColourView[] {
    const style = styles.get(line.styleId);
    const roles =
      style?.roles ?? [...new Set(lineColours.map((each) => each.role))].map((name) => ({ name, words: name }));
    const knitted = style && rolesKnitted(style.body, line.cuffHeightMm ?? usualCuffMm);
    return roles.flatMap(({ name: role, words }) => {
      const isLeftOut = knitted?.includes(role) === false;
      const ids = new Set(lineColours.filter((each) => each.role === role).map((each) => each.yarnColourId));
      if (isLeftOut || ids.size === 0) return [];
      const strands = [...ids].flatMap((id) => colours.get(id) ?? []);
      const hexes = strands.flatMap((colour) => colour.hexes).slice(0, 4);
      const name = strands.map((colour) => colour.name).join(' with ') || 'a colour that is no longer here';
      const yarnName = [...new Set(strands.map((colour) => colour.yarnName))].join(' with ');
      return [{ role, words, name, yarnName, hexes }];
    });
  }

  function formEntryOf(line: OrderLineRow, lineColours: readonly LineColourRow[]): LineEntry | null {
    const { styleId, fit, cuffHeightMm, quantity, agreedCents, knitterId } = line;
    const foot = line.footId === null ? undefined : feet.get(line.footId);
    if (line.footId !== null && !foot) return null;
    const size: LineEntry['size'] | null = foot
      ? footEntryOf(foot)
      : line.bandId !== null
        ? { by: 'band', bandId: line.bandId }
        : choiceOfStored(storedSizeOf(line));
    if (size === null) return null;
    const places = lineColours.map(({ role, strand, yarnColourId }) => ({ role, strand, yarnColourId }));
    return { styleId, size, fit, cuffHeightMm, quantity, agreedCents, knitterId, colours: places };
  }

  return {
    known,
    foot: footOf,
    entry: formEntryOf,
    view: (line, lineColours) => ({
      id: line.id,
      orderId: line.orderId,
      version: line.version,
      quantity: line.quantity,
      size: sizeOfLine(line),
      fit: line.fit,
      cuff: cuffOfLine(line),
      styleName: styleNames.get(line.styleId) ?? 'a style that is no longer here',
      isUsualStyle: line.styleId === rows.styles[0]?.id,
      agreedCents: line.agreedCents,
      knitterName: line.knitterId === null ? null : (knitters.get(line.knitterId) ?? null),
      colours: coloursOfLine(line, lineColours),
      progress: progressOf(line),
    }),
  };
}
