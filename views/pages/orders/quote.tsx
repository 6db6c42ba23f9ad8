import type { CostParts } from '#core/pricing/outlet.ts';
import type { PriceSheetRow } from '#core/pricing/price-sheet.ts';
import type { Day } from '#core/shared/calendar.ts';
import {
  countOf,
  currencySign,
  formatCents,
  formatCentsForInput,
  formatDay,
  formatMinutes,
} from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Card } from '#views/components/card.tsx';
import { Caution } from '#views/components/caution.tsx';
import { Chip } from '#views/components/chip.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { FieldRow, TextAreaField, TextField } from '#views/components/field.tsx';
import { type FigureEntry, FigureRow } from '#views/components/figure-row.tsx';
import { DataTable } from '#views/components/table.tsx';
import { formatDayShort, formatMass } from '#views/format.ts';
import { Page } from '#views/layout.tsx';
import { LineColours } from '#views/pages/orders/line-colours.tsx';
import { DropExtra, ExtraForm } from '#views/pages/orders/money-forms.tsx';
import type { ExtraProps } from '#views/pages/orders/money-types.ts';
import { listInWords } from '#views/pages/orders/order-words.ts';
import type { FormValues, LineView, OrderView } from '#views/pages/orders/types.ts';
import { NoWage, shortWorth, toneClass, worthTone } from '#views/pages/pricing/price-words.tsx';

export type QuoteLineProps = {
  readonly line: LineView;
  /** Null where the pair cannot be planned. */
  readonly price: {
    readonly eachCents: number | null;
    readonly sheet: { readonly priceCents: number | null; readonly groupName: string | null };
    readonly row: PriceSheetRow;
    readonly isOwn: boolean;
    readonly cost: CostParts;
    readonly isYarnPriceUnknown: boolean;
  } | null;
};

export type QuoteYarnProps = {
  readonly colour: { readonly name: string; readonly swatchHex: string; readonly yarn: { readonly name: string } };
  readonly usesG: number;
  readonly fromShelfG: number;
  readonly lotNames: readonly string[];
  readonly fromPlanG: number;
  readonly toBuyG: number;
  readonly packs: readonly { readonly shop: string; readonly balls: number; readonly ballG: number }[];
  readonly boughtG: number;
  readonly boughtCents: number;
  readonly leftOfPlanG: number;
  readonly leftOfBoughtG: number;
  readonly leftOnShelfG: number;
  readonly isUnsold: boolean;
};

export type QuotePageProps = {
  readonly today: Day;
  readonly currency: string;
  readonly wageCents: number;
  readonly order: OrderView;
  readonly contact: string | null;
  readonly remarks: string | null;
  readonly lines: readonly QuoteLineProps[];
  readonly totalCents: number;
  readonly withoutPrice: number;
  readonly depositCents: number;
  /** The deposit where it is not just the outlet's share. */
  readonly ownDepositCents: number | null;
  readonly validUntilDay: Day | null;
  readonly promisedDay: Day | null;
  readonly dayNow: Day | null;
  readonly isGiven: boolean;
  readonly isRunOut: boolean;
  readonly isHolding: boolean;
  readonly wishedDay: Day | null;
  readonly isWishMet: boolean;
  readonly help: string | null;
  readonly postDays: number | null;
  /** Where it is posted: the day it is wished for in the hand. */
  readonly arriveByDay: Day | null;
  readonly arrivesDay: Day | null;
  readonly knitters: readonly string[];
  readonly minutes: number;
  readonly yarn: readonly QuoteYarnProps[];
  readonly yarnCents: number;
  readonly shippingCents: number;
  readonly savesCents: number | null;
  readonly lineProblems: readonly { readonly lineId: number; readonly message: string }[];
  readonly reply: string;
  /** Starts an e-mail with the reply in it; null without an address. */
  readonly mailHref: string | null;
  readonly values: FormValues;
  readonly problems: readonly Problem[];
  /** Added to the pairs: a wrap, a card. */
  readonly extras: readonly ExtraProps[];
  readonly usualExtras: readonly ExtraProps[];
};

/** "Quote 12 for Mara Linden". */
export function quoteTitle(order: Pick<OrderView, 'number' | 'customerName'>): string {
  return order.customerName === null ? `Quote ${order.number}` : `Quote ${order.number} for ${order.customerName}`;
}

/** What the price of the worst of the pairs leaves, so that nobody says yes to it unseen. */
function worthOfAll(lines: QuotePageProps['lines']): Pick<FigureEntry, 'words' | 'tone'> {
  if (lines.some(({ price }) => price?.row.isBelowMoneyBack))
    return { words: '; a pair of it is a loss', tone: 'late' };
  if (lines.some(({ price }) => price?.row.isBelowWage)) return { words: '; below your wage', tone: 'caution' };
  return { words: '' };
}

function priceFigure({ totalCents, withoutPrice, lines, currency }: QuotePageProps): FigureEntry {
  const pairs = lines.reduce((sum, { line }) => sum + line.quantity, 0);
  if (withoutPrice > 0) return { value: 'no price', words: 'can be made for a pair: type one', tone: 'caution' };
  const each =
    pairs > 1 && lines.length === 1 ? `, ${formatCents(lines[0]!.price?.eachCents ?? 0, currency)} each` : '';
  const { words, tone } = worthOfAll(lines);
  return {
    value: formatCents(totalCents, currency),
    words: `for ${countOf(pairs, 'pair', 'pairs')}${each}${words}`,
    tone,
  };
}

function dayFigure({ promisedDay, isWishMet, wishedDay, postDays }: QuotePageProps): FigureEntry {
  if (promisedDay === null) {
    return { value: 'no day', words: 'can be promised: somebody must have hours for it', tone: 'caution' };
  }
  const what = postDays === null ? 'it can be done' : 'it can be posted';
  if (wishedDay === null) return { value: formatDayShort(promisedDay), words: what };
  return isWishMet
    ? { value: formatDayShort(promisedDay), words: `${what}: in time for their wish`, tone: 'done' }
    : { value: formatDayShort(promisedDay), words: `${what}: later than they wish`, tone: 'late' };
}

function validFigure({ validUntilDay, isRunOut, isHolding }: QuotePageProps): FigureEntry {
  if (validUntilDay === null) return { value: 'not given', words: 'yet: it has no last day' };
  if (isRunOut)
    return { value: formatDayShort(validUntilDay), words: 'was its last day: it has run out', tone: 'late' };
  const held = isHolding ? 'it holds evenings and yarn' : 'it holds no evenings and no yarn';
  return { value: formatDayShort(validUntilDay), words: `is its last day; ${held}` };
}

function figuresOf(props: QuotePageProps): FigureEntry[] {
  const { depositCents, currency } = props;
  return [
    priceFigure(props),
    dayFigure(props),
    { value: depositCents === 0 ? 'none' : formatCents(depositCents, currency), words: 'deposit before it is begun' },
    validFigure(props),
  ];
}

const Version = ({ order }: { readonly order: OrderView }) => (
  <input type="hidden" name="version" value={order.version} />
);

const RunOut = ({ order, today }: QuotePageProps) => (
  <Caution title="This quote has run out">
    It holds nothing any more. Offer it again: prices stay, day and last day are reckoned from {formatDayShort(today)}.
    <form method="post" action={`/orders/${order.id}/quote/renew`} class="row-actions">
      <Version order={order} />
      <Actions>
        <Button>Offer it again</Button>
      </Actions>
    </form>
  </Caution>
);

const NotGiven = ({ order }: QuotePageProps) => (
  <Caution title="No price and no day were given yet">
    What stands here is reckoned as of today. Fix it, and it stays as it was offered.
    <form method="post" action={`/orders/${order.id}/quote/renew`} class="row-actions">
      <Version order={order} />
      <Actions>
        <Button>Fix price and day</Button>
      </Actions>
    </form>
  </Caution>
);

/** What the promise has become since it was given. */
const Slipped = ({ promisedDay, dayNow, isRunOut, isGiven, lineProblems }: QuotePageProps) => {
  if (!isGiven || isRunOut || promisedDay === null || lineProblems.length > 0) return null;
  if (dayNow !== null && dayNow <= promisedDay) return null;
  return (
    <Caution title="The day cannot be kept as things stand">
      {formatDay(promisedDay)} was promised;{' '}
      {dayNow === null ? 'now nobody has the hours for it.' : `now it would be ${formatDay(dayNow)}.`} Other work came
      in between. Change the quote to promise a new day, or make room.
    </Caution>
  );
};

const Cautions = (props: QuotePageProps) => {
  const { lines, yarn, lineProblems, order } = props;
  const unsold = [...new Set(yarn.filter((each) => each.isUnsold).map((each) => each.colour.name))];
  return (
    <>
      {props.isRunOut ? <RunOut {...props} /> : props.isGiven ? null : <NotGiven {...props} />}
      <Slipped {...props} />
      {props.wageCents === 0 ? <NoWage /> : null}
      {lineProblems.map(({ lineId, message }) => (
        <Caution title="This pair is not reckoned">
          {message} <a href={`/orders/${order.id}/quote/lines/${lineId}`}>Change the pair</a>
        </Caution>
      ))}
      {unsold.length > 0 ? (
        <Caution title="No shop is known for this yarn">
          The day is reckoned as if {listInWords(unsold)} were here.{' '}
          <a href="/buying/prices">Say where it can be bought</a> before you promise.
        </Caution>
      ) : null}
      {lines.some(({ price }) => price?.isYarnPriceUnknown) ? (
        <Caution title="What its yarn costs is not known">
          {lines.some(({ price }) => price?.eachCents === null)
            ? 'No price can be made of the cost yet.'
            : 'The price is too low by that.'}{' '}
          <a href="/buying/prices">Enter a price</a>, or type yours below.
        </Caution>
      ) : null}
    </>
  );
};

const Answer = ({ order, isRunOut, isGiven }: QuotePageProps) => (
  <form method="post" action={`/orders/${order.id}/quote/yes`} class="row-actions">
    <Version order={order} />
    <Actions>
      <Button kind={isRunOut || !isGiven ? 'quiet' : 'main'}>They said yes</Button>
      <Button kind="quiet" formaction={`/orders/${order.id}/quote/no`}>
        They said no
      </Button>
      <LinkButton kind="quiet" href={`/orders/${order.id}/quote/edit`}>
        Change customer or day
      </LinkButton>
    </Actions>
  </form>
);

const Reply = ({ reply, mailHref, order, contact }: QuotePageProps) => (
  <section>
    <h2>The reply</h2>
    <TextAreaField
      name="reply"
      label="To copy into your answer"
      hint="Change what you like before you copy it; changes here are not kept."
      rows={Math.min(24, reply.split('\n').length + Math.ceil(reply.length / 90))}
      value={reply}
    />
    <Actions>
      {mailHref === null ? null : (
        <LinkButton href={mailHref} kind="quiet">
          Write it as an e-mail
        </LinkButton>
      )}
      <LinkButton href={`/orders/${order.id}/quote/print`} kind="quiet">
        A page to print or send
      </LinkButton>
    </Actions>
    {contact !== null && mailHref === null ? <p class="soft">To reach them: {contact}</p> : null}
  </section>
);

/** What a price leaves, with the two lines it lies between. */
const Worth = ({
  price,
  wageCents,
  currency,
}: { readonly price: NonNullable<QuoteLineProps['price']> } & Pick<QuotePageProps, 'wageCents' | 'currency'>) => {
  const { row, cost, sheet, isOwn } = price;
  const show = (cents: number) => formatCents(cents, currency);
  return (
    <>
      <span class={toneClass(worthTone(row, wageCents))}>{shortWorth(row, cost, wageCents, currency)}</span>
      <small class="block">
        {row.getsMoneyBackCents === null ? '' : `gets its money back at ${show(row.getsMoneyBackCents)}`}
        {row.paysWageCents === null ? '' : `, pays your wage at ${show(row.paysWageCents)}`}
      </small>
      {isOwn && sheet.priceCents !== null ? (
        <small class="block">the price sheet says {show(sheet.priceCents)} today</small>
      ) : null}
    </>
  );
};

const LinesTable = (props: QuotePageProps) => {
  const { lines, currency, wageCents, order } = props;
  return (
    <DataTable<QuoteLineProps>
      caption="The pairs and their price"
      rows={lines}
      rowId={({ line }) => `line-${line.id}`}
      columns={[
        {
          name: 'Size',
          kind: 'heading',
          cell: ({ line }) => (
            <>
              <a href={`/orders/lines/${line.id}`}>{line.size}</a>
              <small class="block">
                {[line.isUsualStyle ? '' : line.styleName, line.cuff, line.fit === 'usual' ? '' : `${line.fit} fit`]
                  .filter(Boolean)
                  .join(', ')}
              </small>
            </>
          ),
        },
        { name: 'Colours', kind: 'wide', cell: ({ line }) => <LineColours colours={line.colours} /> },
        { name: 'Pairs', kind: 'number', cell: ({ line }) => line.quantity },
        {
          name: 'A pair',
          kind: 'number',
          cell: ({ price }) =>
            price === null || price.eachCents === null ? 'no price' : formatCents(price.eachCents, currency),
        },
        {
          name: 'At that price',
          kind: 'wide',
          cell: ({ price }) => (price === null ? '' : <Worth {...{ price, wageCents, currency }} />),
        },
        {
          name: 'What to do',
          kind: 'action',
          cell: ({ line }) => (
            <span class="line-links">
              <a href={`/orders/${order.id}/quote/lines/${line.id}`}>
                Change<span class="visually-hidden"> {line.size}</span>
              </a>
            </span>
          ),
        },
      ]}
    />
  );
};

const PriceForm = (props: QuotePageProps) => {
  const { order, lines, currency, ownDepositCents, values, problems } = props;
  const money = (cents: number | null) => (cents === null ? '' : formatCentsForInput(cents, currency));
  const unit = currencySign(currency);
  return (
    <details class="more" open={problems.length > 0}>
      <summary>Ask another price</summary>
      <form method="post" action={`/orders/${order.id}/quote/prices`} class="more-fields">
        <Version order={order} />
        <FieldRow>
          {lines.map(({ line, price }) => (
            <TextField
              name={`price-${line.id}`}
              label={`A pair of ${line.size}`}
              width="short"
              unit={unit}
              inputmode="decimal"
              maxlength={20}
              value={values[`price-${line.id}`] ?? (price?.isOwn ? money(price.eachCents) : '')}
              problems={problems}
            />
          ))}
          <TextField
            name="deposit"
            label="Deposit"
            width="short"
            unit={unit}
            inputmode="decimal"
            maxlength={20}
            value={values.deposit ?? money(ownDepositCents)}
            problems={problems}
          />
        </FieldRow>
        <p class="hint">An empty box takes the price sheet’s price, and the share that the outlet asks as a deposit.</p>
        <Actions>
          <Button kind="quiet">Ask this, and see what an hour earns</Button>
        </Actions>
      </form>
    </details>
  );
};

const Extras = ({ order, extras, usualExtras, currency }: QuotePageProps) => (
  <>
    {extras.length === 0 ? null : (
      <ul class="plain-list spaced">
        {extras.map((extra) => (
          <li>
            {extra.name}, {formatCents(extra.cents, currency)} <DropExtra orderId={order.id} extra={extra} />
          </li>
        ))}
      </ul>
    )}
    <ExtraForm orderId={order.id} refused={null} {...{ currency, usualExtras }} />
  </>
);

const When = (props: QuotePageProps) => {
  const { promisedDay, dayNow, wishedDay, isWishMet, help, postDays, arrivesDay } = props;
  const { knitters, minutes, isHolding, arriveByDay } = props;
  return (
    <Card title="When">
      {promisedDay === null ? (
        <p>Nobody has knitting time left for it. Enter hours under Knitters, and the day follows.</p>
      ) : (
        <p>
          {minutes > 0 && knitters.length > 0
            ? `${formatMinutes(minutes)} of knitting, by ${listInWords(knitters)}. `
            : ''}
          {postDays === null
            ? `Done by ${formatDay(promisedDay)}.`
            : `Done and posted by ${formatDay(promisedDay)}, there by ${formatDay(arrivesDay ?? promisedDay)} after ${countOf(postDays, 'day', 'days')} in the post.`}{' '}
          No order gets later by it.
          {dayNow !== null && dayNow < promisedDay ? ` As things stand now it could be ${formatDay(dayNow)}.` : null}
        </p>
      )}
      {wishedDay === null ? null : (
        <p>
          {arriveByDay !== null && postDays !== null
            ? `They wish to have it by ${formatDay(arriveByDay)}: to be posted by ${formatDay(wishedDay)}. `
            : `They wish to have it by ${formatDay(wishedDay)}. `}
          {isWishMet ? 'That can be met.' : `That cannot be met. ${help ?? ''}`}
        </p>
      )}
      <p class="soft">
        {isHolding
          ? 'Its evenings and its yarn are held: the next quote is reckoned with them gone.'
          : 'It holds nothing: the next quote may promise the same evenings and the same yarn.'}
      </p>
    </Card>
  );
};

const orNothing = (items: readonly string[]) => (items.length === 0 ? ['nothing'] : items);

const whereFrom = ({ fromShelfG, lotNames, fromPlanG }: QuoteYarnProps) =>
  orNothing(
    [
      fromShelfG > 0
        ? `${formatMass(fromShelfG)} on the shelf${lotNames.length > 0 ? `, dye lot ${lotNames.join(' and ')}` : ''}`
        : '',
      fromPlanG > 0 ? `${formatMass(fromPlanG)} over from yarn that is bought anyway` : '',
    ].filter(Boolean),
  );

const packWords = ({ packs, toBuyG, isUnsold }: QuoteYarnProps) => {
  if (toBuyG <= 0) return ['nothing'];
  if (isUnsold || packs.length === 0) return [`${formatMass(toBuyG)}, no shop known`];
  return packs.map(({ shop, balls, ballG }) => `${countOf(balls, 'ball', 'balls')} of ${formatMass(ballG)} at ${shop}`);
};

const leftWords = ({ boughtG, leftOfBoughtG, fromShelfG, leftOnShelfG, fromPlanG, leftOfPlanG }: QuoteYarnProps) =>
  orNothing(
    [
      boughtG > 0 ? `${formatMass(leftOfBoughtG)} of what is bought` : '',
      fromShelfG > 0 ? `${formatMass(leftOnShelfG)} on the shelf` : '',
      fromPlanG > 0 ? `${formatMass(leftOfPlanG)} of what was over` : '',
    ].filter(Boolean),
  );

const Stacked = ({ items }: { readonly items: readonly string[] }) => (
  <>
    {items.map((item) => (
      <span class="block">{item}</span>
    ))}
  </>
);

const Yarn = ({ yarn, yarnCents, shippingCents, savesCents, currency }: QuotePageProps) => (
  <section>
    <DataTable<QuoteYarnProps>
      caption="Its yarn"
      rows={yarn}
      columns={[
        {
          name: 'Colour',
          kind: 'heading',
          cell: ({ colour }) => (
            <>
              <Chip colours={colour.swatchHex.split(' ')} name={colour.name} />
              <small class="block">{colour.yarn.name}</small>
            </>
          ),
        },
        { name: 'Takes', kind: 'number', cell: ({ usesG }) => formatMass(usesG) },
        { name: 'Is there', kind: 'wide', cell: (each) => <Stacked items={whereFrom(each)} /> },
        { name: 'To buy for it', kind: 'wide', cell: (each) => <Stacked items={packWords(each)} /> },
        { name: 'Likely left after it', kind: 'wide', cell: (each) => <Stacked items={leftWords(each)} /> },
      ]}
    />
    {yarnCents > 0 ? (
      <p>
        To buy for this quote alone: {formatCents(yarnCents, currency)}
        {shippingCents > 0 ? `, ${formatCents(shippingCents, currency)} of it postage` : ''}.
        {savesCents === null || savesCents <= 0
          ? ''
          : ` A slower shop would save ${formatCents(savesCents, currency)}, and the day would be later.`}
      </p>
    ) : null}
  </section>
);

/** A quote: the reply, its price and what that leaves, its day, its yarn, and what one can do with it. */
export const QuotePage = (props: QuotePageProps) => {
  const { order, problems, isRunOut, remarks } = props;
  const state = isRunOut ? 'run out' : props.isGiven ? 'open' : 'only asked';
  const where = [order.outletName, `asked ${formatDay(order.createdDay)}`, state].join(' · ');
  return (
    <Page title={quoteTitle(order)} where={where} current="orders" problems={problems}>
      <ErrorSummary problems={problems} />
      <FigureRow figures={figuresOf(props)} />
      <Cautions {...props} />
      <Answer {...props} />
      <div class="columns">
        <Reply {...props} />
        <When {...props} />
      </div>
      <section>
        <LinesTable {...props} />
        <PriceForm {...props} />
        <Extras {...props} />
        <Actions>
          <LinkButton href={`/orders/${order.id}/quote/lines/new`} kind="quiet">
            Another pair
          </LinkButton>
          <LinkButton href={`/orders/quotes/new?like=${order.id}`} kind="quiet">
            Same again for someone else
          </LinkButton>
        </Actions>
      </section>
      <Yarn {...props} />
      {remarks === null ? null : (
        <section>
          <h2>What they wrote</h2>
          <p class="address">{remarks}</p>
        </section>
      )}
    </Page>
  );
};
