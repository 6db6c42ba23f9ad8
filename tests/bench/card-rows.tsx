import { html } from 'hono/html';
import { cardOf } from '#core/cards/card-of.ts';
import { twoPieceSlipper } from '#core/styles/shipped/two-piece-slipper.ts';
import { atMost, type BenchRow, medianMs } from '#tests/bench/measure.ts';
import { cardCase } from '#tests/support/card-cases.ts';
import { PrintPage } from '#views/pages/cards/print-page.tsx';
import type { Sheet } from '#views/pages/cards/sheet.tsx';

const pairs = 200;

/** 200 pairs, no two alike, so that no card serves twice. */
function inputs() {
  return Array.from(
    { length: pairs },
    (_, index) => cardCase({ body: twoPieceSlipper, lengthMm: 200 + index / 2 }).input,
  );
}

async function printCards(all: ReturnType<typeof inputs>): Promise<string> {
  const sheets = all.map(
    (input, index): Sheet => ({
      key: String(index),
      pairId: index + 1,
      card: cardOf(input),
      sizeWords: `foot ${input.footLengthMm / 10} cm`,
      fit: 'usual',
      knitter: 'Ada',
      orders: [],
      dueDay: null,
      lots: [],
    }),
  );
  return String(await html`${<PrintPage sheets={sheets} paper="a4" layout="one" print="normal" back="/cards" />}`);
}

/** Cards of 200 unlike pairs, made and written as the page that is printed, under a second. */
export async function cardRows(): Promise<BenchRow[]> {
  const all = inputs();
  return [
    atMost('knitting cards of 200 unlike pairs, made and written', await medianMs(() => printCards(all)), 1000, 'ms'),
  ];
}
