import { describe, expect, it } from 'vitest';
import { LineColours } from '#views/pages/orders/line-colours.tsx';
import { countInWords, lineTitle, listInWords, orderTitle, progressWords } from '#views/pages/orders/order-words.ts';

const colour = (words: string, name: string, yarnName = 'Harbour Bulky') => ({
  role: words.toLowerCase(),
  words,
  name,
  yarnName,
  hexes: ['#7a5f8f'],
});
const textOf = (node: { toString(): string }) =>
  node
    .toString()
    .replace(/<[^>]+>/g, ' ')
    .replace(/\s+/g, ' ')
    .trim();

describe('LineColours', () => {
  it('shows one chip where every role has the same colour', () => {
    expect(textOf(<LineColours colours={[colour('Foot', 'Oat'), colour('Cuff', 'Oat')]} />)).toBe('Oat');
  });

  it('names the roles where they differ, in colour or in yarn alone', () => {
    expect(textOf(<LineColours colours={[colour('Foot', 'Oat'), colour('Cuff', 'Fir')]} />)).toBe('Oat foot Fir cuff');
    const sameName = [colour('Foot', 'Oat'), colour('Cuff', 'Oat', 'Meadow Medium')];
    expect(textOf(<LineColours colours={sameName} />)).toBe('Oat foot Oat cuff');
  });

  it('says when there is none', () => {
    expect(textOf(<LineColours colours={[]} />)).toBe('no colour');
  });

  it('escapes a name', () => {
    expect((<LineColours colours={[colour('Foot', '<b>')]} />).toString()).toContain('&lt;b&gt;');
  });
});

describe('words of an order', () => {
  it('names whom it is for, or where it goes', () => {
    const order = { number: 12, customerName: null, outletName: 'Winter fair' };
    expect(orderTitle(order)).toBe('Order 12, Winter fair');
    expect(orderTitle({ ...order, customerName: 'Ana' })).toBe('Order 12 for Ana');
  });

  it('says how far the pairs are', () => {
    expect(progressWords({ ordered: 5, inBatch: 2, done: 1, handedOver: 1 })).toBe(
      '2 in the batch, 1 done, 1 handed over',
    );
    expect(progressWords({ ordered: 5, inBatch: 0, done: 0, handedOver: 0 })).toBe('');
  });

  it('names a line by pairs, size and colours, each colour once', () => {
    const colours = [colour('Foot', 'Oat'), colour('Cuff', 'Oat')];
    expect(lineTitle({ quantity: 1, size: 'woman EU 38', colours })).toBe('1 pair of woman EU 38 in Oat');
    expect(lineTitle({ quantity: 2, size: 'M', colours: [] })).toBe('2 pairs of M');
  });

  it('counts in letters up to twelve', () => {
    expect(countInWords(1, 'order', 'orders')).toBe('One order');
    expect(countInWords(12, 'order', 'orders')).toBe('Twelve orders');
    expect(countInWords(13, 'order', 'orders')).toBe('13 orders');
    expect(countInWords(0, 'order', 'orders')).toBe('No orders');
  });

  it('lists names', () => {
    expect([
      listInWords([]),
      listInWords(['Ada']),
      listInWords(['Ada', 'Bram']),
      listInWords(['Ada', 'Bram', 'Ines']),
    ]).toEqual(['', 'Ada', 'Ada and Bram', 'Ada, Bram and Ines']);
  });
});
