import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { centreRow, changeRows, edgesRow, evenlyRow } from '#core/cards/change-rows.ts';
import { dialectOf } from '#core/cards/dialect.ts';
import { fabricWords, ribRow } from '#core/cards/fabric-rows.ts';
import { sewOnRatio } from '#core/cards/seams.ts';
import { shapingOf } from '#core/styles/shaping.ts';
import type { Change } from '#core/styles/style.ts';

/** Knits a row as its words say: the stitches it eats and the stitches it leaves. */
function knitRow(words: string, stitches: number): { eaten: number; left: number } {
  const token = (text: string): { eaten: number; left: number } => {
    const run = /^([kp])(\d+)$/.exec(text);
    if (run) return { eaten: Number(run[2]), left: Number(run[2]) };
    if (text === 'm1') return { eaten: 0, left: 1 };
    const together = /^(?:[kp]2tog|ssk)(?: tbl)?(?: (twice|(\d+) times))?$/.exec(text);
    if (together) {
      const count = together[1] === 'twice' ? 2 : Number(together[2] ?? 1);
      return { eaten: 2 * count, left: count };
    }
    throw new Error(`no such stitch: ${text}`);
  };
  const add = (parts: readonly { eaten: number; left: number }[]) =>
    parts.reduce((sum, each) => ({ eaten: sum.eaten + each.eaten, left: sum.left + each.left }), { eaten: 0, left: 0 });
  const list = (text: string) => add(text.split(', ').filter(Boolean).map(token));
  const starred = /^(.*?)\*(.+?); repeat from \* to (the end|the last st|the last \d+ sts)(?:, (.+))?$/.exec(words);
  if (starred) {
    const [, before, repeat, , after = ''] = starred;
    const ends = add([list(before!), list(after)]);
    const once = list(repeat!);
    const times = (stitches - ends.eaten) / once.eaten;
    if (!Number.isInteger(times)) throw new Error(`the repeat does not come out in ${stitches}`);
    return { eaten: stitches, left: ends.left + times * once.left };
  }
  const groups = [...words.matchAll(/\(([^)]+)\) (\d+) times|([^,()]+)/g)].map(([, inner, count, plain]) => {
    if (plain !== undefined) return plain.trim() === '' ? { eaten: 0, left: 0 } : token(plain.trim());
    const one = list(inner!);
    return { eaten: one.eaten * Number(count), left: one.left * Number(count) };
  });
  return add(groups);
}

const stitches = fc.integer({ min: 4, max: 120 });

describe('rows in words use up the stitches they begin with', () => {
  it('ribs, whatever the count', () => {
    fc.assert(
      fc.property(
        stitches,
        fc.constantFrom(1, 2),
        fc.constantFrom('k' as const, 'p' as const),
        (count, wide, begins) => {
          expect(knitRow(ribRow(count, wide, begins), count)).toEqual({ eaten: count, left: count });
        },
      ),
    );
  });

  it('decreases at the centre and at the edges', () => {
    fc.assert(
      fc.property(fc.integer({ min: 20, max: 120 }), fc.integer({ min: 1, max: 6 }), (count, less) => {
        for (const row of [centreRow(count, less, 'ssk'), edgesRow(count, less, 'k2tog tbl')]) {
          expect(knitRow(row, count)).toEqual({ eaten: count, left: count - less });
        }
      }),
    );
  });

  it('changes spread evenly', () => {
    fc.assert(
      fc.property(fc.integer({ min: 6, max: 90 }), fc.integer({ min: 6, max: 90 }), (before, after) => {
        fc.pre(before !== after && 2 * (before - after) <= before && after <= 2 * before);
        expect(knitRow(evenlyRow(before, after), before)).toEqual({ eaten: before, left: after });
      }),
    );
  });
});

describe('fabricWords', () => {
  const [british, american] = [dialectOf('british', 'metric'), dialectOf('american', 'metric')];
  // Seen from the other side knits are purls: a row that ends p1 on the right side begins k1 on the wrong side.
  it('turns a rib around for the way back, whatever it ends with', () => {
    expect(fabricWords('rib 2x2', 35, 'right side', 2, british)).toBe(
      '2 x 2 rib, beginning with a RS row. RS rows: *k2, p2; repeat from * to the last 3 sts, k2, p1. WS rows: k1, p2, *k2, p2; repeat from * to the end',
    );
    expect(fabricWords('rib 2x2', 33, 'wrong side', 2, british)).toBe(
      '2 x 2 rib, beginning with a WS row. WS rows: p1, *k2, p2; repeat from * to the end. RS rows: *k2, p2; repeat from * to the last st, k1',
    );
    expect(fabricWords('rib 1x1', 15, 'right side', 4, american)).toBe(
      '1 x 1 rib, beginning with a RS row. RS rows: k1, *p1, k1; repeat from * to the end. WS rows: p1, *k1, p1; repeat from * to the end',
    );
  });

  it('says one row once', () => {
    expect(fabricWords('stocking', 30, 'wrong side', 1, british)).toBe('stocking stitch: p');
    expect(fabricWords('rib 2x2', 34, 'right side', 1, british)).toBe(
      '2 x 2 rib. RS rows: k2, *p2, k2; repeat from * to the end',
    );
  });
});

describe('changeRows', () => {
  it('purls two together where a round falls on the wrong side', () => {
    const change: Change = {
      name: 'toe',
      do: 'change',
      colour: 'foot',
      how: 'two together across',
      repeatWhileAbove: 10,
      plainRowsBetween: 0,
    };
    const words = changeRows(
      change,
      shapingOf(change, 33, 0, 10, 'toe'),
      'right side',
      51,
      dialectOf('british', 'metric'),
    );
    expect(words.map((row) => row.words)).toEqual([
      'k1, *k2tog; repeat from * to the end: 17 sts.',
      'p1, *p2tog; repeat from * to the end: 9 sts.',
    ]);
  });

  it('lists steps at the edges by row, the last one smaller', () => {
    const change: Change = {
      name: 'instep',
      do: 'change',
      colour: 'foot',
      how: 'edges',
      fabric: 'stocking',
      by: 2,
      everyRows: 2,
      to: { across: 'width', fabric: 'stocking', edges: 0, repeat: 1, plus: 0, least: 1 },
    };
    const [only] = changeRows(
      change,
      shapingOf(change, 20, 17, 0, 'instep'),
      'right side',
      11,
      dialectOf('american', 'metric'),
    );
    expect(only).toEqual({
      key: '1',
      rows: 4,
      words:
        'decrease at both edges, p the rows between. Row 11 (RS): k1, k2tog, k14, ssk, k1: 18 sts; row 13 (RS): k1, k2tog, k15: 17 sts.',
    });
  });
});

describe('sewOnRatio', () => {
  it.each([
    [13, 18, 3, 4],
    [18, 24, 3, 4],
    [14, 28, 1, 2],
    [20, 24, 4, 5],
    [10, 15, 2, 3],
  ])('%s stitches to %s rows is %s to %s', (across, along, stitchCount, rows) => {
    expect(sewOnRatio(across, along)).toEqual({ stitches: stitchCount, rows });
  });
});
