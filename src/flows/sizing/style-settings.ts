import { formatPercent } from '#core/shared/format.ts';
import { formatLength, type UnitSystem } from '#core/shared/measures.ts';
import type { StyleBody } from '#core/styles/style.ts';

type Show = { readonly words: string; readonly value: (value: number, system: UnitSystem) => string };

const easeOf = (factor: number) => formatPercent(factor - 1);

/** What each setting of a style means in words; one without words is shown by its own name. */
const shown: Readonly<Record<string, Show>> = {
  girthFactor: { words: 'Ease around the foot, thick yarn', value: easeOf },
  girthFactorFine: { words: 'Ease around the foot, sock yarn', value: easeOf },
  lengthFactor: { words: 'Length against the foot', value: (value) => formatPercent(value) },
  growthMm: { words: 'Room to grow', value: formatLength },
  seamShare: { words: 'Top seam closes of the length', value: (value) => formatPercent(value) },
  cuffShort: { words: 'Short cuff, of the foot length', value: (value) => formatPercent(value) },
  cuffTurnedDown: { words: 'Turned-down cuff, of the foot length', value: (value) => formatPercent(value) },
  joinRows: { words: 'Cuff rows in the foot colour', value: (value) => String(value) },
  garterLength: { words: 'Garter stitch, of the foot length', value: (value) => formatPercent(value) },
  ribLength: { words: 'Rib over the instep, of the foot length', value: (value) => formatPercent(value) },
  tubeLength: { words: 'Length from rib to toe, of the foot length', value: (value) => formatPercent(value) },
  ribRows: { words: 'Rows of rib at the top', value: (value) => String(value) },
  soleLength: { words: 'Cast-on around the sole, of the foot length', value: (value) => formatPercent(value) },
  soleRoomMm: { words: 'Room around the sole', value: formatLength },
  sideShare: { words: 'Height of the sides, of the girth', value: (value) => formatPercent(value) },
  legGirth: { words: 'Leg, of the girth', value: (value) => formatPercent(value) },
  legHeight: { words: 'Height of the leg, of the foot length', value: (value) => formatPercent(value) },
  drawUpLimit: { words: 'Most stitches to draw up at the toe', value: (value) => String(value) },
};

/** A style's settings in words, the child's own beside the grown-ups'. */
export function styleSettings(
  body: Pick<StyleBody, 'settings' | 'settingsForChild'>,
  system: UnitSystem,
): { words: string; value: string }[] {
  return Object.entries(body.settings).map(([name, value]) => {
    const show = shown[name] ?? { words: name, value: (value) => String(value) };
    const forChild = body.settingsForChild[name];
    const child = forChild === undefined || forChild === value ? '' : ` (child ${show.value(forChild, system)})`;
    return { words: show.words, value: `${show.value(value, system)}${child}` };
  });
}

/** What a setting of this name means, where it is one that ships; empty for others. */
export function settingWords(name: string): string {
  return Object.hasOwn(shown, name) ? shown[name]!.words : '';
}
