import { formatCount } from '#core/shared/format.ts';
import { type PageWish, type Paging, rowsOnScreen, rowsToPrint } from '#core/shared/paging.ts';

/** The address of a page of a list. */
export type PageHref = (wish: PageWish) => string;

export type PagerProps = {
  readonly paging: Paging;
  /** What stands in the list: "Orders", "Rows". */
  readonly noun: string;
  readonly href: PageHref;
  /** What the list is called aloud, where it is not the noun. */
  readonly label?: string;
  /** It stands below the list, and another above. */
  readonly isBelow?: boolean;
  /** Rows on a page that is not for printing. */
  readonly onScreen?: number;
};

/** "Rows 201 to 400 of 6,000". */
function whereWords({ noun, paging: { from, to, count } }: PagerProps): string {
  const rows = from === to ? formatCount(from) : `${formatCount(from)} to ${formatCount(to)}`;
  return `${noun} ${rows} of ${formatCount(count)}`;
}

/** The way to pages long enough to print, and back. A list of many thousand rows is printed in parts. */
const PrintLink = ({ paging: { size, count, from }, href, onScreen = rowsOnScreen }: PagerProps) => {
  const isToPrint = size === rowsToPrint;
  const other = isToPrint ? onScreen : rowsToPrint;
  const words = isToPrint
    ? 'Shorter pages'
    : count <= rowsToPrint
      ? 'All on one page, to print'
      : `${formatCount(rowsToPrint)} on a page, to print`;
  return <a href={href({ page: Math.ceil(from / other), size: other })}>{words}</a>;
};

/** The ways through a long list; nothing where all of it is on the page. Paper says which part of the list it holds. */
export const Pager = (props: PagerProps) => {
  const { noun, href, label = noun.toLowerCase(), isBelow = false, onScreen = rowsOnScreen } = props;
  const { page, pages, size, count } = props.paging;
  if (pages === 1 && count <= onScreen) return null;
  const to = (number: number) => href({ page: number, size });
  return (
    <nav class="filter pager" aria-label={`Pages of the list: ${label}${isBelow ? ', again' : ''}`}>
      <span>{whereWords(props)}</span>
      {page > 2 ? <a href={to(1)}>First</a> : null}
      {page > 1 ? (
        <a href={to(page - 1)} rel="prev">
          Previous
        </a>
      ) : null}
      {page < pages ? (
        <a href={to(page + 1)} rel="next">
          Next
        </a>
      ) : null}
      {page < pages - 1 ? <a href={to(pages)}>Last</a> : null}
      <PrintLink {...props} />
    </nav>
  );
};
