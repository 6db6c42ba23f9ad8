import { formatMmAsCm, formatPercent } from '#core/shared/format.ts';
import type { StyleBody } from '#core/styles/style.ts';

type Show = { readonly words: string; readonly value: (value: number) => string };

const easeOf = (factor: number) => formatPercent(factor - 1);

/** What each setting of a style means in words; one without words is shown by its own name. */
const shown: Readonly<Record<string, Show>> = {
  girthFactor: { words: 'Ease around the foot, thick yarn', value: easeOf },
  girthFactorFine: { words: 'Ease around the foot, sock yarn', value: easeOf },
  lengthFactor: { words: 'Length against the foot', value: formatPercent },
  growthMm: { words: 'Room to grow', value: formatMmAsCm },
  seamShare: { words: 'Top seam closes of the length', value: formatPercent },
  cuffShort: { words: 'Short cuff, of the foot length', value: formatPercent },
  cuffTurnedDown: { words: 'Turned-down cuff, of the foot length', value: formatPercent },
  joinRows: { words: 'Cuff rows in the foot colour', value: String },
  garterLength: { words: 'Garter stitch, of the foot length', value: formatPercent },
  ribLength: { words: 'Rib over the instep, of the foot length', value: formatPercent },
  tubeLength: { words: 'Length from rib to toe, of the foot length', value: formatPercent },
  ribRows: { words: 'Rows of rib at the top', value: String },
  soleLength: { words: 'Cast-on around the sole, of the foot length', value: formatPercent },
  soleRoomMm: { words: 'Room around the sole', value: formatMmAsCm },
  sideShare: { words: 'Height of the sides, of the girth', value: formatPercent },
  legGirth: { words: 'Leg, of the girth', value: formatPercent },
  legHeight: { words: 'Height of the leg, of the foot length', value: formatPercent },
  drawUpLimit: { words: 'Most stitches to draw up at the toe', value: String },
};

/** A style's settings in words, the child's own beside the grown-ups'. */
export function styleSettings(
  body: Pick<StyleBody, 'settings' | 'settingsForChild'>,
): { words: string; value: string }[] {
  return Object.entries(body.settings).map(([name, value]) => {
    const show = shown[name] ?? { words: name, value: String };
    const forChild = body.settingsForChild[name];
    const child = forChild === undefined || forChild === value ? '' : ` (child ${show.value(forChild)})`;
    return { words: show.words, value: `${show.value(value)}${child}` };
  });
}

/** What a setting of this name means, where it is one that ships; empty for others. */
export function settingWords(name: string): string {
  return Object.hasOwn(shown, name) ? shown[name]!.words : '';
}
