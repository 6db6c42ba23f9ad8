import type { Child } from 'hono/jsx';

/** Something less needed that is folded away on a phone and in the open where there is room, and on paper. */
export const FoldOnPhone = ({ summary, children }: { readonly summary: string; readonly children?: Child }) => (
  <details class="fold-on-phone">
    <summary>{summary}</summary>
    {children}
  </details>
);
