import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { changeKnitter } from '#db/stores/knitters.ts';
import { setSetting } from '#db/stores/workshop.ts';
import { readPlan } from '#flows/read-plan.ts';
import { addSeason } from '#tests/support/season.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const now = new Date('2026-11-25T23:30:00Z');
let workshop: TestWorkshop;

beforeEach(async () => {
  workshop = await openTestWorkshop();
  await addSeason(workshop);
});
afterEach(() => workshop.discard());

describe('readPlan', () => {
  it('makes one plan for all who ask while it is being made', async () => {
    const plans = await Promise.all(Array.from({ length: 8 }, () => readPlan(workshop, now)));
    expect(new Set(plans).size).toBe(1);
    expect(await readPlan(workshop, now)).toBe(plans[0]);
  });

  it('makes another after a write, on another day, and where the day is another', async () => {
    const first = await readPlan(workshop, now);
    const tomorrow = await readPlan(workshop, new Date('2026-11-26T23:30:00Z'));
    expect([first.today, tomorrow.today]).toEqual(['2026-11-25', '2026-11-26']);
    await workshop.store.write('test', (tx) => changeKnitter(tx, 1, { name: 'Ottilie' }));
    expect((await readPlan(workshop, now)).input.knitters[0]!.name).toBe('Ottilie');
    await workshop.store.write('test', (tx) => setSetting(tx, 'timeZone', 'Europe/Berlin'));
    expect((await readPlan(workshop, now)).today).toBe('2026-11-26');
  });

  it('asks again after a reading that failed', async () => {
    const broken = await readPlan(workshop, now).then(() => workshop.store);
    const reads: (() => void)[] = [];
    const failing = Object.assign(Object.create(workshop) as TestWorkshop, {
      store: {
        ...broken,
        read: (async (read) => {
          const fail = reads.pop();
          if (fail) fail();
          return await broken.read(read);
        }) as typeof broken.read,
      },
    });
    const stop = () => {
      throw new Error('locked');
    };
    // The state is read first, then the rows.
    reads.push(stop, () => {});
    await expect(readPlan(failing, now)).rejects.toThrow('locked');
    expect((await readPlan(failing, now)).today).toBe('2026-11-25');
  });
});
