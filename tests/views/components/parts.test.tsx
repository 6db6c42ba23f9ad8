import { describe, expect, it } from 'vitest';
import { Bar } from '#views/components/bar.tsx';
import { Chip, ChipStitches } from '#views/components/chip.tsx';
import { DataTable } from '#views/components/table.tsx';
import { Working } from '#views/components/working.tsx';
import { stitchShade, undyedHex } from '#views/components/yarn-colour.ts';
import { Page } from '#views/layout.tsx';

describe('DataTable', () => {
  const columns = [
    { name: 'Size', kind: 'heading', cell: (row: { size: string; pairs: number }) => row.size },
    { name: 'Pairs', kind: 'number', cell: (row: { size: string; pairs: number }) => row.pairs },
  ] as const;
  const rows = [{ size: 'EU 38', pairs: 0 }];

  it('names each figure for the list that it becomes on a phone', () => {
    const text = String(<DataTable caption="Pairs" columns={columns} rows={rows} footer={['Together', '4']} />);
    expect(text).toContain('<th scope="row" class="entry-heading">EU 38</th>');
    expect(text).toContain('<td class="number" data-label="Pairs">0</td>');
    expect(text).toContain('<td class="number" data-label="Pairs">4</td>');
  });
});

describe('Chip', () => {
  it('draws stitches in each of up to four colours', () => {
    const five = ['#112233', '#223344', '#334455', '#445566', '#556677'];
    const text = String(<Chip colours={five} name="Hedge" />);
    expect(five.filter((hex) => text.includes(`stroke="${hex}"`))).toEqual(five.slice(0, 4));
  });

  it('is a line, since the stitches are drawn once a page', () => {
    const text = String(<Chip colours={['#112233', '#223344']} name="Hedge" />);
    expect(text).not.toContain('<path');
    const page = String(<Page title="Yarn" />);
    const drawn = new Set(page.match(/(?<= id=")(chip|stitches)-[1-4]/g));
    for (const [, name] of text.matchAll(/href="#([^"]+)"/g)) expect(drawn).toContain(name);
  });

  it('has each of the twenty stitches in one colour, however many colours there are', () => {
    // A frame of 28 units holds four columns of 7; five rows, one of them above it.
    const paths = [...String(<ChipStitches />).matchAll(/id="stitches-(\d)" d="([^"]+)"/g)];
    expect(paths.map(([, count]) => Number(count))).toEqual([1, 2, 3, 4]);
    for (const [, count, path] of paths) {
      const places = [...path!.matchAll(/M([-.\d]+) ([-.\d]+)l/g)].map(([, x, y]) => [Number(x), Number(y)] as const);
      const seen = Array.from({ length: Number(count) }, (_, index) => index)
        .flatMap((index) => places.map(([x, y]) => `${(x + 7 * index).toFixed(1)} ${y}`))
        .filter((place) => Number(place.split(' ')[0]) > 0 && Number(place.split(' ')[0]) < 28);
      expect(seen).toHaveLength(20);
      expect(new Set(seen).size).toBe(20);
    }
  });

  it.each([[[]], [['red']], [['"><script>']]])('draws undyed wool for %j', (colours) => {
    expect(String(<Chip colours={colours} name="?" />)).toContain(`stroke="${undyedHex}"`);
  });

  it('shades light yarn darker and black yarn lighter, so that stitches are seen', () => {
    // By hand: 255 x 0.72 = 183.6 -> b8; 0 + 255 x 0.26 = 66.3 -> 42.
    expect(stitchShade('#ffffff')).toBe('#b8b8b8');
    expect(stitchShade('#000000')).toBe('#424242');
  });
});

describe('Bar', () => {
  it('gives each part its share of the width and of the table', () => {
    const parts = [
      { name: 'Yarn', size: 1, text: '€1' },
      { name: 'Work', size: 3, text: '€3' },
    ];
    const text = String(<Bar id="cost" caption="Cost" parts={parts} total="€4" />);
    expect(text).toContain('x="0%" y="0.5" width="25%"');
    expect(text).toContain('x="25%" y="0.5" width="75%"');
    expect(text).toContain('Together');
  });

  it('draws nothing of nothing', () => {
    expect(String(<Bar id="cost" caption="Cost" parts={[{ name: 'Yarn', size: 0, text: '€0' }]} />)).toContain(
      'width="0%"',
    );
  });
});

describe('Working', () => {
  it('is closed until asked for and names where its values come from', () => {
    const lines = [{ term: 'Weight', value: '98 g', mark: 'ours', source: 'weighed' }] as const;
    const text = String(<Working summary="How" lines={lines} />);
    expect(text).toContain('<details class="working">');
    expect(text).toContain('<span class="mark">our choice</span>');
    expect(String(<Working summary="How" lines={lines} isOpen />)).toContain('<details class="working" open="">');
  });
});
