import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { pages } from '#tests/browser/pages.ts';
import { type Served, serveSample } from '#tests/support/served.ts';

const mostPages = 400;

/** Addresses within this workshop that a page leads to. */
function linksOn(html: string, from: string): string[] {
  const hrefs = [...html.matchAll(/<a\b[^>]*?\shref="([^"]*)"/g)].map((match) => match[1]!.replaceAll('&amp;', '&'));
  const urls = hrefs.map((href) => new URL(href, from));
  return urls.filter(({ origin }) => origin === new URL(from).origin).map(({ pathname, search }) => pathname + search);
}

/** What a page must not have, and what it must have once. */
function faultsOn(html: string): string[] {
  const tags = html.match(/<[a-z][^>]*>/gi) ?? [];
  const ids = tags.flatMap((tag) => /\sid="([^"]*)"/.exec(tag)?.[1] ?? []);
  const twice = ids.filter((id, index) => ids.indexOf(id) !== index);
  const headings = html.match(/<h1\b/g)?.length ?? 0;
  return [
    ...tags.filter((tag) => /\sstyle=/.test(tag)).map((tag) => `a style of its own: ${tag}`),
    ...tags.filter((tag) => /\s(on[a-z]+|hx-on[^=]*)=/.test(tag)).map((tag) => `an event attribute: ${tag}`),
    ...tags.filter((tag) => /^<style\b/.test(tag)).map((tag) => `a style element: ${tag}`),
    ...tags.filter((tag) => /^<script\b/.test(tag) && !/\ssrc="/.test(tag)).map(() => 'a script in the page'),
    ...[...new Set(twice)].map((id) => `the id ${id} twice`),
    ...(headings === 1 ? [] : [`${headings} main headings`]),
    ...(/<title>[^<]*\S[^<]*<\/title>/.test(html) ? [] : ['no title']),
    ...(/undefined|NaN|\[object Object\]/.exec(html.replace(/<[^>]*>/g, ' ')) ?? []).map((word) => `the word ${word}`),
  ];
}

describe('the addresses of the sample season', () => {
  let served: Served;
  beforeAll(async () => {
    served = await serveSample();
  }, 30_000);
  afterAll(() => served.stop());

  it('are of pages that are looked at for all users', () => {
    const isFile = (pattern: string) =>
      ['/assets/:name', '/settings/copy'].includes(pattern) || /\.(csv|json|ics)\}?$/.test(pattern);
    const isSeen = (pattern: string) => {
      const parts = pattern.replace(/\{[^/]*\}/g, '').split('/');
      return pages.some((page) => {
        const own = page.replace(/\?.*/, '').split('/');
        return own.length === parts.length && parts.every((part, index) => part.startsWith(':') || part === own[index]);
      });
    };
    expect(served.patterns.filter((pattern) => !isFile(pattern) && !isSeen(pattern))).toEqual([]);
  });

  it('each lead to a whole page', async () => {
    const seen = new Map<string, string>([['/', 'the beginning']]);
    const waiting = ['/'];
    const faults: string[] = [];
    while (waiting.length > 0) {
      const path = waiting.shift()!;
      const answer = await fetch(served.address + path);
      if (answer.status !== 200) faults.push(`${path} (from ${seen.get(path)}): ${answer.status}`);
      const text = await answer.text();
      if (!answer.headers.get('content-type')?.startsWith('text/html')) continue;
      faults.push(...faultsOn(text).map((fault) => `${path}: ${fault}`));
      for (const link of linksOn(text, served.address + path)) {
        if (seen.has(link) || seen.size >= mostPages) continue;
        seen.set(link, path);
        waiting.push(link);
      }
    }
    expect(faults).toEqual([]);
    // Fewer would mean that the links were not found.
    expect(seen.size).toBeGreaterThan(150);
  }, 120_000);
});
