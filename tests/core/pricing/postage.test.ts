import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bandFor, type PostageBand, parcelMassG, postageOf, postBy, splitParcels } from '#core/pricing/postage.ts';
import { addDays, daysBetween } from '#core/shared/calendar.ts';

// Made-up bands: what a post office charges changes every year.
const inland: readonly PostageBand[] = Object.freeze([
  { id: 3, name: 'Inland', upToG: 2000, cents: 695, days: 3 },
  { id: 1, name: 'Inland', upToG: 250, cents: 320, days: 2 },
  { id: 2, name: 'Inland', upToG: 1000, cents: 495, days: 2 },
]);

describe('bandFor', () => {
  it.each([
    ['just under the limit', 189, 1],
    ['at the limit itself', 190, 1],
    ['a gram over it', 191, 2],
    ['at the next limit', 940, 2],
    ['at the last limit', 1940, 3],
  ])('takes the lightest band that holds the parcel: %s', (_, pairG, band) => {
    // With 60 g of packing the limits of 250, 1000 and 2000 g hold 190, 940 and 1940 g.
    const parcel = bandFor([pairG], 60, inland);
    expect(parcel.ok && parcel.value.band.id).toBe(band);
  });

  it('is not put off by a binary hair at the limit', () => {
    const parcel = bandFor([0.1, 0.2, 249.7], 0, inland);
    expect(parcel.ok && parcel.value.band.id).toBe(1);
  });

  it('says into how many parcels to split what is too heavy', () => {
    // By hand: six of 400 g are 2460 g with packing; 2000 g hold four of them (1660 g; five would be 2060 g), so two parcels.
    const parcel = bandFor([400, 400, 400, 400, 400, 400], 60, inland);
    expect(parcel).toMatchObject({ ok: false, problems: [{ code: 'tooHeavy', path: 'band' }] });
    expect(!parcel.ok && parcel.problems[0]!.message).toMatch(/2,460\sg.*2,000\sg: split it into 2 parcels/);
  });

  it('says that a single pair is too heavy, since no splitting helps', () => {
    expect(bandFor([1990], 60, inland)).toMatchObject({ ok: false, problems: [{ code: 'pairTooHeavy' }] });
  });

  it('asks for a band where there is none', () => {
    expect(bandFor([100], 60, [])).toMatchObject({ ok: false, problems: [{ code: 'noBand', path: 'band' }] });
  });

  it('of two bands with one limit takes the cheaper', () => {
    const twice = [...inland, { id: 9, name: 'Inland', upToG: 250, cents: 300, days: 5 }];
    const parcel = bandFor([100], 60, twice);
    expect(parcel.ok && parcel.value.band.id).toBe(9);
  });

  it('refuses a mass below nothing', () => {
    expect(() => bandFor([-1], 60, inland)).toThrow(RangeError);
    expect(() => bandFor([1], Number.NaN, inland)).toThrow(RangeError);
  });
});

/** The fewest parcels by trying every way to share the pairs out. */
function fewestParcels(pairsG: readonly number[], capacityG: number): number {
  let best = Number.POSITIVE_INFINITY;
  const place = (index: number, parcels: readonly number[]): void => {
    if (parcels.length >= best) return;
    if (index === pairsG.length) {
      best = parcels.length;
      return;
    }
    parcels.forEach((massG, at) => {
      if (massG + pairsG[index]! <= capacityG) {
        place(
          index + 1,
          parcels.map((each, other) => (other === at ? each + pairsG[index]! : each)),
        );
      }
    });
    place(index + 1, [...parcels, pairsG[index]!]);
  };
  place(0, []);
  return best;
}

describe('splitParcels', () => {
  it('keeps all in one parcel while it fits', () => {
    const parcels = splitParcels([98, 98], 60, inland);
    expect(parcels).toMatchObject({ ok: true, value: [{ massG: 256, pairs: 2, band: { id: 2 } }] });
  });

  it('is one parcel of packing without pairs', () => {
    expect(splitParcels([], 60, inland)).toMatchObject({ ok: true, value: [{ massG: 60, pairs: 0 }] });
  });

  it('has every pair in one parcel, none too heavy, and hardly more parcels than the fewest', () => {
    const pairsG = fc.array(fc.integer({ min: 50, max: 1900 }), { minLength: 1, maxLength: 7 });
    fc.assert(
      fc.property(pairsG, fc.integer({ min: 0, max: 100 }), (masses, packingG) => {
        const split = splitParcels(Object.freeze(masses), packingG, inland);
        if (!split.ok) throw new Error(split.problems[0]!.message);
        const parcels = split.value;
        expect(parcels.reduce((sum, { pairs }) => sum + pairs, 0)).toBe(masses.length);
        expect(parcels.reduce((sum, { massG }) => sum + massG - packingG, 0)).toBe(parcelMassG(masses, 0));
        for (const { massG, band } of parcels) {
          expect(massG).toBeLessThanOrEqual(band.upToG);
          expect(inland.filter(({ upToG }) => upToG >= massG && upToG < band.upToG)).toEqual([]);
        }
        const fewest = fewestParcels(masses, 2000 - packingG);
        expect(parcels.length).toBeLessThanOrEqual(Math.floor((11 * fewest + 6) / 9));
      }),
    );
  });
});

describe('postageOf', () => {
  it('adds the parcels up and waits for the slowest', () => {
    const parcels = splitParcels([1900, 150], 60, inland);
    expect(parcels.ok && postageOf(parcels.value)).toEqual({ cents: 695 + 320, days: 3 });
  });
});

describe('postBy', () => {
  it.each([
    // By the calendar: three days before Christmas Eve, over the end of February, over the turn of the year.
    ['2026-12-24', 3, '2026-12-21', 26],
    ['2027-03-02', 4, '2027-02-26', 93],
    ['2027-01-02', 5, '2026-12-28', 33],
    ['2026-11-28', 3, '2026-11-25', 0],
  ])('to be there by %s after %d days is posted by %s', (arriveBy, days, day, daysLeft) => {
    expect(postBy(arriveBy, days, '2026-11-25')).toMatchObject({ day, daysLeft, isPast: false });
  });

  it('says that its day has passed, and when it can be there now', () => {
    expect(postBy('2026-11-27', 3, '2026-11-25')).toEqual({
      day: '2026-11-24',
      daysLeft: -1,
      isPast: true,
      arrivesDay: '2026-11-28',
    });
  });

  it('never names a day in the past as one to come', () => {
    fc.assert(
      fc.property(fc.integer({ min: -400, max: 400 }), fc.integer({ min: 0, max: 90 }), (offset, days) => {
        const today = '2026-11-25';
        const post = postBy(addDays(today, offset), days, today);
        expect(daysBetween(post.day, addDays(today, offset))).toBe(days);
        expect(post.isPast).toBe(post.day < today);
        expect(post.arrivesDay >= today).toBe(true);
        expect(post.isPast ? daysBetween(today, post.arrivesDay) : days).toBe(days);
      }),
    );
  });

  it('refuses what is no day', () => {
    expect(() => postBy('2026-02-30', 2, '2026-11-25')).toThrow(RangeError);
    expect(() => postBy('2026-12-20', -1, '2026-11-25')).toThrow(RangeError);
    expect(() => postBy('2026-12-20', 1.5, '2026-11-25')).toThrow(RangeError);
  });
});
