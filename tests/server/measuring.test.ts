import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createApp } from '#server/app.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

let workshop: TestWorkshop;
beforeAll(async () => {
  workshop = await openTestWorkshop();
});
afterAll(() => workshop.discard());

describe('GET /sizing/measure', () => {
  it('shows three measures of both feet, and a ruler whose units are millimetres of the paper', async () => {
    const app = createApp({ workshop, now: () => new Date('2026-11-25T09:00:00Z'), publicUrl: null });
    const answer = await app.request('/sizing/measure', { headers: { host: 'localhost' } });
    const page = await answer.text();
    expect(answer.status).toBe(200);
    for (const words of ['Left foot', 'Right foot', 'Round the ball', 'Round heel and ankle', '10 cm', '4 in']) {
      expect(page).toContain(words);
    }
    // The check bars: 100 mm and 4 x 25.4 = 101.6 mm from where they begin, at 2.
    expect(page).toContain('H102M');
    expect(page).toContain('H103.6M');
    // Heel and the last tick lie 280 mm apart.
    const line = /<g class="ruler-lines"><path d="M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)"/.exec(page)!;
    const [x1, y1, x2, y2] = line.slice(1).map(Number) as [number, number, number, number];
    expect(Math.hypot(x2 - x1, y2 - y1)).toBeCloseTo(280, 1);
  });
});
