import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { comparePrices, type KnownForPrices, readPriceCsv } from '#flows/buying/read-price-csv.ts';

const known: KnownForPrices = Object.freeze({
  shops: [
    { id: 1, name: 'Quay Yarns' },
    { id: 2, name: 'Hill Wool' },
  ],
  yarns: [
    { id: 1, name: 'Fell Bulky', ballMg: 100_000 },
    { id: 2, name: 'Brook Fine', ballMg: 50_000 },
  ],
  colours: [
    { id: 1, yarnId: 1, name: 'Heather' },
    { id: 2, yarnId: 1, name: 'Oat' },
    { id: 3, yarnId: 2, name: 'Oat' },
  ],
  offers: [
    {
      id: 9,
      supplierId: 1,
      yarnColourId: 1,
      ballMg: 100_000,
      ballsPerPack: 1,
      priceCents: 890,
      stockPacks: 4,
      version: 1,
    },
  ],
  breaks: [{ id: 1, offerId: 9, fromPacks: 5, priceCents: 790, version: 1 }],
  currency: 'EUR',
});
const head = 'shop,yarn,colour,grams a ball,balls a pack,price,stock';
const read = (text: string, over: Partial<KnownForPrices> = {}) => readPriceCsv(text, { ...known, ...over });
const faults = (text: string) => {
  const result = read(text);
  return result.ok ? [] : result.problems.map(({ path, message }) => `${path}: ${message}`);
};
const oat = {
  row: 2,
  supplierId: 2,
  yarnColourId: 3,
  ballMg: 50_000,
  ballsPerPack: 10,
  priceCents: 3750,
  stockPacks: 6,
};

describe('a table of prices', () => {
  it.each([
    ['commas', `${head}\nHill Wool,Brook Fine,Oat,50,10,37.50,6`],
    [
      'semicolons, decimal commas, a byte-order mark',
      `\ufeff${head.replaceAll(',', ';')}\r\nHill Wool;Brook Fine;Oat;50,0;10;37,50;6\r\n`,
    ],
    [
      'tabs, other order and case',
      'Price\tSTOCK\tColor\tyarn\tBalls_per_pack\tgrams\tshop\n37,5 €\t6\toat\tbrook  fine\t10\t50 g\thill wool',
    ],
    ['a cell in quotation marks', `${head}\n"Hill Wool",Brook Fine,Oat,,10,"37,50",6`],
  ])('is read with %s', (_, text) => {
    expect(read(text)).toEqual({ ok: true, value: [oat] });
  });

  it('takes the ball of the yarn, single balls and the one shop where nothing is said, and leaves a stock alone', () => {
    const result = read('yarn,colour,price\nFell Bulky,Heather,9', { shops: known.shops.slice(0, 1) });
    expect(result).toEqual({
      ok: true,
      value: [{ row: 2, supplierId: 1, yarnColourId: 1, ballMg: 100_000, ballsPerPack: 1, priceCents: 900 }],
    });
  });

  it('gives all colours of a yarn one price', () => {
    const result = read(`${head}\nQuay Yarns,Fell Bulky,All,,,9.10,`);
    expect(result.ok && result.value.map((entry) => [entry.yarnColourId, entry.stockPacks])).toEqual([
      [1, null],
      [2, null],
    ]);
  });

  it('names every fault by row and column, and what would be right', () => {
    const text = [
      head,
      'Quai Yarns,Fell Bulky,Heather,100,1,8.90,',
      'Quay Yarns,Fell Bulcky,Heather,100,1,8.90,',
      'Quay Yarns,Fell Bulky,Hether,much,0,1.234.5,-1',
      'Quay Yarns,Fell Bulky,Heather,100,1,8.90,',
      'Quay Yarns,Fell Bulky,Heather,100,1,8.80,',
      ',,,,,,x',
    ].join('\n');
    const said = faults(text);
    expect(said[0]).toMatch(/^row 2, shop: “Quai Yarns” is not one of your shops\. Did you mean Quay Yarns\?/);
    expect(said[1]).toMatch(/^row 3, yarn: .*Did you mean Fell Bulky\?/);
    expect(said.slice(2, 7).map((each) => each.split(':')[0])).toEqual([
      'row 4, colour',
      'row 4, grams a ball',
      'row 4, balls a pack',
      'row 4, price',
      'row 4, stock',
    ]);
    expect(said[2]).toContain('Did you mean Heather?');
    expect(said[7]).toBe(
      'row 6, price: Row 5 has a price for this pack of this colour already. Leave one of them out.',
    );
    expect(said.slice(8).map((each) => each.split(':')[0])).toEqual([
      'row 7, shop',
      'row 7, yarn',
      'row 7, price',
      'row 7, stock',
    ]);
  });

  it.each([
    ['', 'There is nothing here yet'],
    [head, 'no row below it'],
    ['shop,yarn,hue,price\na,b,c,1', '“hue” is not a column'],
    ['shop,yarn,colour\na,b,c', '“price” among them'],
    [`${head},price\n`, 'two columns “price”'],
    [`${head}\nHill Wool,Brook Fine,Oat,50,10,37,50,6,1`, 'more cells than there are columns'],
    [`${head}\n"Hill Wool,Brook Fine`, 'opened and never closed'],
  ])('is refused: %j', (text, sentence) => {
    expect(faults(text).join('\n')).toContain(sentence);
  });

  it('never throws, and gives prices or faults, not both', () => {
    const cell = fc.constantFrom(
      'Quay Yarns',
      'Fell Bulky',
      'Oat',
      'all',
      '',
      '8,90',
      '-1',
      '"',
      '1e9',
      '٣',
      '100',
      'NaN',
      '=1',
    );
    fc.assert(
      fc.property(fc.array(fc.array(cell, { minLength: 1, maxLength: 9 }), { maxLength: 6 }), (rows) => {
        const result = read([head, ...rows.map((row) => row.join(','))].join('\n'));
        const entries = result.ok ? result.value : [];
        expect(result.ok || result.problems.length > 0).toBe(true);
        for (const entry of entries) {
          expect(Number.isInteger(entry.priceCents) && entry.priceCents >= 0).toBe(true);
          expect(entry.ballMg).toBeGreaterThan(0);
        }
      }),
      { numRuns: 500, seed: 4 },
    );
  });
});

describe('comparePrices', () => {
  it('counts new, others than before, and the same', () => {
    const heather = { row: 2, supplierId: 1, yarnColourId: 1, ballMg: 100_000, ballsPerPack: 1, priceCents: 890 };
    const count = (entry: Partial<typeof heather> & { stockPacks?: number | null }) => {
      const { added, changed, unchanged } = comparePrices(
        [{ ...heather, stockPacks: undefined, ...entry }],
        known.offers,
      );
      return [added.length, changed.length, unchanged];
    };
    expect(count({})).toEqual([0, 0, 1]);
    expect(count({ stockPacks: 4 })).toEqual([0, 0, 1]);
    expect(count({ stockPacks: null })).toEqual([0, 1, 0]);
    expect(count({ priceCents: 880 })).toEqual([0, 1, 0]);
    expect(count({ ballsPerPack: 10 })).toEqual([1, 0, 0]);
  });
});

describe('lower prices for more packs', () => {
  it.each(['from 5 packs', 'price break', '5+', 'Bulk price'])(
    'a column “%s” is told where they are entered',
    (heading) => {
      const [fault] = faults(`${head},${heading}\nQuay Yarns,Fell Bulky,Heather,100,1,8.90,4,7.90`);
      expect(fault).toContain('A table holds the price of one pack');
    },
  );

  it('stay above, so that more packs never cost more than one each', () => {
    const rowAt = (price: string) => `${head}\nQuay Yarns,Fell Bulky,Heather,100,1,${price},4`;
    expect(faults(rowAt('7.90'))[0]).toContain('From 5 packs on it costs €7.90, and one pack must cost more');
    expect(faults(rowAt('7.91'))).toEqual([]);
    // Another shop has no such price.
    expect(faults(rowAt('7.00').replace('Quay Yarns', 'Hill Wool'))).toEqual([]);
  });
});

describe('counts', () => {
  it.each([
    ['0', '0 is too few: it may be from 1 to 1,000. Write it like 6, or leave it empty.'],
    ['1001', '1001 is too many: it may be from 1 to 1,000.'],
    ['2.5', '“2.5” is not a whole number. Write it like 6'],
    ['some', '“some” is not a whole number.'],
  ])('%s balls in a pack are refused by what is wrong with them', (text, message) => {
    expect(faults(`${head}\nQuay Yarns,Fell Bulky,Heather,100,${text},8.90,4`)[0]).toContain(message);
  });
});
