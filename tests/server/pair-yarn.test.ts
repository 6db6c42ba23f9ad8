import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { listPairColours, listPairPieces, listPairs } from '#db/stores/batch.ts';
import { listBalls, listReservations } from '#db/stores/shelf.ts';
import { readState } from '#db/stores/workshop.ts';
import { readFrozen, readPairs } from '#flows/batch/started-pairs.ts';
import { pairCoster } from '#flows/books/pair-costs.ts';
import { readPlan } from '#flows/read-plan.ts';
import { createApp } from '#server/app.ts';
import { postForm } from '#tests/support/form.ts';
import { addSeason } from '#tests/support/season.ts';
import { addLot, openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const now = () => new Date('2026-11-25T12:00:00Z');
let workshop: TestWorkshop;
let app: ReturnType<typeof createApp>;

/** A pair of the season that waits for a colour, and that colour. */
let pairId: number;
let colourId: number;

beforeEach(async () => {
  workshop = await openTestWorkshop();
  app = createApp({ workshop, now, publicUrl: null });
  await addSeason(workshop);
  const { revision } = await workshop.store.read((db) => readState(db));
  await postForm(app, '/batch/start', { name: 'Winter', order: ['1', '2'], revision: String(revision) });
  const waiting = (await colours()).find(({ lotId }) => lotId === null)!;
  pairId = waiting.pairId;
  colourId = waiting.yarnColourId;
});
afterEach(() => workshop.discard());

const colours = () => workshop.store.read((db) => listPairColours(db));
const page = async (path: string) => (await app.request(path)).text();
const pairOf = async () => (await workshop.store.read((db) => listPairs(db))).find(({ id }) => id === pairId)!;
const isFinished = async () =>
  (await workshop.store.read((db) => listPairPieces(db))).every(
    (piece) => piece.pairId !== pairId || piece.stage === 'done',
  );
const massMg = async (lotId: number) =>
  (await workshop.store.read((db) => listBalls(db)))
    .filter((ball) => ball.lotId === lotId)
    .reduce((sum, ball) => sum + ball.massMg, 0);
const asideMg = async (lotId: number) =>
  (await workshop.store.read((db) => listReservations(db))).find((row) => row.lotId === lotId)?.massMg ?? 0;
const likelyMg = async () => {
  const { estimate } = readFrozen((await pairOf()).specJson);
  return Math.round(estimate.yarn.find(({ yarnColourId }) => yarnColourId === colourId)!.grams * 1000);
};
const press = async (step: string, path = `/batch/pairs/${pairId}`) =>
  postForm(app, path, { step, version: String((await pairOf()).version), back: '/batch/started/1' });

/** Every colour that the pair waits for from one place. */
async function answer(value: string, step = 'finish') {
  const waiting = (await colours()).filter((row) => row.pairId === pairId && row.lotId === null);
  const fields = Object.fromEntries(waiting.map(({ yarnColourId }) => [`yarn-${yarnColourId}`, 'elsewhere']));
  return postForm(app, `/batch/pairs/${pairId}/yarn`, {
    ...{ ...fields, [`yarn-${colourId}`]: value, step, back: '/batch/started/1' },
    version: String((await pairOf()).version),
  });
}
const newLot = () =>
  workshop.store.write('test: a parcel', async (tx) => {
    // 400 g for 20.00: 5 cents a gram.
    const { lot } = await addLot(tx, [400_000], { yarnColourId: colourId, dyeLot: '77', paidCents: 2000 });
    return lot.id;
  });

describe('finishing a pair whose yarn is still to come', () => {
  it.each(['finish', 'done sewing up'])('asks what it was knitted from: %s', async (step) => {
    const asked = await press(step);
    expect(asked.status).toBe(303);
    expect(asked.headers.get('location')).toBe(
      `/batch/pairs/${pairId}/yarn?${new URLSearchParams({ step, back: '/batch/started/1' })}`,
    );
    expect(await isFinished()).toBe(false);
    const html = await page(asked.headers.get('location')!);
    expect(html).toContain(`What was pair ${pairId} knitted from?`);
    expect(html).toContain('Yarn that is not on the shelf');
    expect(html).toContain(`name="step" value="${step}"`);
  });

  it('asks on the card too, and by the last piece, but not by one before', async () => {
    const pieces = (await workshop.store.read((db) => listPairPieces(db))).filter((row) => row.pairId === pairId);
    for (const { piece } of pieces.slice(0, -1)) {
      expect((await press(`done ${piece}`)).headers.get('location')).toBe(`/batch/started/1#pair-${pairId}`);
    }
    const last = pieces.at(-1)!.piece;
    const asked = await postForm(app, `/cards/pair/${pairId}/done`, {
      ...{ piece: last, slipper: '1', step: `done ${last}` },
      version: String((await pairOf()).version),
    });
    expect(asked.headers.get('location')).toContain(`/batch/pairs/${pairId}/yarn?`);
    expect(asked.headers.get('location')).toContain(encodeURIComponent(`/cards/pair/${pairId}`));
    expect(await isFinished()).toBe(false);
  });

  it('takes what it likely used off the lot that is named, and nothing stays put aside for it', async () => {
    const lotId = await newLot();
    expect(await page(`/batch/pairs/${pairId}/yarn?step=finish`)).toMatch(/Lot 77: 400\s?g on the shelf/);
    const answered = await answer(String(lotId));
    expect(answered.headers.get('location')).toBe(`/batch/started/1#pair-${pairId}`);
    expect(await isFinished()).toBe(true);
    expect(await massMg(lotId)).toBe(400_000 - (await likelyMg()));
    expect(await asideMg(lotId)).toBe(0);
    // The books: what was weighed out of it, at 5 cents a gram.
    const allotted = (await colours()).filter((row) => row.pairId === pairId && row.lotId === lotId);
    const grams = allotted.reduce((sum, row) => sum + row.allottedMg, 0) / 1000;
    const plan = await readPlan(workshop, now());
    const { yarn } = pairCoster(plan)(readPairs(plan.rows).find(({ row }) => row.id === pairId)!);
    const paid = yarn.filter(({ yarnColourId }) => yarnColourId === colourId);
    expect(paid.reduce((sum, each) => sum + each.paidCents, 0)).toBeCloseTo(grams * 5, 6);
    // A wrong press puts all of it back.
    await press('go on');
    expect(await massMg(lotId)).toBe(400_000);
    expect(await asideMg(lotId)).toBe(grams * 1000);
  });

  it('takes nothing off the shelf for yarn from elsewhere, and says so at the pair', async () => {
    const lotId = await newLot();
    await answer('elsewhere');
    expect(await isFinished()).toBe(true);
    expect(await massMg(lotId)).toBe(400_000);
    const row = new RegExp(`id="pair-${pairId}"[\\s\\S]*?</tr>`).exec(await page('/batch/started/1'))![0];
    expect(row).toContain('not from the shelf');
    expect(row).not.toContain('still to come');
  });

  it('refuses without an answer, or a lot of another colour, at the field; what was chosen stays', async () => {
    const other = await workshop.store.write('test: another colour', (tx) => addLot(tx, [100_000]));
    for (const value of ['', String(other.lot.id), '9999']) {
      const refused = await answer(value);
      expect(refused.status).toBe(422);
      const html = await refused.text();
      expect(html).toMatch(/Choose what the [A-Z][a-z]+ was knitted from/);
      expect(html).toContain('name="back" value="/batch/started/1"');
    }
    expect(await isFinished()).toBe(false);
  });

  it('finishes nothing where somebody else was faster', async () => {
    const { version } = await pairOf();
    await press('begun foot');
    const fields = { [`yarn-${colourId}`]: 'elsewhere', step: 'finish', version: String(version) };
    const waiting = (await colours()).filter((row) => row.pairId === pairId && row.lotId === null);
    for (const { yarnColourId } of waiting) fields[`yarn-${yarnColourId}`] = 'elsewhere';
    expect((await postForm(app, `/batch/pairs/${pairId}/yarn`, fields)).status).toBe(409);
    expect(await isFinished()).toBe(false);
  });
});
