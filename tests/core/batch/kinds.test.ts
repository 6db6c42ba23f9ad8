import { describe, expect, it } from 'vitest';
import { cuffHeightFor, type KindWish, kindFor, kindsOf, shapesOf, strandsOfKind } from '#core/batch/kinds.ts';
import { footFrom } from '#core/sizing/girths.ts';
import { specifyWithWorking } from '#core/styles/specify.ts';
import { handOf } from '#tests/support/knit-cases.ts';
import { bulky, medium, slipper } from '#tests/support/plan-input.ts';

const usual: KindWish = Object.freeze({
  style: slipper,
  foot: footFrom({ person: 'woman', lengthMm: 240 }),
  fit: 'usual',
  yarns: { foot: [bulky], cuff: [bulky] },
  colours: { foot: [1], cuff: [2] },
  cuff: 'short',
});
const kind = (changes: Partial<KindWish> = {}) => kindFor({ ...usual, ...changes });

describe('kindFor', () => {
  it('gives like pairs one key, whatever made them', () => {
    expect(kind().key).toBe(kind({ foot: { ...usual.foot } }).key);
    expect(kind({ cuff: 48 }).key).toBe(kind({ cuff: 'short' }).key); // 0.2 x 240
    expect(kind({ cuff: 0 }).key).toBe(kind({ cuff: 'none' }).key);
  });

  it.each<[string, Partial<KindWish>]>([
    ['style', { style: { ...slipper, versionId: 2 } }],
    ['person', { foot: { ...usual.foot, person: 'man' } }],
    ['length', { foot: { ...usual.foot, lengthMm: 240.01 } }],
    ['girth', { foot: { ...usual.foot, ballGirthMm: 230 } }],
    ['heel', { foot: { ...usual.foot, heelAnkleGirthMm: 310 } }],
    ['fit', { fit: 'snug' }],
    ['yarn', { yarns: { foot: [medium, medium], cuff: [bulky] }, colours: { foot: [1, 1], cuff: [2] } }],
    ['cuff', { cuff: 'turned down' }],
    ['no cuff', { cuff: 'none' }],
  ])('tells another %s apart', (_, changes) => {
    expect(kind(changes).shape.key).not.toBe(kind().shape.key);
  });

  it('a measured heel is another shape than the same girth estimated: it needs no room to spare', () => {
    // Opening of 22 rows passes 330 mm: enough for 320 measured, not for 320 + 12 estimated.
    const estimated = kind({ foot: { ...usual.foot, heelAnkleGirthMm: 320 } });
    const measured = kind({ foot: { ...usual.foot, heelAnkleGirthMm: 320, isHeelAnkleGirthMeasured: true } });
    const hand = handOf({ person: 'woman', lengthMm: 240 });
    const markOf = (each: typeof measured) => specifyWithWorking(each.shape, hand).spec.measures.markRows;
    expect([markOf(estimated), markOf(measured)]).toEqual([23, 22]);
    expect(estimated.key).not.toBe(measured.key);
  });

  it('other colours are another kind of one shape, unless only one of them is of one colour', () => {
    const swapped = kind({ colours: { foot: [2], cuff: [1] } });
    expect(swapped.key).not.toBe(kind().key);
    expect(swapped.shape.key).toBe(kind().shape.key);
    // One colour saves the ends of the colour change: less yarn, less time, another shape.
    const plain = kind({ colours: { foot: [1], cuff: [1] } });
    expect(plain.shape.isOneColour).toBe(true);
    expect(plain.shape.key).not.toBe(kind().shape.key);
  });

  it('without a cuff the colour of the cuff is no matter', () => {
    const bare = kind({ cuff: 'none' });
    const other = kind({ cuff: 'none', colours: { foot: [1], cuff: [9] } });
    expect(other.key).toBe(bare.key);
    expect(bare.shape.isOneColour).toBe(true);
    expect(kind({ cuff: 'none', colours: { foot: [9], cuff: [2] } }).key).not.toBe(bare.key);
    expect(kind({ cuff: 'none', yarns: { foot: [bulky], cuff: [medium] } }).key).toBe(bare.key);
  });

  it('strands held together in another order are another kind: each strand has its colour', () => {
    const two = { yarns: { foot: [medium, medium], cuff: [medium, medium] } };
    const one = kind({ ...two, colours: { foot: [1, 2], cuff: [1, 2] } });
    expect(one.key).not.toBe(kind({ ...two, colours: { foot: [1, 1], cuff: [1, 1] } }).key);
    expect(strandsOfKind(one).map((each) => [each.role, each.strand, each.yarnColourId])).toEqual([
      ['foot', 0, 1],
      ['foot', 1, 2],
      ['cuff', 0, 1],
      ['cuff', 1, 2],
    ]);
    expect(() => strandsOfKind(kind({ ...two, colours: { foot: [1], cuff: [1, 2] } }))).toThrow(RangeError);
  });

  it('works cuff heights from the foot', () => {
    const settings = { cuffShort: 0.2, cuffTurnedDown: 0.5 };
    expect(cuffHeightFor('short', settings, 142.9)).toBe(29); // 28.58
    expect(cuffHeightFor('turned down', settings, 293.3)).toBe(147); // 146.65
    expect(cuffHeightFor('short', {}, 240)).toBe(0);
    expect(kind({ cuff: 61 }).shape.cuffHeightMm).toBe(61);
  });
});

describe('kindsOf and shapesOf', () => {
  it('name each once, in the order they come', () => {
    const [a, b] = [kind(), kind({ colours: { foot: [2], cuff: [1] } })];
    const kinds = kindsOf([{ kind: b }, { kind: a }, { kind: kind() }, { kind: b }]);
    expect(kinds.map((each) => each.key)).toEqual([b.key, a.key]);
    expect(shapesOf(kinds).map((each) => each.key)).toEqual([a.shape.key]);
  });
});
