import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { KnownNames } from '#flows/orders/known-names.ts';
import { mostCsvRows, type ParsedOrder, readOrderCsv, separatorOf } from '#flows/orders/read-order-csv.ts';
import { knownOf, type OrdersWorkshop, openOrdersWorkshop } from '#tests/server/orders-workshop.ts';

const today = '2026-11-25';
let opened: OrdersWorkshop;
let known: KnownNames;
beforeAll(async () => {
  opened = await openOrdersWorkshop();
  known = await knownOf(opened);
});
afterAll(() => opened.workshop.discard());

function ordersIn(text: string): readonly ParsedOrder[] {
  const read = readOrderCsv(text, known, today);
  if (!read.ok) throw new Error(read.problems.map(({ path, message }) => `${path}: ${message}`).join('\n'));
  return read.value;
}

function faultsIn(text: string): readonly string[] {
  const read = readOrderCsv(text, known, today);
  return read.ok ? [] : read.problems.map(({ path, message }) => `${path}: ${message}`);
}

const oneRow = (columns: string, cells: string) =>
  ordersIn(`size,foot colour,outlet,${columns}\nEU 38,Oat,Gifts,${cells}`)[0]!;
const sizeOf = (size: string, person = '') =>
  ordersIn(`person,size,foot colour,outlet\n${person},${size},Oat,Gifts`)[0]!.lines[0]!.size;

describe('readOrderCsv', () => {
  it('takes columns in any order, whatever their case', () => {
    const [order] = ordersIn('Foot_Color;QUANTITY; size ;Outlet;customer\nHeather;2;woman EU 38;winter FAIR;Ana');
    const { heather, fair, style } = opened.ids;
    expect(order).toEqual({
      customerName: 'Ana',
      reference: null,
      outletId: fair,
      dueDay: null,
      state: 'agreed',
      rows: [2],
      odd: [],
      readAsEu: [],
      lines: [
        {
          styleId: style,
          size: { by: 'label', person: 'woman', system: 'EU', label: '38' },
          fit: 'usual',
          cuffHeightMm: null,
          quantity: 2,
          agreedCents: null,
          knitterId: null,
          colours: [
            { role: 'foot', strand: 0, yarnColourId: heather },
            { role: 'cuff', strand: 0, yarnColourId: heather },
          ],
        },
      ],
    });
  });

  it('gives both strands of a yarn held double the colour', () => {
    const { cream } = opened.ids;
    const [order] = ordersIn('size,foot colour,outlet\nEU 38,Cream,Gifts');
    expect(order!.lines[0]!.colours).toEqual([
      { role: 'foot', strand: 0, yarnColourId: cream },
      { role: 'foot', strand: 1, yarnColourId: cream },
      { role: 'cuff', strand: 0, yarnColourId: cream },
      { role: 'cuff', strand: 1, yarnColourId: cream },
    ]);
  });

  it('takes a byte-order mark, Windows line ends, tabs and quoted cells', () => {
    const text =
      '\ufeffcustomer\tsize\tfoot colour\toutlet\r\n"Ana\t""Ann"" Holm"\tEU 38\tOat\tGifts\r\n\r\n\t\t\t\r\n';
    expect(ordersIn(text)).toHaveLength(1);
    // A tab inside a cell is a blank: it is one line of text.
    expect(ordersIn(text)[0]!.customerName).toBe('Ana "Ann" Holm');
  });

  it('makes one order of the rows that share customer, reference, outlet and day', () => {
    const text = `customer,reference,outlet,due,size,foot colour
Ana,7,Gifts,2026-12-04,EU 38,Oat
Bo,7,Gifts,2026-12-04,EU 38,Oat
ana,7,gifts,4.12.2026,EU 39,Fir
,,Gifts,,EU 40,Fir
,,Corner shop,,EU 40,Fir`;
    expect(ordersIn(text).map(({ customerName, rows }) => [customerName, rows])).toEqual([
      ['Ana', [2, 4]],
      ['Bo', [3]],
      [null, [5]],
      [null, [6]],
    ]);
  });

  it('reads sizes in every way', () => {
    const band = opened.ids.band;
    expect(sizeOf('EU 38')).toEqual({ by: 'label', person: 'unknown', system: 'EU', label: '38' });
    expect(sizeOf('EU38', 'woman')).toEqual({ by: 'label', person: 'woman', system: 'EU', label: '38' });
    expect(sizeOf('us 9½', 'men')).toEqual({ by: 'label', person: 'man', system: 'US', label: '9½' });
    expect(sizeOf("women's UK 5")).toEqual({ by: 'label', person: 'woman', system: 'UK', label: '5' });
    expect(sizeOf('child US junior 1')).toEqual({ by: 'label', person: 'child', system: 'US', label: 'junior 1' });
    expect(sizeOf('36/37')).toEqual({ by: 'band', bandId: band });
    expect(sizeOf('woman m')).toEqual({ by: 'band', bandId: band + 1 });
    expect(sizeOf('M', 'man')).toEqual({ by: 'band', bandId: band + 2 });
    const girths = {
      leftBallGirthMm: null,
      rightBallGirthMm: null,
      leftHeelAnkleGirthMm: null,
      rightHeelAnkleGirthMm: null,
    };
    const foot = { by: 'foot', leftLengthMm: 245, rightLengthMm: 245, ...girths };
    expect(sizeOf('foot 24.5 cm')).toEqual({ ...foot, person: 'unknown' });
    expect(sizeOf('245mm', 'man')).toEqual({ ...foot, person: 'man' });
    expect(sizeOf('woman foot 24.5')).toEqual({ ...foot, person: 'woman' });
    const odd = { ...foot, person: 'man', leftLengthMm: 274, rightLengthMm: 268 };
    expect(sizeOf('man feet 27.4 and 26.8 cm')).toEqual(odd);
    expect(sizeOf('feet left 27.4 cm and right 268 mm', 'man')).toEqual(odd);
    expect(sizeOf('Mondopoint 245 mm')).toMatchObject({ by: 'label', system: 'Mondopoint' });
    expect(sizeOf('age 5')).toEqual({ by: 'age', years: 5 });
    expect(sizeOf('child of 11 years')).toEqual({ by: 'age', years: 11 });
    expect(sizeOf('3 years', 'child')).toEqual({ by: 'age', years: 3 });
  });

  it('reads cuffs, fits, numbers and prices', () => {
    expect(oneRow('cuff', 'turned-down').lines[0]!.cuffHeightMm).toBe(120); // half of the foot of EU 38, 240 mm
    expect(oneRow('cuff', 'none').lines[0]!.cuffHeightMm).toBe(0);
    expect(oneRow('cuff', '6').lines[0]!.cuffHeightMm).toBe(60);
    expect(oneRow('cuff', '2 in').lines[0]!.cuffHeightMm).toBe(50.8);
    expect(oneRow('fit', 'Roomy').lines[0]!.fit).toBe('roomy');
    expect(oneRow('quantity', '012').lines[0]!.quantity).toBe(12);
    expect(oneRow('price', '32.5').lines[0]!.agreedCents).toBe(3250);
    expect(oneRow('price', '€32').lines[0]!.agreedCents).toBe(3200);
  });

  it('says what a number was likely meant as that is no shoe size', () => {
    expect(faultsIn('size,foot colour,outlet,person\n5,Oat,Gifts,child\nwoman EU 24.5,Oat,Gifts,')).toEqual([
      'row 2, size: Say what “5” is: write “UK 5”, “US 5” or “age 5”.',
      'row 3, size: Enter an EU size between 33 and 52, like 38. You typed “24.5”. For a foot of 24.5 cm write “foot 24.5 cm”.',
    ]);
  });

  it('says what would be right for part of a year', () => {
    expect(faultsIn('size,foot colour,outlet\nage 5.5,Oat,Gifts')).toEqual([
      'row 2, size: Feet are known by completed years: enter 5. You typed “age 5.5”.',
    ]);
  });

  it('reads a plain number as EU that is no other size and no foot in cm, and names its row', () => {
    const eu = (person: string, label: string) => ({ by: 'label', person, system: 'EU', label });
    const [order] = ordersIn(
      'person,size,foot colour,outlet\n,woman 38,Oat,Gifts\nman,43,Oat,Gifts\n,37,Oat,Gifts\n,EU 37,Oat,Gifts\nchild,28,Oat,Gifts\n,"38 1/2",Oat,Gifts',
    );
    expect(order!.lines.map((line) => line.size)).toEqual([
      eu('woman', '38'),
      eu('man', '43'),
      eu('unknown', '37'),
      eu('unknown', '37'),
      eu('child', '28'),
      eu('unknown', '38 1/2'),
    ]);
    expect(order!.readAsEu).toEqual([2, 3, 4, 6, 7]);
  });

  it('asks what a plain number is that may be several things, with nothing that cannot be', () => {
    expect(
      faultsIn(
        'person,size,foot colour,outlet\nwoman,24,Oat,Gifts\n,28,Oat,Gifts\nman,8,Oat,Gifts\n,8,Oat,Gifts\nman,250,Oat,Gifts',
      ),
    ).toEqual([
      'row 2, size: Say what “24” is: write “foot 24 cm”.',
      'row 3, size: Say what “28” is: write “child EU 28” or “foot 28 cm”.',
      'row 4, size: Say what “8” is: write “UK 8” or “US 8”.',
      'row 5, size: Say what “8” is: write “UK 8”, “woman US 8”, “man US 8” or “age 8”.',
      'row 6, size: Say what “250” is: write “foot 250 mm”.',
    ]);
  });

  it('refuses zero bytes at their row rather than reading them as blanks', () => {
    expect(faultsIn('size,foot colour,outlet\nEU 38,Oat,Gifts\nEU\u000038,Oat,Gifts')).toEqual([
      'row 3: This row is not plain text: it has zero bytes. Save the table again, as CSV in UTF-8.',
    ]);
  });

  it('names the row, the column, what is wrong and what would be right', () => {
    const text = `size,foot colour,outlet,quantity,fit,cuff,due,price,person
EU 38,Haether,Winter fare,2,usual,,,,
EU 99,Oat,Gifts,0,tight,high,31.2.2026,cheap,lady
24,Oat,Gifts,1,,,,,
M,Oat,Gifts,,,,,,
woman EU 38,Oat,Gifts,1,,,,,man
X,Oat,Gifts,1,,,,,elephant`;
    expect(faultsIn(text)).toEqual([
      'row 2, outlet: “Winter fare” is not one of your outlets. Did you mean Winter fair?',
      'row 2, foot colour: “Haether” is not one of your colours. Did you mean Heather?',
      'row 3, due: There is no day 31 in that month. Write 2026-02-28 for Sat 28 Feb 2026.',
      'row 3, size: Enter an EU size between 33 and 52, like 38. You typed “99”.',
      'row 3, cuff: “high” is not understood. Write short, turned down, none, or a height like 6 cm.',
      'row 3, fit: “tight” is not understood. Write snug, usual or roomy.',
      'row 3, quantity: Write how many pairs, a whole number from 1 to 999. It says “0”.',
      'row 3, price: “cheap” is not a price of one pair. Write it like 32.50.',
      'row 4, size: Say what “24” is: write “child EU 24” or “foot 24 cm”.',
      'row 5, size: There are several bands “M”. Write “woman M” or “man M”.',
      'row 5, quantity: Write how many pairs, a whole number from 1 to 999.',
      'row 6, size: The size says woman and the person column says man. Leave one empty.',
      'row 7, person: “elephant” is not understood. Write woman, man or child, or leave it empty.',
    ]);
  });

  it('asks which yarn when two have a colour of the same name', () => {
    const twin = { ...known.colours[0]!, id: 999, name: 'Oat', yarnName: 'Meadow Medium' };
    const both = { ...known, colours: [...known.colours, twin] };
    const read = readOrderCsv('size,foot colour,outlet\nEU 38,Oat,Gifts', both, today);
    expect(read).toMatchObject({ ok: false, problems: [{ path: 'row 2, foot colour' }] });
    const named = readOrderCsv('size,foot colour,outlet\nEU 38,Meadow Medium Oat,Gifts', both, today);
    expect(named.ok && named.value[0]!.lines[0]!.colours[0]!.yarnColourId).toBe(999);
    const withYarn = readOrderCsv('size,foot colour,outlet,yarn\nEU 38,oat,Gifts,harbour bulky', both, today);
    expect(withYarn.ok && withYarn.value[0]!.lines[0]!.colours[0]!.yarnColourId).toBe(opened.ids.oat);
  });

  it('lets the cuff be of another yarn than the foot', () => {
    const { oat, cream } = opened.ids;
    const text = 'size,foot colour,cuff colour,yarn,outlet\nEU 38,Oat,Meadow Medium Cream,Harbour Bulky,Gifts';
    expect(ordersIn(text)[0]!.lines[0]!.colours.map((colour) => colour.yarnColourId)).toEqual([oat, cream, cream]);
  });

  it('reads two colours held together, a strand of each', () => {
    const { oat, cream } = opened.ids;
    const strandsIn = (cells: string) =>
      ordersIn(`size,foot colour,cuff colour,outlet,yarn\nEU 38,${cells}`)[0]!.lines[0]!.colours.map(
        ({ role, strand, yarnColourId }) => [role, strand, yarnColourId],
      );
    const both = [
      ['foot', 0, oat],
      ['foot', 1, cream],
    ];
    expect(strandsIn('Oat + Cream,,Gifts,')).toEqual([...both, ['cuff', 0, oat], ['cuff', 1, cream]]);
    expect(strandsIn('oat+meadow medium cream,Oat,Gifts,Harbour Bulky')).toEqual([...both, ['cuff', 0, oat]]);
    expect(faultsIn('size,foot colour,outlet\nEU 38,Oat + ,Gifts\nEU 38,Oat + Cream + Ink,Gifts')).toEqual([
      'row 2, foot colour: “Oat +” is not understood. Write one colour, or two held together, like “Oat + Cream”.',
      'row 3, foot colour: “Oat + Cream + Ink” is not understood. Write one colour, or two held together, like “Oat + Cream”.',
    ]);
    expect(faultsIn('size,foot colour,outlet\nEU 38,Oat + Creem,Gifts')).toEqual([
      'row 2, foot colour: “Creem” is not one of your colours. Did you mean Cream?',
    ]);
  });

  it('reads girths of measured feet, left before right', () => {
    const sized = (size: string, ball: string, heel: string) =>
      ordersIn(`size;ball girth;heel girth;foot colour;outlet\n${size};${ball};${heel};Oat;Gifts`)[0]!.lines[0]!.size;
    expect(sized('man feet 27.4 and 26.8 cm', '25,6 and 25.4 cm', '34.5')).toEqual({
      by: 'foot',
      person: 'man',
      leftLengthMm: 274,
      rightLengthMm: 268,
      leftBallGirthMm: 256,
      rightBallGirthMm: 254,
      leftHeelAnkleGirthMm: 345,
      rightHeelAnkleGirthMm: 345,
    });
    expect(faultsIn('size,ball girth,foot colour,outlet\nEU 38,23 cm,Oat,Gifts\nfoot 24 cm,wide,Oat,Gifts')).toEqual([
      'row 2, size: Girths go with a measured foot: write its length, like “foot 24.5 cm”, or leave them out.',
      'row 3, ball girth: “wide” is not a girth. Write it like 25.5 cm, or 25.5 and 25.8 cm, left before right.',
    ]);
    expect(faultsIn('person,size,foot colour,outlet\nwoman,age 5,Oat,Gifts\n,age 15,Oat,Gifts')).toEqual([
      'row 2, size: An age stands for a child’s foot. Write child, or another size.',
      'row 3, size: Enter an age from 2 to 12 years, like 5. For anyone else, enter the foot length or the shoe size. You typed “age 15”.',
    ]);
  });

  it('refuses a reference that is stored already, or that stands for two orders', () => {
    const stored = { ...known, references: [{ customerName: 'Ana', reference: 'A-1', number: 12 }] };
    const read = readOrderCsv('customer,reference,size,foot colour,outlet\nANA,a-1,EU 38,Oat,Gifts', stored, today);
    expect(read).toMatchObject({
      problems: [{ path: 'row 2, reference', message: 'Order 12 of Ana has this reference already.' }],
    });
    const text = `customer,reference,outlet,due,size,foot colour
Ana,7,Gifts,2026-12-04,EU 38,Oat
Ana,7,Gifts,2026-12-05,EU 38,Oat`;
    expect(faultsIn(text)).toEqual([
      'row 3, reference: Row 2 has this reference too, with another outlet or due day. Make them alike.',
    ]);
  });

  it('names unknown, double and missing columns', () => {
    expect(faultsIn('size,fot colour,size,outlet\nEU 38,Oat,EU 38,Gifts')).toEqual([
      'row 1, fot colour: “fot colour” is not a column that is known here. Did you mean foot colour?',
      'row 1, size: There are two columns “size”.',
      'row 1, foot colour: The first row must name the columns, and “foot colour” among them.',
    ]);
  });

  it.each([
    ['', 'row 1: There is nothing here yet. Paste a table, or choose a file.'],
    ['  \n\n', 'row 1: There is nothing here yet. Paste a table, or choose a file.'],
    ['size,foot colour', 'row 1: There is a heading but no row below it.'],
    ['size,foot colour\n"EU 38,Oat', 'row 2: A quotation mark is opened and never closed. Close it, or take it out.'],
    [
      'size,foot colour,outlet\nEU 38,Oat,Gifts,more',
      'row 2: This row has more cells than there are columns. Put quotation marks around a cell with a comma.',
    ],
  ])('says what is wrong with %j', (text, fault) => {
    expect(faultsIn(text)).toEqual([fault]);
  });

  it('takes ten thousand rows and refuses one more', () => {
    const rows = (count: number) => `size,foot colour,outlet\n${'EU 38,Oat,Gifts\n'.repeat(count)}`;
    expect(ordersIn(rows(mostCsvRows))[0]!.lines).toHaveLength(mostCsvRows);
    expect(faultsIn(rows(mostCsvRows + 1))[0]).toContain('up to 10000 can be imported at once');
    expect(faultsIn('x'.repeat(2 * 1024 * 1024 + 1))[0]).toContain('more than 2 MB');
  });

  it('takes off the mark that keeps a cell from being a formula, and signs that cannot be shown', () => {
    const text = 'customer,size,foot colour,outlet\n"\'=Ana\u0007 B",EU 38,Oat,Gifts';
    expect(ordersIn(text)[0]!.customerName).toBe('=Ana B');
  });

  it('reads the forty lines of the fixture', () => {
    const text = readFileSync(new URL('../../fixtures/orders-40.csv', import.meta.url), 'utf8');
    // The sample season has more bands than this workshop: those of the fixture are given here.
    const bands = [
      { id: 91, name: '39/40', person: 'unknown', lengthMm: 250 },
      { id: 92, name: '41/42', person: 'unknown', lengthMm: 263 },
      { id: 93, name: 'L', person: 'man', lengthMm: 288 },
      { id: 94, name: 'S', person: 'child', lengthMm: 160 },
    ] as const;
    const read = readOrderCsv(text, { ...known, bands: [...known.bands, ...bands] }, today);
    expect(read.ok && read.value.reduce((sum, order) => sum + order.lines.length, 0)).toBe(40);
  });
});

describe('separatorOf', () => {
  it.each([
    ['a,b,c', ','],
    ['a;b,c;d', ';'],
    ['\ufeffa\tb', '\t'],
    ['"a;b;c",d', ','],
    ['size', ','],
    ['', ','],
  ])('of %j is %j', (text, separator) => {
    expect(separatorOf(text)).toBe(separator);
  });
});
