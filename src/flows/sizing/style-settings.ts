import { formatPercent } from '#core/shared/format.ts';
import { formatLength, type UnitSystem } from '#core/shared/measures.ts';
import type { StyleBody } from '#core/styles/style.ts';

type Show = {
  readonly words: string;
  readonly value: (value: number, system: UnitSystem) => string;
  /** What its number counts in a form, and an example. */
  readonly unit: string;
  readonly hint: string;
};

const easeOf = (factor: number) => formatPercent(factor - 1);
const percent = (value: number) => formatPercent(value);

const ofFoot = (words: string, hint: string): Show => ({ words, value: percent, unit: '× the foot', hint });
const ofGirth = (words: string, hint: string): Show => ({ words, value: percent, unit: '× the girth', hint });
const rows = (words: string): Show => ({ words, value: String, unit: 'rows', hint: 'Like 2' });
const room = (words: string): Show => ({ words, value: formatLength, unit: 'mm', hint: '6 mm are 0.6 cm' });

/** What each setting of a style means in words; one without words is shown by its own name. */
const shown: Readonly<Record<string, Show>> = {
  girthFactor: { ...ofGirth('Ease around the foot, thick yarn', '0.93 is 7 % smaller than the foot'), value: easeOf },
  girthFactorFine: { ...ofGirth('Ease around the foot, sock yarn', '0.9 is 10 % smaller'), value: easeOf },
  lengthFactor: ofFoot('Length against the foot', '1 is as long as the foot'),
  growthMm: room('Room to grow'),
  seamShare: {
    words: 'Part of the length that the top seam closes',
    value: percent,
    unit: '× the length',
    hint: '0.5 is half of it',
  },
  cuffShort: ofFoot('Height of a short cuff, of the foot length', '0.2 is 4.8 cm on a foot of 24 cm'),
  cuffTurnedDown: ofFoot('Height of a turned-down cuff, of the foot length', '0.5 is 12 cm on a foot of 24 cm'),
  joinRows: rows('Cuff rows in the foot colour, after the cast-on'),
  garterLength: ofFoot('Garter stitch, of the foot length', '0.5 is 12 cm on a foot of 24 cm'),
  ribLength: ofFoot('Rib over the instep, of the foot length', '0.5 is 12 cm on a foot of 24 cm'),
  tubeLength: ofFoot('Length from rib to toe, of the foot length', '0.8 is 19.2 cm on a foot of 24 cm'),
  ribRows: rows('Rows of rib at the top, after the cast-on'),
  soleLength: ofFoot('Cast-on around the sole, of the foot length', '2 is twice the foot'),
  soleRoomMm: room('Room around the sole'),
  sideShare: ofGirth('Height of the sides, of the girth', '0.3 is 6 cm on a girth of 20 cm'),
  legGirth: ofGirth('Leg, of the girth', '0.9 is 10 % smaller'),
  legHeight: ofFoot('Height of the leg, of the foot length', '0.5 is half of the foot'),
  drawUpLimit: { words: 'Most stitches to draw up at the toe', value: String, unit: 'stitches', hint: 'Like 16' },
};

/** A style's settings in words, the child's own beside the grown-ups'. */
export function styleSettings(
  body: Pick<StyleBody, 'settings' | 'settingsForChild'>,
  system: UnitSystem,
): { words: string; value: string }[] {
  return Object.entries(body.settings).map(([name, value]) => {
    const show = shown[name] ?? { words: name, value: (value: number) => String(value) };
    const forChild = body.settingsForChild[name];
    const child = forChild === undefined || forChild === value ? '' : ` (child ${show.value(forChild, system)})`;
    return { words: show.words, value: `${show.value(value, system)}${child}` };
  });
}

/** What a setting that ships means, what its number counts, and an example. */
export type SettingHelp = Pick<Show, 'words' | 'unit' | 'hint'>;

/** The help for a setting of this name; null for one of the workshop's own. */
export function settingHelp(name: string): SettingHelp | null {
  return Object.hasOwn(shown, name) ? shown[name]! : null;
}
