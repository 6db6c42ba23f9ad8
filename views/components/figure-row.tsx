import type { Child } from 'hono/jsx';

export type Tone = 'late' | 'caution' | 'done';

export type FigureEntry = {
  /** The figure with its unit, formatted: "1,310 g". */
  readonly value: Child;
  /** What it is, in words that also say the state: a tone is never the only sign. */
  readonly words: Child;
  readonly tone?: Tone | undefined;
  /** Where its working or its page is. */
  readonly href?: string | undefined;
};

/** The three or four figures that matter on a page. */
export const FigureRow = ({ figures }: { readonly figures: readonly FigureEntry[] }) => (
  <ul class="figure-row">
    {figures.map(({ value, words, tone, href }) => (
      <li class={tone ? `tone-${tone}` : undefined}>
        <span class="figure-value">{href ? <a href={href}>{value}</a> : value}</span>
        <span class="figure-words">{words}</span>
      </li>
    ))}
  </ul>
);
