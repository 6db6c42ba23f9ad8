import type { Child } from 'hono/jsx';

/** The row of what one can do; one main action a page, the rest quiet. */
export const Actions = ({ children }: { readonly children?: Child }) => <div class="actions">{children}</div>;

export type ButtonKind = 'main' | 'quiet' | 'remove';

export type ButtonProps = {
  readonly kind?: ButtonKind;
  /** Sent with the form when this button is pressed. */
  readonly name?: string;
  readonly value?: string;
  /** Another address for this button alone. */
  readonly formaction?: string;
  /** Sends the form by its address, which then says what was chosen. */
  readonly formmethod?: 'get';
  /** Sends the form without the browser's own checks: for going back, or adding a line. */
  readonly formnovalidate?: boolean;
  readonly children?: Child;
};

/** A button that sends its form. */
export const Button = ({ kind = 'main', children, ...attributes }: ButtonProps) => (
  <button type="submit" class={`button button-${kind}`} {...attributes}>
    {children}
  </button>
);

export type LinkButtonProps = {
  readonly href: string;
  readonly kind?: ButtonKind;
  readonly children?: Child;
};

/** A link to another page that is the thing to do next. */
export const LinkButton = ({ href, kind = 'main', children }: LinkButtonProps) => (
  <a class={`button button-${kind}`} href={href}>
    {children}
  </a>
);
