import type { Child } from 'hono/jsx';

/** Something to be careful about, said where it matters. */
export const Caution = ({ title = 'Take care', children }: { readonly title?: string; readonly children?: Child }) => (
  <div class="caution" role="note">
    <p>
      <strong>{title}:</strong> {children}
    </p>
  </div>
);
