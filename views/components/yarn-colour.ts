const hexShape = /^#[0-9a-f]{6}$/i;

/** The colour of undyed wool, for a yarn whose colour was never entered. */
export const undyedHex = '#b9ac97';

/** A colour safe to draw with: the one given when it is `#rrggbb`, otherwise that of undyed wool. */
export function safeHex(hex: string | undefined): string {
  return hex && hexShape.test(hex) ? hex : undyedHex;
}

function channelsOf(hex: string): readonly number[] {
  return [1, 3, 5].map((start) => Number.parseInt(safeHex(hex).slice(start, start + 2), 16));
}

/** The colour of the shadow between stitches: darker, or lighter where the yarn is too dark for a shadow to be seen. */
export function stitchShade(hex: string): string {
  const channels = channelsOf(hex);
  const lightness = (0.299 * channels[0]! + 0.587 * channels[1]! + 0.114 * channels[2]!) / 255;
  const shade = (channel: number) => (lightness < 0.22 ? channel + (255 - channel) * 0.26 : channel * 0.72);
  return `#${channels.map((channel) => Math.round(shade(channel)).toString(16).padStart(2, '0')).join('')}`;
}
