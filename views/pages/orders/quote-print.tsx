import { formatDay } from '#core/shared/format.ts';
import { Page } from '#views/layout.tsx';
import { quoteTitle } from '#views/pages/orders/quote.tsx';
import type { OrderView } from '#views/pages/orders/types.ts';

export type QuotePrintProps = {
  readonly order: OrderView;
  readonly day: string;
  readonly words: {
    readonly lines: readonly {
      readonly what: string;
      readonly quantity: number;
      readonly each: string | null;
      readonly sum: string | null;
    }[];
    readonly additions: readonly { readonly name: string; readonly sum: string }[];
    readonly total: string | null;
    readonly taxNote: string;
    readonly deposit: string | null;
    readonly days: readonly string[];
    readonly validUntil: string | null;
    readonly care: readonly string[];
    readonly cautions: readonly string[];
    readonly fit: string;
  };
  /** The workshop's own line on tax; may be empty. */
  readonly taxNote: string;
  /** Who sends it; may be empty. */
  readonly workshopName: string;
};

/** The quote on a sheet of paper, A4 or letter, to print or to send as a file. */
export const QuotePrintPage = ({ order, day, words, taxNote, workshopName }: QuotePrintProps) => (
  <Page title={quoteTitle(order)} where={[workshopName, formatDay(day)].filter(Boolean).join(' · ')} current="orders">
    <p class="no-print">
      Print this page from your browser (Ctrl and P, or Command and P), on A4 or letter, or save it as a PDF and send
      it. <a href={`/orders/${order.id}/quote`}>Back to the quote</a>
    </p>
    <table class="quote-sheet">
      <caption class="visually-hidden">Pairs and prices</caption>
      <thead>
        <tr>
          <th scope="col">What</th>
          <th scope="col" class="number">
            A pair
          </th>
          <th scope="col" class="number">
            Together
          </th>
        </tr>
      </thead>
      <tbody>
        {words.lines.map(({ what, each, sum }) => (
          <tr>
            <th scope="row">{what}</th>
            <td class="number">{each ?? ''}</td>
            <td class="number">{sum ?? ''}</td>
          </tr>
        ))}
        {words.additions.map(({ name, sum }) => (
          <tr>
            <th scope="row">{name}</th>
            <td />
            <td class="number">{sum}</td>
          </tr>
        ))}
      </tbody>
      {words.total === null ? null : (
        <tfoot>
          <tr>
            <th scope="row" colspan={2}>
              In all{words.taxNote === '' ? '' : `, ${words.taxNote}`}
            </th>
            <td class="number">{words.total}</td>
          </tr>
        </tfoot>
      )}
    </table>
    <dl class="quote-terms">
      {words.deposit === null ? null : (
        <div>
          <dt>Deposit</dt>
          <dd>{words.deposit} before they are begun; the rest when they are done.</dd>
        </div>
      )}
      {words.days.length === 0 ? null : (
        <div>
          <dt>Day</dt>
          <dd>{words.days.join(' ')}</dd>
        </div>
      )}
      {words.validUntil === null ? null : (
        <div>
          <dt>Good until</dt>
          <dd>{words.validUntil}</dd>
        </div>
      )}
      {words.fit === '' ? null : (
        <div>
          <dt>Fit</dt>
          <dd>{words.fit}</dd>
        </div>
      )}
      {words.care.length === 0 ? null : (
        <div>
          <dt>Care</dt>
          <dd>{words.care.join(' ')}</dd>
        </div>
      )}
      {words.cautions.length === 0 ? null : (
        <div>
          <dt>Take care</dt>
          <dd>{words.cautions.join(' ')}</dd>
        </div>
      )}
      {taxNote === '' ? null : (
        <div>
          <dt>Tax</dt>
          <dd>{taxNote}</dd>
        </div>
      )}
    </dl>
  </Page>
);
