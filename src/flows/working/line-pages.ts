import { knittingMinutesOn } from '#core/schedule/availability.ts';
import { addDays, type Day, weekdayOf } from '#core/shared/calendar.ts';
import { countOf, formatDay, formatDayShort, formatMinutes, formatMmAsCm } from '#core/shared/format.ts';
import { type Knitter, weekdays } from '#core/timing/knitter.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { plannedPairs } from '#flows/working/need-figures.ts';
import type { WorkingTable } from '#flows/working/page.ts';
import { lineWords, pairWords } from '#flows/working/words.ts';

/** A figure that is explained by tables: its own words stand in the title. */
export type TablePage = {
  readonly value: string;
  readonly about: string;
  readonly tables: readonly WorkingTable[];
  readonly notes: readonly string[];
};

function rowTable(knitter: Knitter, lineId: number, current: WorkshopPlan): WorkingTable {
  const { plan, today } = current;
  const never = '9999-99-99';
  const row = plannedPairs(current)
    .map(({ pair }, index) => ({ pair, index, week: plan.weeks[index]! }))
    .filter(({ week }) => week.knitterId === knitter.id && week.finishDay !== null)
    .sort(
      (a, b) =>
        (a.week.finishDay! < b.week.finishDay! ? -1 : a.week.finishDay! > b.week.finishDay! ? 1 : 0) ||
        (a.week.startDay! < b.week.startDay! ? -1 : a.week.startDay! > b.week.startDay! ? 1 : 0) ||
        (a.pair.dueDay ?? never).localeCompare(b.pair.dueDay ?? never) ||
        a.index - b.index,
    );
  let inAll = 0;
  const rows = row.map(({ pair, week }) => {
    inAll += week.minutes;
    const own = pair.lineId === lineId ? ' (this one)' : '';
    const left = pair.started ? ', already begun' : '';
    return [
      `${pairWords(current, pair)}${left}${own}`,
      pair.dueDay === null ? 'no day' : formatDayShort(pair.dueDay, today),
      formatDayShort(plan.placed.arrivalDay(pair.key, plan.lists.arrivals, today), today),
      formatMinutes(week.minutes),
      formatMinutes(inAll),
      formatDayShort(week.startDay!, today),
      formatDayShort(week.finishDay!, today),
    ];
  });
  return {
    caption: `${knitter.name}’s pairs, one after another`,
    columns: [
      { name: 'Pair', kind: 'heading' },
      { name: 'Due' },
      { name: 'Yarn here' },
      { name: 'Work', kind: 'number' },
      { name: 'Work in all', kind: 'number' },
      { name: 'Begins' },
      { name: 'Finished' },
    ],
    rows,
  };
}

function hoursTable(knitter: Knitter, { plan, today, input }: WorkshopPlan): WorkingTable {
  const given = plan.weeks.filter((each) => each.knitterId !== null);
  const averagePairMin = given.reduce((sum, each) => sum + each.minutes, 0) / Math.max(1, given.length);
  const options = { knittingMinutesPerHour: input.settings.knittingMinutesPerHour, averagePairMin };
  const usual = { ...knitter, daysOff: [], lastDay: null };
  const minutesOn = (day: Day) => formatMinutes(knittingMinutesOn(usual, day, options));
  const rows =
    knitter.pairsAMonth === null
      ? weekdays.map(({ weekday, name }) => [
          name,
          formatMinutes(knitter.minutesByWeekday[weekday - 1] ?? 0),
          minutesOn(addDays(today, (weekday - weekdayOf(today) + 7) % 7)),
        ])
      : [['Every day', 'spread evenly', minutesOn(today)]];
  return {
    caption: `${knitter.name}’s week`,
    columns: [
      { name: 'Day', kind: 'heading' },
      { name: 'By the clock', kind: 'number' },
      { name: 'Knitting', kind: 'number' },
    ],
    rows,
  };
}

function hoursNotes(knitter: Knitter, { input }: WorkshopPlan): string[] {
  const notes = [
    `${input.settings.knittingMinutesPerHour} minutes of each hour are knitting, the rest are pauses for the hands.`,
    `${knitter.name} knits at most ${formatMinutes(knitter.dailyCapMin)} a day.`,
  ];
  if (knitter.pairsAMonth !== null) {
    notes.push(
      `${knitter.name} knits ${countOf(knitter.pairsAMonth, 'pair', 'pairs')} a month: that many pairs of middling size, spread over 30.4 days.`,
    );
  }
  for (const { fromDay, toDay } of knitter.daysOff) {
    notes.push(
      fromDay === toDay
        ? `${knitter.name} is off on ${formatDay(fromDay)}.`
        : `${knitter.name} is off from ${formatDay(fromDay)} to ${formatDay(toDay)}.`,
    );
  }
  if (knitter.lastDay !== null) notes.push(`${knitter.name} knits until ${formatDay(knitter.lastDay)}.`);
  return notes;
}

/** When the pairs of a line are finished, and why then. */
export function finishPage(lineId: number, current: WorkshopPlan): TablePage {
  const own = plannedPairs(current).flatMap(({ pair }, index) =>
    pair.lineId === lineId ? [current.plan.weeks[index]!] : [],
  );
  const knitters = current.input.knitters.filter((each) => own.some((week) => week.knitterId === each.id));
  const days = own.map((week) => week.finishDay);
  const reasons = [...new Set(own.flatMap((week) => (week.reason === null ? [] : [week.reason])))];
  const last = days.includes(null)
    ? null
    : (days
        .map((day) => day!)
        .sort()
        .at(-1) ?? null);
  const nothing =
    own.length === 0 ? ['Nothing of this line is to be knitted: it is only asked, or every pair is there.'] : [];
  const value =
    own.length === 0 ? 'nothing left to knit' : last === null ? 'a day that is not known yet' : formatDay(last);
  return {
    value,
    about:
      own.length === 1
        ? 'The day this pair is finished.'
        : `The day the last of ${countOf(own.length, 'pair', 'pairs')} is finished.`,
    tables: knitters.flatMap((knitter) => [rowTable(knitter, lineId, current), hoursTable(knitter, current)]),
    notes: [
      ...nothing,
      ...reasons,
      ...new Set(knitters.flatMap((knitter) => hoursNotes(knitter, current))),
      'Each knitter takes, of the pairs whose yarn is there, the one that is due first, and finishes it before the next.',
    ],
  };
}

/** Which finished pairs answer a line, and which do not and why. */
export function stockPage(lineId: number, current: WorkshopPlan): TablePage {
  const { plan, input, rows } = current;
  const line = rows.lines.find((each) => each.id === lineId)!;
  const kind = current.kindOfLine.get(lineId)!;
  const isAgreed = input.lines.some((each) => each.id === lineId);
  const taken = plan.wanted.fromStock.filter((each) => each.lineId === lineId);
  const pairs = plan.wanted.pairs.filter((pair) => pair.lineId === lineId);
  const begun = pairs.filter((pair) => pair.started !== null).length;
  const done = Math.max(0, line.quantity - (input.lines.find((each) => each.id === lineId)?.quantity ?? line.quantity));
  const count = (pairsOf: number) => countOf(pairsOf, 'pair', 'pairs');
  const answers: WorkingTable = {
    caption: 'Where its pairs come from',
    columns: [
      { name: 'What', kind: 'heading' },
      { name: 'Pairs', kind: 'number' },
    ],
    rows: [
      ['Ordered', String(line.quantity)],
      ['Finished for it, or handed over', String(done)],
      ['Begun', String(begun)],
      ['From finished stock', String(taken.length)],
    ],
    footer: ['To make', String(pairs.length - begun)],
  };
  const notes = isAgreed
    ? []
    : ['Nothing is set aside for it: only agreed orders that still want pairs take from stock.'];
  const foot = isAgreed ? plan.handwork.specOf(kind, null).pieces[0] : undefined;
  const tables = [answers];
  if (foot && input.stock.length > 0) {
    const { measures } = plan.handwork.specOf(kind, null);
    const halfStitchMm = 50 / foot.stitchesPer10Cm;
    const rowMm = 100 / foot.rowsPer10Cm;
    notes.push(
      `A finished pair fits when style, colours and cuff are the same and it is within half a stitch (${formatMmAsCm(halfStitchMm)}) of ${formatMmAsCm(measures.widthMm)} across and one row (${formatMmAsCm(rowMm)}) of ${formatMmAsCm(measures.lengthMm)} long. The label does not count: a finished 38 may be a 37 too.`,
      'Orders due first take first; a pair that answers one order is not there for the next.',
    );
    const isNear = (a: number, b: number, most: number) => Math.abs(a - b) <= most + 1e-6;
    tables.push({
      caption: 'Finished pairs',
      columns: [
        { name: 'Pair', kind: 'heading' },
        { name: 'Style and colours' },
        { name: 'Across', kind: 'number' },
        { name: 'Long', kind: 'number' },
        { name: 'Answers' },
      ],
      rows: input.stock.map((pair) => {
        const isAlike =
          pair.kind.shape.style.versionId === kind.shape.style.versionId &&
          JSON.stringify(pair.kind.colours) === JSON.stringify(kind.colours);
        const across = isNear(pair.widthMm, measures.widthMm, halfStitchMm) ? '' : ', no';
        const long = isNear(pair.lengthMm, measures.lengthMm, rowMm) ? '' : ', no';
        const answered = plan.wanted.fromStock.find((each) => each.stockPairId === pair.id);
        const words =
          answered === undefined
            ? 'none yet'
            : answered.lineId === lineId
              ? 'this one'
              : lineWords(current, answered.lineId);
        return [
          `Pair ${pair.id}`,
          isAlike ? 'the same' : 'different',
          `${formatMmAsCm(pair.widthMm)}${across}`,
          `${formatMmAsCm(pair.lengthMm)}${long}`,
          words,
        ];
      }),
    });
  } else if (isAgreed) notes.push('There is no finished pair in stock.');
  return {
    value: count(taken.length),
    about: 'Finished pairs from stock that answer this line.',
    tables,
    notes,
  };
}
