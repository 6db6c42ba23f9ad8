import { currencySign, formatCents, formatCentsForInput } from '#core/shared/format.ts';
import { Actions, Button } from '#views/components/actions.tsx';
import { Caution } from '#views/components/caution.tsx';
import { CheckField, ChoiceField, FieldRow, TextAreaField, TextField } from '#views/components/field.tsx';
import { type FigureEntry, FigureRow } from '#views/components/figure-row.tsx';
import { formatDayShort, formatMass } from '#views/format.ts';
import { Fold, formState } from '#views/pages/orders/money-forms.tsx';
import type { DestinationProps, OrderMoneyProps, PostProps } from '#views/pages/orders/money-types.ts';
import { daysInPost } from '#views/pages/orders/money-words.ts';
import type { FormValues } from '#views/pages/orders/types.ts';

function isToPost({ postageCents, arriveByDay, postedDay }: PostProps): boolean {
  return postageCents !== null || arriveByDay !== null || postedDay !== null;
}

function postByFigure({ postBy, arriveByDay, postDays }: PostProps): FigureEntry[] {
  if (!postBy) return [];
  const when = arriveByDay === null ? 'is the day to post it' : 'is the last day to post it';
  const days = postDays === null ? ', the days in the post not counted' : '';
  const value = formatDayShort(postBy.day);
  if (postBy.isPast) return [{ value, words: `was the day to post it: that has passed${days}`, tone: 'late' }];
  return [{ value, words: postBy.daysLeft === 0 ? `${when}: today${days}` : `${when}${days}` }];
}

function figuresOf({ post, isReady }: OrderMoneyProps): FigureEntry[] {
  const { arriveByDay, postedDay, massG, readyDay, postBy } = post;
  if (postedDay !== null) {
    return [
      { value: formatDayShort(postedDay), words: 'is the day it was posted', tone: 'done' },
      ...(arriveByDay === null ? [] : [{ value: formatDayShort(arriveByDay), words: 'is the day to be there by' }]),
    ];
  }
  const isTooLate = !isReady && readyDay !== null && postBy !== null && readyDay > postBy.day;
  return [
    ...postByFigure(post),
    ...(arriveByDay === null ? [] : [{ value: formatDayShort(arriveByDay), words: 'is the day to be there by' }]),
    ...(isTooLate
      ? [
          {
            value: formatDayShort(readyDay),
            words: 'planned to be done: after the day to post it',
            tone: 'late' as const,
          },
        ]
      : []),
    { value: formatMass(massG), words: 'is about what the parcel weighs' },
  ];
}

function destinationWords(each: DestinationProps, { currency, isGiving }: OrderMoneyProps): string {
  const price = isGiving ? '' : `${formatCents(each.cents, currency)}, `;
  const parcels = each.parcels?.length === 1 ? `up to ${formatMass(each.parcels[0]!.band.upToG)}` : '';
  const many = (each.parcels?.length ?? 0) > 1 ? `in ${each.parcels!.length} parcels` : '';
  return `${each.name}: ${price}${daysInPost(each.days)}, ${parcels}${many}`;
}

/** What the form begins with: the destination whose price is the order's, or the price by hand. */
function freshPostage({ post, currency }: OrderMoneyProps): FormValues {
  const { postageCents, postDays, destinations } = post;
  const same = destinations.find((each) => each.parcels && each.cents === postageCents && each.days === postDays);
  return {
    band: postageCents === null ? 'none' : same ? String(same.bandId) : 'hand',
    postage: postageCents === null || same ? '' : formatCentsForInput(postageCents, currency),
    days: postageCents === null || same || postDays === null ? '' : String(postDays),
    arriveBy: post.arriveByDay ?? '',
    address: post.address ?? '',
  };
}

const PostageForm = (props: OrderMoneyProps) => {
  const { orderId, version, currency, post, isGiving } = props;
  const { values, problems, isRefused, id } = formState(props, 'postage', freshPostage(props));
  const field = (name: string) => ({ name, id: id(name), value: values[name], problems });
  const options = post.destinations
    .filter((each) => each.parcels !== null)
    .map((each) => ({
      value: String(each.bandId),
      words: destinationWords(each, props),
      ...(each.problem !== null
        ? { hint: each.problem }
        : each.isClose
          ? { hint: 'Near the limit: put it on the scale before you go.' }
          : {}),
    }));
  const impossible = post.destinations.filter((each) => each.parcels === null);
  return (
    <Fold summary={isToPost(post) ? 'Change how it is posted' : 'Have it posted'} isOpen={isRefused}>
      <form method="post" action={`/orders/${orderId}/postage`}>
        <input type="hidden" name="version" value={values.version ?? version} />
        <p class="hint">
          The parcel weighs about {formatMass(post.massG)}, {formatMass(post.packingG)} of packing with it
          {post.withoutMass > 0 ? '; lines that are not planned are left out' : ''}.
          {post.destinations.length === 0 ? (
            <>
              {' '}
              <a href="/pricing/postage">Enter what the post asks</a>, and it is found by weight.
            </>
          ) : null}
        </p>
        {impossible.map((each) => (
          <p class="hint">
            {each.name}: {each.problem}
          </p>
        ))}
        <ChoiceField
          {...field('band')}
          label="Where it goes"
          options={[
            { value: 'none', words: 'not posted: fetched, or handed over' },
            ...options,
            { value: 'hand', words: isGiving ? 'another way' : 'another price' },
          ]}
        />
        <div class="when when-hand">
          <FieldRow>
            {isGiving ? (
              <input type="hidden" name="postage" value="0" />
            ) : (
              <TextField
                {...field('postage')}
                label="Another price"
                inputmode="decimal"
                width="short"
                maxlength={20}
                unit={currencySign(currency)}
              />
            )}
            <TextField {...field('days')} label="Days in the post" inputmode="numeric" width="short" maxlength={4} />
          </FieldRow>
        </div>
        <TextField {...field('arriveBy')} label="To be there by" type="date" />
        <TextAreaField {...field('address')} label="Address" rows={3} maxlength={1000} />
        <Actions>
          <Button kind="quiet">Save how it is posted</Button>
        </Actions>
      </form>
    </Fold>
  );
};

const PostedForm = (props: OrderMoneyProps) => {
  const { orderId, version, today, isReady } = props;
  const { values, problems, isRefused, id } = formState(props, 'posted', { day: today });
  const isMissing = problems.some((problem) => problem.code === 'notFinished') || values.inPart !== undefined;
  return (
    <Fold summary="It is posted" isOpen={isRefused || isReady}>
      <form method="post" action={`/orders/${orderId}/posted`}>
        <input type="hidden" name="version" value={values.version ?? version} />
        <TextField
          name="day"
          id={id('day')}
          label="Posted on"
          hint="Its finished pairs are handed over with it."
          type="date"
          value={values.day}
          problems={problems}
        />
        {isMissing ? (
          <CheckField
            name="inPart"
            id={id('inPart')}
            label="It goes in part: the rest is still to be knitted"
            isChecked={values.inPart === 'yes'}
            problems={problems}
          />
        ) : null}
        <Actions>
          <Button kind="quiet">It is posted</Button>
        </Actions>
      </form>
    </Fold>
  );
};

const NotPosted = ({ orderId, version }: OrderMoneyProps) => (
  <form method="post" action={`/orders/${orderId}/not-posted`} class="row-actions">
    <input type="hidden" name="version" value={version} />
    <Actions>
      <Button kind="remove">It was not posted after all</Button>
    </Actions>
  </form>
);

/** How an order gets there: what the parcel weighs, what it costs, the last day to post it, and that it is gone. */
export const OrderPost = (props: OrderMoneyProps) => {
  const { post, state, orderId } = props;
  const isPosted = post.postedDay !== null;
  if (state === 'cancelled' && !isPosted) return null;
  return (
    <section id="post">
      <h2>By post</h2>
      {isToPost(post) ? <FigureRow figures={figuresOf(props)} /> : null}
      {post.postBy?.isPast ? (
        <Caution title="The day to post it has passed">
          Posted today, it is there on {formatDayShort(post.postBy.arrivesDay)}. A quicker way, or a word to the
          customer?
        </Caution>
      ) : null}
      {isToPost(post) && post.address ? <p class="address">{post.address}</p> : null}
      {isPosted && state !== 'cancelled' ? <NotPosted {...props} /> : null}
      {isPosted || state === 'cancelled' ? null : (
        <div class="folds no-print">
          <PostageForm {...props} />
          {state === 'agreed' && isToPost(post) ? <PostedForm {...props} /> : null}
        </div>
      )}
      {isToPost(post) && !isPosted && !post.address ? (
        <p class="soft">
          No address yet. <a href={`/orders/${orderId}/edit`}>Enter it with the order</a>, or above.
        </p>
      ) : null}
    </section>
  );
};
