import { describe, expect, it } from 'vitest';
import { Page } from '#views/layout.tsx';

const problem = { code: 'range', path: 'size', message: 'Enter a size, like 38.' };

describe('Page', () => {
  it('says what it is in the heading and in the window title', () => {
    const text = String(<Page title="Pairs & more">x</Page>);
    expect(text).toContain('<h1>Pairs &amp; more</h1>');
    expect(text).toContain('<title>Pairs &amp; more – Toe to Till</title>');
  });

  it('begins the window title with Error when a form has problems', () => {
    const text = String(<Page title="New order" problems={[problem]} />);
    expect(text).toContain('<title>Error: New order – Toe to Till</title>');
  });

  it('marks the page that is open, in the row and in the bar', () => {
    const text = String(<Page title="Orders" current="orders" />);
    expect(text.match(/href="\/orders" aria-current="page"/g)).toHaveLength(2);
    expect(text.match(/aria-current/g)).toHaveLength(2);
  });

  it('shows no way to prices where the knitting is given away', () => {
    expect(String(<Page title="Today" purpose="sell" />)).toContain('href="/pricing"');
    expect(String(<Page title="Today" purpose="give" />)).not.toContain('"/pricing"');
  });

  it('has the pages of every day in reach of the thumb and the rest behind one disclosure', () => {
    const bar = String(<Page title="Today" />).split('class="thumb-nav"')[1]!;
    const [daily, rest] = bar.split('<details>');
    expect([...daily!.matchAll(/href="([^"]+)"/g)].map((match) => match[1])).toEqual([
      '/',
      '/orders',
      '/batch',
      '/buying',
      '/pricing',
    ]);
    expect([...rest!.matchAll(/href="([^"]+)"/g)].map((match) => match[1])).toEqual([
      '/shelf',
      '/cards',
      '/fair',
      '/sizing',
      '/knitters',
      '/settings',
    ]);
  });
});
