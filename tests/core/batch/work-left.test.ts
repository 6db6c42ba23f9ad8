import { describe, expect, it } from 'vitest';
import { workLeft } from '#core/batch/work-left.ts';
import type { PieceCounts, SectionCounts } from '#core/styles/spec.ts';

const section = (rows: number, stitchesBefore: number) => ({ rows, stitchesBefore }) as SectionCounts;
const pieceOf = (name: string, stitches: number): Pick<PieceCounts, 'name' | 'sections'> => ({
  name,
  sections: [section(stitches / 10, 10)],
});
// The foot has three times the stitches of the cuff.
const pieces = [pieceOf('foot', 300), pieceOf('cuff', 100)];

describe('workLeft', () => {
  it('weighs the pieces by their stitches: 0.85 of the work is knitting, three quarters of it the foot', () => {
    const stages = [
      { piece: 'foot', stage: 'done' as const },
      { piece: 'cuff', stage: 'waiting' as const },
      { piece: 'sewing up', stage: 'waiting' as const },
    ];
    // 0.85 x 1/4 + 0.15 = 0.3625
    expect(workLeft(stages, pieces)).toBeCloseTo(0.3625, 12);
  });

  it('counts a piece begun as half done', () => {
    const stages = [
      { piece: 'foot', stage: 'begun' as const },
      { piece: 'cuff', stage: 'waiting' as const },
      { piece: 'sewing up', stage: 'waiting' as const },
    ];
    // 0.85 x (0.75 / 2 + 0.25) + 0.15 = 0.68125
    expect(workLeft(stages, pieces)).toBeCloseTo(0.68125, 12);
  });

  it('is 0 when all is done and never above 1', () => {
    const all = (stage: 'done' | 'waiting') => ['foot', 'cuff', 'sewing up'].map((piece) => ({ piece, stage }));
    expect(workLeft(all('done'), pieces)).toBe(0);
    expect(workLeft(all('waiting'), pieces)).toBe(1);
  });
});
