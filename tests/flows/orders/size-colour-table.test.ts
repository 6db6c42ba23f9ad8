import { describe, expect, it } from 'vitest';
import type { LineView } from '#flows/orders/line-words.ts';
import { sizeColourTable } from '#flows/orders/size-colour-table.ts';

function line(size: string, name: string, quantity: number): LineView {
  const colour = { role: 'foot', words: 'Foot', name, yarnName: 'Harbour Bulky', hexes: ['#888888'] };
  return { size, quantity, colours: [colour] } as unknown as LineView;
}

describe('sizeColourTable', () => {
  it('adds up down and across', () => {
    const table = sizeColourTable([
      line('38', 'Oat', 2),
      line('39', 'Oat', 1),
      line('38', 'Fir', 3),
      line('38', 'Oat', 4),
    ]);
    expect(table?.colours.map((colour) => colour.name)).toEqual(['Oat', 'Fir']);
    expect(table?.rows).toEqual([
      { size: '38', counts: [6, 3], total: 9 },
      { size: '39', counts: [1, 0], total: 1 },
    ]);
    expect([table?.totals, table?.total]).toEqual([[7, 3], 10]);
  });

  it('is left out where nothing crosses', () => {
    expect(sizeColourTable([])).toBeNull();
    expect(sizeColourTable([line('38', 'Oat', 2), line('39', 'Fir', 1)])).toBeNull();
    expect(sizeColourTable([line('38', 'Oat', 2), line('39', 'Oat', 1)])).toBeNull();
  });
});
