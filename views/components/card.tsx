import type { Child } from 'hono/jsx';

/** A sheet of its own on the page: a form, or things that belong together. */
export const Card = ({ title, children }: { readonly title?: Child; readonly children?: Child }) => (
  <section class="card">
    {title ? <h2>{title}</h2> : null}
    {children}
  </section>
);
