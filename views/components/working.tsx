import type { Child } from 'hono/jsx';
import type { Mark as MarkName } from '#core/shared/figure.ts';
import { Mark } from '#views/components/mark.tsx';

export type WorkingLine = {
  readonly term: Child;
  readonly value: Child;
  readonly mark?: MarkName | undefined;
  /** Who says so, small below the value. */
  readonly source?: string | undefined;
};

export type WorkingProps = {
  /** "How 98 g comes about". */
  readonly summary: Child;
  readonly lines: readonly WorkingLine[];
  readonly isOpen?: boolean;
  /** The working's own address, where it can be followed further. */
  readonly href?: string | undefined;
  readonly children?: Child;
};

/** Term and value of a working, without the disclosure; for a working's own page. */
export const WorkingLines = ({ lines }: { readonly lines: readonly WorkingLine[] }) => (
  <dl class="working-lines">
    {lines.map(({ term, value, mark, source }) => (
      <div>
        <dt>{term}</dt>
        <dd>
          {value} {mark ? <Mark mark={mark} /> : null}
          {source ? <small class="source">{source}</small> : null}
        </dd>
      </div>
    ))}
  </dl>
);

/** How a number comes about, opened where it stands. */
export const Working = ({ summary, lines, isOpen = false, href, children }: WorkingProps) => (
  <details class="working" open={isOpen}>
    <summary>{summary}</summary>
    <WorkingLines lines={lines} />
    {children}
    {href ? (
      <p>
        <a href={href}>Follow it further</a>
      </p>
    ) : null}
  </details>
);
