import type { Mark as MarkName } from '#core/shared/figure.ts';

const words: Record<MarkName, string> = {
  published: 'published',
  trade: 'trade',
  memory: 'memory',
  ours: 'our choice',
  yours: 'yours',
};

/** Where a number comes from, as a small outlined label. */
export const Mark = ({ mark }: { readonly mark: MarkName }) => <span class="mark">{words[mark]}</span>;
