import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Card } from '#core/cards/card.ts';
import { cardOf } from '#core/cards/card-of.ts';
import { babyBootie } from '#core/styles/shipped/baby-bootie.ts';
import { bedSock } from '#core/styles/shipped/bed-sock.ts';
import { garterSlipper } from '#core/styles/shipped/garter-slipper.ts';
import { shippedStyles } from '#core/styles/shipped/shipped-styles.ts';
import { twoPieceSlipper } from '#core/styles/shipped/two-piece-slipper.ts';
import type { StyleBody } from '#core/styles/style.ts';
import { type CardWish, cardCase } from '#tests/support/card-cases.ts';
import { yarnOf } from '#tests/support/knit-cases.ts';

const make = (wish: CardWish): Card => cardOf(cardCase(wish).input);
const stepsOf = (card: Card, piece = 0, slipper = 0) =>
  card.slippers[slipper]!.pieces[piece]!.steps.map((step) => step.words);
const wordsOf = (steps: readonly { readonly words: string }[]) => steps.map((step) => step.words);
const sum = (numbers: readonly number[]) => numbers.reduce((total, each) => total + each, 0);

// Woman EU 38, 13 stitches and 18 rows in 10 cm, by hand: cast on 28, 41 rows to row 42, toe row 43, 14 left, mark 22;
// cuff 34, 2 + 6 rows (tests/core/styles/specify.test.ts works them). Sides, row by row: the foot's cast-on shows its right
// side, so even rows are WS, 42 is WS, the toe's 43 RS. The cuff's next row is RS: 2 RS, 3 WS, 4 RS (the plain row), 5 WS,
// 6 RS, 7 WS, 8 RS, 9 WS, and the cast-off is worked on RS. Ends: heel seam 207.69 / 2 = 103.8 mm, twice and
// 150 is 358: 40 cm. Top seam 238.89 - 122.22 = 116.7 mm, twice and 200 is 433: 45 cm. Cuff back 9 rows are 50 mm, twice
// and 150 is 250: 25 cm. 40, 45 and 25 cm are 15.7, 17.7 and 9.8 inches, so 16, 18 and 10. 13 to 18 is nearest 3 to 4.
const britishFoot = [
  'Cast on 28 sts in Heather, long-tail method, leaving an end of 40 cm for the heel seam. The cast-on is row 1.',
  'Rows 2 to 22 (21 rows): stocking stitch (p on WS, k on RS), beginning with a WS row. Mark both edges at row 22 with a thread: the top seam ends there.',
  'Rows 23 to 42 (20 rows, RS first): go on in stocking stitch as before. End with a WS row.',
  'Row 43, toe (RS): *k2tog; repeat from * to the end: 14 sts.',
  'Cut the yarn, leaving an end of 45 cm for the top seam. Draw it twice through the 14 sts and pull tight.',
];
const britishCuff = [
  'Cast on 34 sts in Heather, long-tail method. The cast-on is row 1.',
  'Rows 2 and 3 (2 rows): 2 x 2 rib, beginning with a RS row. RS rows: k2, *p2, k2; repeat from * to the end. WS rows: p2, *k2, p2; repeat from * to the end.',
  'Change to Oat. Row 4 (RS): k all sts, so that the colours meet in a clean line.',
  'Rows 5 to 9 (5 rows, WS first): go on in rib as before. End with a WS row.',
  'Cast off all 34 sts loosely in rib, leaving an end of 25 cm for the cuff back seam.',
];
const britishSewing = [
  'Heel. Fold the foot lengthways, right side out, so that the cast-on edge lies double. With the cast-on end sew its halves together, edge to edge.',
  'Top. With the drawn-up end sew the two side edges of the foot together, from the toe to the marks, taking in half a st of each edge.',
  'Cuff back. With the cast-off end sew the two side edges of the cuff together, from the cast-off edge to the cast-on edge, taking in half a st of each edge.',
  'Cuff to foot. Pin the cast-on edge of the cuff around the opening of the foot, cuff back seam on the heel seam. With a new length of Heather sew it on, 3 sts of the cuff to 4 rows of the foot.',
];
const finishing = [
  'Weave in the ends on the inside, 8 in each slipper.',
  'Wash as the ball band says, pull into shape and dry flat.',
  'Sew, glue or dot a grip on the soles: smooth knitting slips on hard floors.',
];

/** The same card as an American knitter writes it. */
function inAmerican(words: string): string {
  return words
    .replaceAll('stocking stitch', 'stockinette stitch')
    .replaceAll('Cast off all', 'Bind off all')
    .replaceAll('cast-off', 'bound-off')
    .replaceAll('lengthways', 'lengthwise')
    .replaceAll('colours', 'colors')
    .replaceAll('40 cm', '16 in (40 cm)')
    .replaceAll('45 cm', '18 in (45 cm)')
    .replaceAll('25 cm', '10 in (25 cm)');
}

describe('the card of the two-piece slipper, EU 38', () => {
  it('reads as a British knitter writes it', () => {
    const card = make({ body: twoPieceSlipper });
    expect(stepsOf(card, 0)).toEqual(britishFoot);
    expect(stepsOf(card, 1)).toEqual(britishCuff);
    expect(wordsOf(card.sewing)).toEqual(britishSewing);
    expect(wordsOf(card.finishing)).toEqual(finishing);
    expect(card.gauge).toEqual({
      name: 'Tension',
      words: '13 sts and 18 rows in 10 cm of stocking stitch, as you measured it.',
      isGuess: false,
    });
    expect(card.needles).toEqual(['7 mm (old UK 2, no US size)']);
    expect(card.sewingShort).toBe('heel, top to the marks, cuff back, cuff to foot (3 sts to 4 rows); 8 ends each.');
  });

  it('reads as an American knitter writes it', () => {
    const card = make({ body: twoPieceSlipper, words: 'american' });
    expect(stepsOf(card, 0)).toEqual(britishFoot.map(inAmerican));
    expect(stepsOf(card, 1)).toEqual(britishCuff.map(inAmerican));
    expect(wordsOf(card.sewing)).toEqual(britishSewing.map(inAmerican));
    expect(card.gauge.name).toBe('Gauge');
    expect(card.gauge.words).toBe('13 sts and 18 rows in 10 cm (4 in) of stockinette stitch, as you measured it.');
  });

  it('shows in the strip of rows when to mark, change colour and shape', () => {
    const [foot, cuff] = make({ body: twoPieceSlipper }).slippers[0]!.pieces;
    expect(foot!.marks.map((mark) => mark.words)).toEqual(['row 22: mark both edges', 'row 43: the toe begins']);
    expect(cuff!.marks.map((mark) => mark.words)).toEqual(['row 4: change to Oat']);
  });

  it('knits a cuff in the foot colour right through, without a plain row', () => {
    const card = make({ body: twoPieceSlipper, colours: { foot: 'Fir', cuff: 'Fir' } });
    expect(stepsOf(card, 1)[2]).toBe('Rows 4 to 9 (6 rows, RS first): go on in rib as before. End with a WS row.');
    expect(card.slippers[0]!.pieces[1]!.marks).toEqual([]);
    expect(card.colours).toHaveLength(1);
    expect(card.colours[0]!.words).toBe('Foot and cuff');
  });

  it('without a cuff, keeps two garter stitches at each edge up to the mark', () => {
    const card = make({ body: twoPieceSlipper, cuff: 'none' });
    const [, before, after] = stepsOf(card);
    expect(before).toContain('but k the first 2 and the last 2 sts of every row, so that the edges lie flat');
    expect(after).toBe('Rows 23 to 42 (20 rows, RS first): go on in stocking stitch over all sts. End with a WS row.');
    expect(wordsOf(card.sewing).map((words) => words.split('.')[0])).toEqual(['Heel', 'Top']);
  });

  it('sews half the back seam of a turned-down cuff from the other side', () => {
    const seam = (cuff: 'short' | 'turned down') => wordsOf(make({ body: twoPieceSlipper, cuff }).sewing)[2];
    expect(seam('turned down')).toContain('Sew the half next to the cast-off edge from the other side');
    expect(seam('short')).not.toContain('other side');
  });

  // Man EU 46 by hand: 33 stitches, 49 rows to row 50; 33 is odd, 17 left, more than 16: purl, again, 9 left.
  it('works one stitch first where the count is odd, and a second toe round where too many are left', () => {
    const steps = stepsOf(make({ body: twoPieceSlipper, person: 'man', lengthMm: 880 / 3 }));
    expect(steps.slice(3, 6)).toEqual([
      'Row 51, toe (RS): k1, *k2tog; repeat from * to the end: 17 sts.',
      'Row 52 (WS): p to the end.',
      'Row 53 (RS): k1, *k2tog; repeat from * to the end: 9 sts.',
    ]);
  });

  it('names two strands held together', () => {
    const yarns = [yarnOf(500), yarnOf(500)];
    expect(stepsOf(make({ body: twoPieceSlipper, yarns }))[0]).toMatch(
      /^Cast on 28 sts in Heather \(2 strands together\),/,
    );
  });

  it('says what the yarn is of and that fibres may irritate', () => {
    const yarns = [yarnOf(1000, { fibre: 'wool' })];
    expect(make({ body: twoPieceSlipper, yarns }).cautions.at(-1)).toMatch(
      /^In the yarn: wool; .*irritate sensitive skin/,
    );
  });

  it('calls a guess a guess, and gives a fibre nobody knows to no baby', () => {
    const { input } = cardCase({
      body: twoPieceSlipper,
      person: 'child',
      lengthMm: 140,
      yarns: [yarnOf(1000, { fibre: null })],
    });
    const card = cardOf({ ...input, spec: { ...input.spec, isGaugeGuessed: true } });
    expect(card.gauge.words).toContain('a guess, so measure the first foot');
    expect(card.cautions.join(' ')).toContain('Fibre unknown: hand wash, not for babies.');
    expect(card.cautions.join(' ')).toContain('nothing small, tied or loose');
    expect(wordsOf(card.finishing)[1]).toContain('by hand in cool water');
  });
});

describe('odd feet', () => {
  it('have a column of counts each', () => {
    const card = make({ body: twoPieceSlipper, rightLengthMm: 260 });
    expect(card.slippers.map(({ foot, title }) => [foot, title])).toEqual([
      ['left', 'Left slipper'],
      ['right', 'Right slipper'],
    ]);
    const [left, right] = card.slippers.map((slipper) => slipper.pieces[0]!);
    expect(left!.castOnStitches).toBe(28);
    expect(right!.rows).toBeGreaterThan(left!.rows);
    // Each foot is a pair's foot of its own length.
    const finished = (wish: CardWish) => make(wish).measures.map(({ name, mm }) => [name, mm]);
    expect(card.measures.map(({ foot, name, mm }) => [foot, [name, mm]])).toEqual([
      ...finished({ body: twoPieceSlipper }).map((measure) => ['left', measure]),
      ...finished({ body: twoPieceSlipper, lengthMm: 260 }).map((measure) => ['right', measure]),
    ]);
  });

  it('that come out at the same counts are one pair alike', () => {
    expect(make({ body: twoPieceSlipper, rightLengthMm: 241 }).slippers).toHaveLength(1);
  });
});

describe('the other styles', () => {
  // Garter slipper EU 38, 14 x 20, worked in numbers before: cast on 30, 35 garter rows to the mark, 20 rows of rib, toe 15.
  it('garter slipper', () => {
    expect(stepsOf(make({ body: garterSlipper, stitches: 14, rows: 20 }))).toEqual([
      // Edge 30 - 1 = 29 st are 207.1 mm; half of it twice and 150 is 357: 40 cm.
      'Cast on 30 sts in Heather, long-tail method, leaving an end of 40 cm for the heel seam. The cast-on is row 1.',
      'Rows 2 to 36 (35 rows): garter stitch (k every row), beginning with a WS row. Mark both edges at row 36 with a thread: the top seam ends there.',
      'Rows 37 to 56 (20 rows): 1 x 1 rib, beginning with a RS row: every row *k1, p1; repeat from * to the end. End with a WS row.',
      'Row 57, toe (RS): *k2tog; repeat from * to the end: 15 sts.',
      // 21 rows at 20 in 10 cm are 105 mm, twice and 200 is 410: 45 cm.
      'Cut the yarn, leaving an end of 45 cm for the top seam. Draw it twice through the 15 sts and pull tight.',
    ]);
  });

  // Bootie L 95, 22 x 30: cast on 46; four stitches less every second row; the leg is 4m + 2.
  it('baby bootie', () => {
    const card = make({ body: babyBootie, person: 'child', lengthMm: 95, stitches: 22, rows: 30 });
    const steps = stepsOf(card);
    expect(steps[0]).toMatch(/^Cast on 46 sts in Heather/);
    expect(steps[2]).toMatch(
      /^Rows 17 to 24, instep \(8 rows\): decrease at the centre, k the rows between\. Row 17 \(RS\): k19, k2tog twice, k2tog tbl twice, k19: 42 sts; row 19/,
    );
    expect(steps[3]).toBe('Change to Oat. Row 25 (RS): k all sts, so that the colours meet in a clean line.');
    expect(steps[4]).toMatch(/^Rows 26 to 36 \(11 rows\): 2 x 2 rib, beginning with a WS row\. WS rows: p2, \*k2, p2;/);
    expect(stepsOf(make({ body: babyBootie, person: 'child', lengthMm: 95, words: 'american' }))[2]).toContain(
      'ssk twice',
    );
    expect(card.silhouette.kind).toBe('boot');
  });

  // Bed sock EU 38, 18 x 24: cuff first, 46, rib 8, 94 rows, 23 then 12 drawn up, one seam.
  it('bed sock', () => {
    const card = make({ body: bedSock, stitches: 18, rows: 24, yarns: [yarnOf(500)] });
    const steps = stepsOf(card);
    expect(steps[1]).toMatch(/^Rows 2 to 9 \(8 rows\): 2 x 2 rib/);
    expect(steps[2]).toBe(
      'Change to Oat. Rows 10 to 103 (94 rows): stocking stitch (k on RS, p on WS), beginning with a RS row. End with a WS row.',
    );
    expect(steps.slice(3, 6)).toEqual([
      'Row 104, toe (RS): *k2tog; repeat from * to the end: 23 sts.',
      'Row 105 (WS): p to the end.',
      'Row 106 (RS): k1, *k2tog; repeat from * to the end: 12 sts.',
    ]);
    // 500 tex is no bulky yarn: a whole stitch goes into the seam.
    expect(wordsOf(card.sewing)).toEqual([
      'Sole. With the drawn-up end sew the two side edges of the sock together, from the toe to the cast-on edge, taking in one st of each edge.',
    ]);
    expect(card.silhouette.kind).toBe('tube');
  });
});

describe('section kinds that no shipped style has', () => {
  const body: StyleBody = {
    ...twoPieceSlipper,
    pieces: [
      twoPieceSlipper.pieces[0]!,
      {
        name: 'band',
        isOptional: false,
        gaugeOf: 'foot',
        sections: [
          {
            name: 'start',
            do: 'pickUp',
            colour: 'cuff',
            next: 'wrong side',
            stitches: {
              alongEdge: ['foot.left.open', 'foot.right.open'],
              fabric: 'stocking',
              edges: 2,
              repeat: 1,
              plus: 0,
              least: 8,
            },
          },
          { name: 'ridge', do: 'work', colour: 'cuff', fabric: 'stocking', rows: { count: 1 } },
          {
            name: 'narrowing',
            do: 'change',
            colour: 'cuff',
            how: 'evenly',
            fabric: 'stocking',
            to: { across: 'width', fabric: 'stocking', edges: 2, repeat: 1, plus: 0, least: 8 },
          },
          { name: 'bind off', do: 'bindOff', colour: 'cuff', loose: false },
        ],
      },
    ],
    joins: twoPieceSlipper.joins.slice(0, 2),
    checks: twoPieceSlipper.checks.slice(0, 1),
  };

  // 244.44 mm of opening at 13 in 10 cm are 31.8; no seam joins its sides, so nothing is added: 32. Down to 27 (208.788 mm):
  // 5 less, groups of 7, 7, 6, 6, 6.
  it('stitches picked up, changed evenly and cast off', () => {
    const steps = stepsOf(make({ body }), 1);
    expect(steps).toEqual([
      'With RS facing and Oat, pick up and k 32 sts along the left edge of the foot and the right edge of the foot, 3 in every 4 rows. This is row 1.',
      'Row 2 (WS): stocking stitch: p.',
      'Row 3, narrowing (RS): (k5, k2tog) 2 times, (k4, k2tog) 3 times: 27 sts.',
      'Cast off all 27 sts.',
    ]);
  });
});

describe('what holds for every card', () => {
  const wishes = fc.record({
    body: fc.constantFrom(...shippedStyles),
    lengthMm: fc.double({ min: 200, max: 300, noNaN: true }),
    rightLengthMm: fc.option(fc.double({ min: 200, max: 300, noNaN: true }), { nil: undefined }),
    stitches: fc.double({ min: 9, max: 26, noNaN: true }),
    cuff: fc.constantFrom('short' as const, 'turned down' as const, 'none' as const),
    yarns: fc.constantFrom([yarnOf(1000)], [yarnOf(500), yarnOf(501)]),
    colours: fc.constantFrom({}, { foot: 'Fir', cuff: 'Fir', leg: 'Fir' }),
  });
  const cardAt = (wish: Omit<CardWish, 'rightLengthMm'> & { rightLengthMm: number | undefined }) => {
    const { rightLengthMm, ...rest } = wish;
    const { input, spec } = cardCase({
      ...rest,
      rows: (wish.stitches! * 4) / 3,
      ...(rightLengthMm === undefined ? {} : { rightLengthMm }),
    });
    return { input, spec, card: cardOf(input) };
  };

  it('steps number every row of a piece once, in order', () => {
    fc.assert(
      fc.property(wishes, (wish) => {
        for (const piece of cardAt(wish).card.slippers.flatMap((slipper) => slipper.pieces)) {
          expect(sum(piece.steps.map((step) => step.rows))).toBe(piece.rows);
          let next = 1;
          for (const step of piece.steps.filter((each) => each.rows > 0)) {
            expect([step.fromRow, step.toRow]).toEqual([next, next + step.rows - 1]);
            next += step.rows;
          }
          expect(piece.marks.every(({ row }) => row >= 1 && row <= piece.rows)).toBe(true);
        }
      }),
      { numRuns: 150 },
    );
  });

  it('says of every step on which side it begins, and sides take turns from row to row', () => {
    fc.assert(
      fc.property(wishes, fc.constantFrom('british' as const, 'american' as const), (wish, words) => {
        for (const { steps } of cardOf({ ...cardAt(wish).input, words }).slippers.flatMap(({ pieces }) => pieces)) {
          const sides: { row: number; side: string }[] = [];
          for (const { words: text, fromRow, toRow } of steps) {
            if (fromRow === null || fromRow === 1) continue;
            const begins =
              /^[^:]*\((RS|WS)\):/.exec(text) ??
              /^[^:]*, (RS|WS) first\):/.exec(text) ??
              /beginning with a (RS|WS) row/.exec(text);
            const within = [...text.matchAll(/row (\d+) \((RS|WS)\)/gi)];
            expect(begins ?? within[0], text).toBeTruthy();
            if (begins) sides.push({ row: fromRow, side: begins[1]! });
            const ends = /End with a (RS|WS) row/.exec(text);
            if (ends) sides.push({ row: toRow!, side: ends[1]! });
            for (const [, row, side] of within) sides.push({ row: Number(row), side: side! });
          }
          const [first] = sides;
          const other = first?.side === 'RS' ? 'WS' : 'RS';
          for (const { row, side } of sides) expect(side).toBe((row - first!.row) % 2 === 0 ? first!.side : other);
        }
      }),
      { numRuns: 150 },
    );
  });

  it('grams by piece add up to the grams of each colour, and those to the pair', () => {
    fc.assert(
      fc.property(wishes, (wish) => {
        const { input, card } = cardAt(wish);
        for (const { yarnColourId, grams } of card.totals) {
          const own = card.weights.filter((weight) => weight.yarnColourId === yarnColourId);
          expect(sum(own.map((weight) => weight.grams))).toBe(grams);
        }
        const pairG = sum(input.strands.map((strand) => strand.mg)) / 1000;
        expect(Math.abs(sum(card.totals.map((total) => total.grams)) - pairG)).toBeLessThanOrEqual(
          0.5 * card.totals.length + 1e-9,
        );
      }),
      { numRuns: 150 },
    );
  });

  it('the flat drawing is as long and as wide as the counts', () => {
    fc.assert(
      fc.property(wishes, (wish) => {
        const { card, spec } = cardAt(wish);
        for (const [index, counts] of spec.pieces.entries()) {
          const { plan } = card.slippers[0]!.pieces[index]!;
          expect(plan.lengthMm).toBeCloseTo(counts.lengthMm, 6);
          expect(plan.parts[0]!.startMm).toBeCloseTo(counts.widthMm, 6);
        }
      }),
      { numRuns: 150 },
    );
  });

  it('says nothing like NaN, undefined or a number without end', () => {
    fc.assert(
      fc.property(wishes, (wish) => {
        expect(JSON.stringify(cardAt(wish).card)).not.toMatch(/NaN|undefined|Infinity|null sts|\d\.\d{5,} (sts|rows)/);
      }),
      { numRuns: 100 },
    );
  });
});
