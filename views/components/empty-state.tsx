import type { Child } from 'hono/jsx';
import { LinkButton } from '#views/components/actions.tsx';

export type EmptyStateProps = {
  readonly children?: Child;
  readonly action?: { readonly href: string; readonly words: string } | undefined;
};

/** Nothing here yet: one sentence and one thing to do. */
export const EmptyState = ({ children, action }: EmptyStateProps) => (
  <div class="empty-state">
    <p>{children}</p>
    {action ? <LinkButton href={action.href}>{action.words}</LinkButton> : null}
  </div>
);
