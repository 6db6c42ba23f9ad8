import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { balancesAt } from '#core/shared/balance.ts';
import { addDays } from '#core/shared/calendar.ts';
import {
  createBall,
  findBall,
  handBall,
  listAllMoves,
  listBallMoves,
  listBalls,
  listFullBalls,
  moveBall,
  undoMove,
  weighBall,
  windOff,
} from '#db/stores/shelf.ts';
import { addKnitter, addLot, openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const day = '2026-11-25';
let workshop: TestWorkshop;
beforeEach(async () => {
  workshop = await openTestWorkshop();
});
afterEach(() => workshop.discard());

async function addBall(massMg: number): Promise<number> {
  const { balls } = await workshop.store.write('test', (tx) => addLot(tx, [massMg]));
  return balls[0]!.id;
}
const massOf = async (ballId: number) => (await workshop.store.read((db) => findBall(db, ballId)))?.massMg;
const movesOf = (ballId: number) => workshop.store.read((db) => listBallMoves(db, ballId));

describe('moveBall', () => {
  test('takes what was used off the ball and keeps the move', async () => {
    const ballId = await addBall(100_000);
    const moved = await workshop.store.write('test', (tx) =>
      moveBall(tx, { ballId, changeMg: -38_500, reason: 'used', day }),
    );
    expect(moved).toMatchObject({ ok: true, value: { ball: { massMg: 61_500 }, move: { changeMg: -38_500 } } });
    expect((await movesOf(ballId)).map((move) => [move.reason, move.changeMg])).toEqual([
      ['bought', 100_000],
      ['used', -38_500],
    ]);
  });

  test('takes exactly what is left, and not a milligram more', async () => {
    const ballId = await addBall(32_000);
    const over = await workshop.store.write('test', (tx) =>
      moveBall(tx, { ballId, changeMg: -32_001, reason: 'used', day }),
    );
    expect(over).toMatchObject({ ok: false, problems: [{ code: 'moreThanOnBall', path: 'grams' }] });
    expect(over.ok ? '' : over.problems[0]!.message).toContain('There are 32 g on this ball');
    expect(await massOf(ballId)).toBe(32_000);
    expect(await movesOf(ballId)).toHaveLength(1);
    const exact = await workshop.store.write('test', (tx) =>
      moveBall(tx, { ballId, changeMg: -32_000, reason: 'used', day }),
    );
    expect(exact.ok).toBe(true);
    expect(await massOf(ballId)).toBe(0);
    expect(await workshop.store.read((db) => listFullBalls(db))).toEqual([]);
  });

  test('a ball that is not there is notFound', async () => {
    await expect(
      workshop.store.write('test', (tx) => moveBall(tx, { ballId: 9, changeMg: -1, reason: 'used', day })),
    ).rejects.toMatchObject({ code: 'notFound' });
  });

  test('a move against its reason is refused by the table: nothing is used onto a ball', async () => {
    const ballId = await addBall(32_000);
    await expect(
      workshop.store.write('test', (tx) => moveBall(tx, { ballId, changeMg: 5, reason: 'used', day })),
    ).rejects.toThrow();
    expect(await massOf(ballId)).toBe(32_000);
  });

  test('nothing can have gone on a past day that was not there then, or is not there since', async () => {
    const ballId = await addBall(100_000);
    // Bought on 2 November, 70 g used on the 20th: 30 g can have gone on the 10th, nothing on the 1st.
    const use = (mg: number, on: string) =>
      workshop.store.write('test', (tx) => moveBall(tx, { ballId, changeMg: -mg, reason: 'used', day: on }));
    expect((await use(70_000, '2026-11-20')).ok).toBe(true);
    const over = await use(30_001, '2026-11-10');
    expect(over).toMatchObject({ ok: false, problems: [{ code: 'moreThanOnBall', path: 'grams' }] });
    const before = await use(10_000, '2026-11-01');
    expect(before).toMatchObject({ ok: false, problems: [{ code: 'moreThanWasOnBall', path: 'day' }] });
    expect((await use(30_000, '2026-11-10')).ok).toBe(true);
    expect(await massOf(ballId)).toBe(0);
  });

  test('a later gain does not cover an earlier day', async () => {
    const ballId = await addBall(50_000);
    await workshop.store.write('test', async (tx) => {
      await weighBall(tx, ballId, 10_000, '2026-11-10');
      await weighBall(tx, ballId, 60_000, '2026-11-20');
    });
    // 60 g are there now, but on the 10th there were 10.
    const used = await workshop.store.write('test', (tx) =>
      moveBall(tx, { ballId, changeMg: -20_000, reason: 'used', day: '2026-11-05' }),
    );
    expect(used.ok ? '' : used.problems[0]!.message).toContain('Only 10 g can have gone');
    expect(await massOf(ballId)).toBe(60_000);
  });

  test('after any moves on any days, accepted or refused, no day ever had less than nothing', async () => {
    const steps = fc.array(
      fc.record({
        do: fc.constantFrom('use' as const, 'lose' as const, 'weigh' as const, 'wind' as const, 'undo' as const),
        mg: fc.integer({ min: 1, max: 60_000 }),
        ball: fc.nat(5),
        after: fc.integer({ min: -2, max: 12 }),
      }),
      { maxLength: 10 },
    );
    await fc.assert(
      fc.asyncProperty(steps, async (chosen) => {
        const first = await addBall(50_000);
        for (const step of chosen) {
          const balls = (await workshop.store.read((db) => listBalls(db))).filter((ball) => ball.id >= first);
          const ballId = balls[step.ball % balls.length]!.id;
          const moves = await movesOf(ballId);
          const on = addDays('2026-11-02', step.after);
          await workshop.store.write('test', async (tx): Promise<{ ok: boolean }> => {
            if (step.do === 'weigh') return await weighBall(tx, ballId, step.mg, on);
            if (step.do === 'wind') return await windOff(tx, ballId, step.mg, on);
            if (step.do === 'undo') return await undoMove(tx, moves[step.mg % moves.length]!.id, on);
            const reason = step.do === 'use' ? 'used' : 'lost';
            return await moveBall(tx, { ballId, changeMg: -step.mg, reason, day: on });
          });
        }
        const all = await workshop.store.read((db) => listAllMoves(db));
        for (const ball of await workshop.store.read((db) => listBalls(db))) {
          const own = all.filter((move) => move.ballId === ball.id);
          expect(ball.massMg).toBe(own.reduce((sum, move) => sum + move.changeMg, 0));
          for (const { day: on } of own) {
            const sum = own.reduce((total, move) => (move.day <= on ? total + move.changeMg : total), 0);
            expect(sum).toBeGreaterThanOrEqual(0);
            expect(balancesAt(all, on).get(ball.id)).toBe(sum);
          }
        }
        // Winding off neither makes yarn nor loses it: over a lot its moves come to nothing.
        const lotId = (await workshop.store.read((db) => findBall(db, first)))!.lotId;
        const ofLot = new Set(
          (await workshop.store.read((db) => listBalls(db))).filter((b) => b.lotId === lotId).map((b) => b.id),
        );
        const wound = all.filter((move) => ofLot.has(move.ballId) && move.reason === 'wound off');
        expect(wound.reduce((sum, move) => sum + move.changeMg, 0)).toBe(0);
      }),
      { numRuns: 15 },
    );
  });

  test('after any moves, accepted or refused, the mass is the sum of the moves and not below 0', async () => {
    const steps = fc.array(
      fc.oneof(
        fc.record({ do: fc.constant('use' as const), mg: fc.integer({ min: 1, max: 60_000 }) }),
        fc.record({ do: fc.constant('weigh' as const), mg: fc.integer({ min: 0, max: 60_000 }) }),
        fc.record({ do: fc.constant('wind' as const), mg: fc.integer({ min: 1, max: 60_000 }) }),
        fc.record({ do: fc.constant('undo' as const), mg: fc.integer({ min: 0, max: 8 }) }),
      ),
      { maxLength: 8 },
    );
    await fc.assert(
      fc.asyncProperty(steps, async (chosen) => {
        const ballId = await addBall(50_000);
        for (const step of chosen) {
          const moves = await movesOf(ballId);
          await workshop.store.write('test', async (tx): Promise<{ ok: boolean }> => {
            if (step.do === 'use') return await moveBall(tx, { ballId, changeMg: -step.mg, reason: 'used', day });
            if (step.do === 'weigh') return await weighBall(tx, ballId, step.mg, day);
            if (step.do === 'wind') return await windOff(tx, ballId, step.mg, day);
            return await undoMove(tx, moves[step.mg % moves.length]!.id, day);
          });
        }
        for (const ball of await workshop.store.read((db) => listBalls(db))) {
          const moves = await movesOf(ball.id);
          expect(ball.massMg).toBe(moves.reduce((sum, move) => sum + move.changeMg, 0));
          expect(ball.massMg).toBeGreaterThanOrEqual(0);
        }
      }),
      { numRuns: 15 },
    );
  });
});

describe('weighBall', () => {
  test('sets the ball to the scale, up or down, and a reading that agrees is kept too', async () => {
    const ballId = await addBall(50_000);
    for (const massMg of [48_000, 49_000, 49_000, 0]) {
      await workshop.store.write('test', (tx) => weighBall(tx, ballId, massMg, day));
    }
    expect((await movesOf(ballId)).map((move) => move.changeMg)).toEqual([50_000, -2_000, 1_000, 0, -49_000]);
  });

  test('on a past day it is set against what was there then, and what went since stays gone', async () => {
    const ballId = await addBall(100_000);
    await workshop.store.write('test', (tx) =>
      moveBall(tx, { ballId, changeMg: -30_000, reason: 'used', day: '2026-11-20' }),
    );
    // The scale showed 95 g on the 10th where 100 were written down; 30 g went on the 20th: 65 are left.
    const weighed = await workshop.store.write('test', (tx) => weighBall(tx, ballId, 95_000, '2026-11-10'));
    expect(weighed).toMatchObject({ ok: true, value: { ball: { massMg: 65_000 }, move: { changeMg: -5_000 } } });
  });

  test('less than nothing is refused', async () => {
    const ballId = await addBall(50_000);
    const weighed = await workshop.store.write('test', (tx) => weighBall(tx, ballId, -1, day));
    expect(weighed).toMatchObject({ ok: false, problems: [{ path: 'grams' }] });
  });
});

describe('windOff', () => {
  test('makes a second ball of the same lot, with the knitter, and no yarn comes or goes', async () => {
    const ballId = await addBall(100_000);
    const wound = await workshop.store.write('test', async (tx) => {
      const knitter = await addKnitter(tx);
      return await windOff(tx, ballId, 40_000, day, knitter.id);
    });
    expect(wound).toMatchObject({ ok: true, value: { massMg: 40_000, knitterId: 1, lotId: 1 } });
    expect(await massOf(ballId)).toBe(60_000);
  });

  test('more than is there: refused, and no second ball', async () => {
    const ballId = await addBall(10_000);
    const wound = await workshop.store.write('test', (tx) => windOff(tx, ballId, 10_001, day));
    expect(wound.ok).toBe(false);
    expect(await workshop.store.read((db) => listBalls(db))).toHaveLength(1);
  });
});

describe('undoMove', () => {
  test('puts the yarn back by a row of its own, once', async () => {
    const ballId = await addBall(50_000);
    await workshop.store.write('test', (tx) => moveBall(tx, { ballId, changeMg: -20_000, reason: 'used', day }));
    const used = (await movesOf(ballId))[1]!;
    expect((await workshop.store.write('test', (tx) => undoMove(tx, used.id, day))).ok).toBe(true);
    expect(await massOf(ballId)).toBe(50_000);
    const again = await workshop.store.write('test', (tx) => undoMove(tx, used.id, day));
    expect(again).toMatchObject({ ok: false, problems: [{ code: 'undoneAlready' }] });
    expect(await massOf(ballId)).toBe(50_000);
  });

  test('undoes both halves of a winding off, by either of them', async () => {
    const ballId = await addBall(100_000);
    const windAndUndo = async (half: 0 | 1) => {
      await workshop.store.write('test', (tx) => windOff(tx, ballId, 40_000, day));
      const wound = (await workshop.store.read((db) => listAllMoves(db))).filter((m) => m.reason === 'wound off');
      const id = wound.at(half - 2)!.id;
      expect((await workshop.store.write('test', (tx) => undoMove(tx, id, day))).ok).toBe(true);
      const masses = (await workshop.store.read((db) => listBalls(db))).map((ball) => ball.massMg);
      expect(masses.reduce((sum, mg) => sum + mg, 0)).toBe(100_000);
      expect(masses[0]).toBe(100_000);
    };
    await windAndUndo(0);
    await windAndUndo(1);
  });

  test('a winding off stays when the new ball was begun since, and both balls stay as they are', async () => {
    const ballId = await addBall(100_000);
    const wound = await workshop.store.write('test', (tx) => windOff(tx, ballId, 40_000, day));
    const newId = wound.ok ? wound.value.id : 0;
    await workshop.store.write('test', (tx) => moveBall(tx, { ballId: newId, changeMg: -1, reason: 'used', day }));
    const undone = await workshop.store.write('test', async (tx) =>
      undoMove(tx, (await listBallMoves(tx, ballId))[1]!.id, day),
    );
    expect(undone).toMatchObject({ ok: false, problems: [{ code: 'moreThanOnBall' }] });
    expect([await massOf(ballId), await massOf(newId)]).toEqual([60_000, 39_999]);
  });

  test('is never dated before what it undoes', async () => {
    const ballId = await addBall(50_000);
    await workshop.store.write('test', (tx) => moveBall(tx, { ballId, changeMg: -20_000, reason: 'used', day }));
    const used = (await movesOf(ballId))[1]!;
    const undone = await workshop.store.write('test', (tx) => undoMove(tx, used.id, '2026-11-10'));
    expect(undone).toMatchObject({ ok: true, value: { move: { day, reversesId: used.id } } });
  });

  test('a purchase whose yarn is used up cannot be undone', async () => {
    const ballId = await addBall(50_000);
    await workshop.store.write('test', (tx) => moveBall(tx, { ballId, changeMg: -20_000, reason: 'used', day }));
    const bought = (await movesOf(ballId))[0]!;
    const undone = await workshop.store.write('test', (tx) => undoMove(tx, bought.id, day));
    expect(undone).toMatchObject({ ok: false, problems: [{ code: 'moreThanOnBall' }] });
  });
});

describe('handBall', () => {
  test('gives the ball to a knitter and takes it back, without touching its mass', async () => {
    const ballId = await addBall(50_000);
    const out = await workshop.store.write('test', async (tx) =>
      handBall(tx, ballId, { knitterId: (await addKnitter(tx)).id, handedDay: '2026-11-20' }),
    );
    expect(out).toMatchObject({ knitterId: 1, massMg: 50_000 });
    const back = await workshop.store.write('test', (tx) =>
      handBall(tx, ballId, { knitterId: null, handedDay: '2026-11-25' }, out.version),
    );
    expect(back.knitterId).toBeNull();
  });
});

describe('createBall', () => {
  test('an empty ball is refused', async () => {
    const { lot } = await workshop.store.write('test', (tx) => addLot(tx, []));
    await expect(
      workshop.store.write('test', (tx) => createBall(tx, { lotId: lot.id, massMg: 0, reason: 'bought', day })),
    ).rejects.toThrow();
    expect(await workshop.store.read((db) => listBalls(db))).toEqual([]);
  });
});
