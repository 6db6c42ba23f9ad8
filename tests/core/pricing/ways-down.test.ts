import { describe, expect, it } from 'vitest';
import { kindFor } from '#core/batch/kinds.ts';
import { isLikeGauge, waysDown, type YarnToTry } from '#core/pricing/ways-down.ts';
import { bedSock } from '#core/styles/shipped/bed-sock.ts';
import { bulky, medium, slipper, slipperKind } from '#tests/support/plan-input.ts';

const twoColours = slipperKind('woman', 240, 1, 2);
const twoStrands: YarnToTry = Object.freeze({ name: 'Meadow', strands: [medium, medium], colourIds: [11, 12] });
const wayNames = (ways: ReturnType<typeof waysDown>) => ways.map(({ way, name }) => (name ? `${way} ${name}` : way));

describe('waysDown', () => {
  it('leaves the cuff away and takes one colour, the same foot and yarn kept', () => {
    const ways = waysDown(twoColours, [], [slipper]);
    expect(wayNames(ways)).toEqual(['no cuff', 'one colour']);
    expect(ways[0]!.kind.shape.cuffHeightMm).toBe(0);
    expect(ways[1]!.kind.colours).toEqual({ foot: [1], cuff: [1] });
    expect(ways[1]!.kind.shape.isOneColour).toBe(true);
    for (const { kind } of ways) expect(kind.shape.foot).toEqual(twoColours.shape.foot);
  });

  it('has no lower cuff for a pair without one, and no fewer colours than one', () => {
    const plain = slipperKind('woman', 240, 1);
    const bare = waysDown(plain, [], []).find(({ way }) => way === 'no cuff')!.kind;
    expect(waysDown(bare, [], [])).toEqual([]);
  });

  it('offers the short cuff where the cuff is turned down', () => {
    const { style, foot, fit, yarns } = twoColours.shape;
    const tall = kindFor({ style, foot, fit, yarns, colours: twoColours.colours, cuff: 'turned down' });
    expect(wayNames(waysDown(tall, [], []))).toEqual(['short cuff', 'no cuff', 'one colour']);
  });

  it('takes a yarn of like gauge in its cheapest colours, strand by strand', () => {
    const [way] = waysDown(twoColours, [twoStrands], []).filter((each) => each.way === 'yarn');
    expect(way!.kind.colours).toEqual({ foot: [11, 11], cuff: [12, 12] });
    expect(way!.kind.shape.yarns.foot).toEqual([medium, medium]);
  });

  it('passes over its own yarn, yarns of another gauge, and yarns without a colour', () => {
    const own = { name: 'Harbour', strands: [bulky], colourIds: [1] };
    const thin = { name: 'Thin', strands: [medium], colourIds: [3] };
    const bare = { ...twoStrands, colourIds: [] };
    expect(waysDown(twoColours, [own, thin, bare], []).some(({ way }) => way === 'yarn')).toBe(false);
  });

  it('keeps the yarn of a role that another style has too, and gives the others the main one', () => {
    const sock = { versionId: 9, name: 'Bed sock', body: bedSock };
    const [way] = waysDown(twoColours, [], [slipper, sock]).filter((each) => each.way === 'style');
    expect(way!.name).toBe('Bed sock');
    for (const { name } of bedSock.roles) {
      expect(way!.kind.colours[name]).toEqual(twoColours.colours[name] ?? twoColours.colours.foot);
    }
  });
});

describe('isLikeGauge', () => {
  it('is one category, or a thickness within a quarter', () => {
    expect(isLikeGauge([bulky], [{ ...bulky, tex: 1250, category: 6 }])).toBe(true);
    expect(isLikeGauge([bulky], [{ ...bulky, tex: 1260, category: 6 }])).toBe(false);
    expect(isLikeGauge([bulky], [{ ...bulky, tex: 1600 }])).toBe(true);
  });
});
