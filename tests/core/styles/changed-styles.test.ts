import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { kindFor } from '#core/batch/kinds.ts';
import { cardOf } from '#core/cards/card-of.ts';
import type { Person } from '#core/sizing/foot.ts';
import { footFrom } from '#core/sizing/girths.ts';
import { checkStyle } from '#core/styles/check-style.ts';
import { fabrics } from '#core/styles/fabrics.ts';
import { shippedStyles } from '#core/styles/shipped/shipped-styles.ts';
import { specifyWithWorking } from '#core/styles/specify.ts';
import type { StyleBody } from '#core/styles/style.ts';
import { yarnOf } from '#tests/support/knit-cases.ts';
import { gauge } from '#tests/support/plan-input.ts';

type Tree = Record<string, unknown> | unknown[];
type Slot = { readonly node: Tree; readonly key: string; readonly value: unknown };

/** Every value of a style that an editor may change. */
function slotsOf(node: Tree): Slot[] {
  return Object.entries(node).flatMap(([key, value]): Slot[] =>
    typeof value === 'object' && value !== null ? slotsOf(value as Tree) : [{ node, key, value }],
  );
}

type Edit = { readonly at: number; readonly by: number; readonly kind: number };

/** A shipped style with a few values moved, swapped or taken away: most are still styles, some are not. */
function edited(body: StyleBody, edits: readonly Edit[]): StyleBody {
  const tree = structuredClone(body) as unknown as Tree & StyleBody;
  for (const { at, by, kind } of edits) {
    const slots = slotsOf(tree);
    const { node, key, value } = slots[at % slots.length]!;
    const set = (next: unknown) => {
      (node as Record<string, unknown>)[key] = next;
    };
    if (key === 'format' || key === 'make') continue;
    if (typeof value === 'number')
      set(Number.isInteger(value) && kind % 2 === 0 ? value + Math.round(by * 3) : value * (1 + by / 2));
    else if (value === 'right side' || value === 'wrong side')
      set(value === 'right side' ? 'wrong side' : 'right side');
    else if (key === 'fabric') set(fabrics[kind % fabrics.length]!.name);
    else if (key === 'colour' || key === 'gaugeOf') set(tree.roles[kind % tree.roles.length]!.name);
    else if (key === 'how' && value !== 'two together across') set(['centre', 'edges', 'evenly'][kind % 3]);
    else if (key === 'raiseUntil') set(undefined);
    else if (typeof value === 'boolean') set(!value);
  }
  const [piece] = tree.pieces;
  const kind = edits[0]?.kind ?? 0;
  if (piece && kind % 5 === 0) (piece.sections as unknown[]).splice(1 + (kind % 3), 1);
  if (piece && kind % 7 === 0) (piece.sections as unknown[]).splice(1, 0, piece.sections.at(1));
  return tree;
}

const edit = fc.record({
  at: fc.nat(400),
  by: fc.integer({ min: -100, max: 100 }).map((percent) => percent / 100),
  kind: fc.nat(60),
});
const anyStyle = fc
  .tuple(fc.constantFrom(...shippedStyles), fc.array(edit, { maxLength: 4 }))
  .map(([body, edits]) => edited(body, edits));
const anyFoot = fc.oneof(
  fc.record({ person: fc.constant<Person>('child'), lengthMm: fc.integer({ min: 90, max: 220 }) }),
  fc.record({
    person: fc.constantFrom<Person>('woman', 'man', 'unknown'),
    lengthMm: fc.integer({ min: 215, max: 320 }),
  }),
);
const anyHand = fc.record({
  stitches: fc.integer({ min: 90, max: 300 }).map((count) => count / 10),
  tex: fc.constantFrom(250, 400, 500, 799, 800, 1000, 1800),
  cuff: fc.constantFrom('short' as const, 'turned down' as const, 'none' as const),
});

type Hand = { readonly stitches: number; readonly tex: number; readonly cuff: 'short' | 'turned down' | 'none' };

function knit(body: StyleBody, foot: { person: Person; lengthMm: number }, { stitches, tex, cuff }: Hand) {
  const yarns = [yarnOf(tex)];
  const { shape } = kindFor({
    style: { versionId: 1, name: body.style, body },
    foot: footFrom(foot),
    fit: 'usual',
    yarns: Object.fromEntries(body.roles.map((role) => [role.name, yarns])),
    colours: Object.fromEntries(body.roles.map((role) => [role.name, [1]])),
    cuff,
  });
  const hand = { key: 'h', tightness: 'usual' as const, gauges: [gauge(String(tex), stitches, (stitches * 4) / 3)] };
  return { shape, spec: specifyWithWorking(shape, hand).spec, yarn: yarns[0]! };
}

function numbersIn(value: unknown): number[] {
  if (typeof value === 'number') return [value];
  if (typeof value === 'object' && value !== null) return Object.values(value).flatMap(numbersIn);
  return [];
}

describe('a style that the check accepts', () => {
  it('can be knitted at every size and gauge: whole counts, rows that sum, no number missing', () => {
    let accepted = 0;
    fc.assert(
      fc.property(anyStyle, anyFoot, anyHand, (body, foot, hand) => {
        if (checkStyle(body).length > 0) return;
        accepted += 1;
        const { shape, spec, yarn } = knit(body, foot, hand);
        expect(numbersIn(spec).every(Number.isFinite)).toBe(true);
        for (const piece of spec.pieces) {
          const rows = piece.sections.reduce((sum, section) => sum + section.rows, 1);
          expect(piece.totalRows).toBe(rows);
          for (const { stitchesBefore, stitchesAfter, rows: count } of piece.sections) {
            expect([stitchesBefore, stitchesAfter, count].every((each) => Number.isInteger(each) && each >= 0)).toBe(
              true,
            );
          }
          expect(piece.lastStitches).toBeGreaterThan(0);
          expect(piece.widthMm).toBeGreaterThan(0);
        }
        expect(spec.metres.every((each) => each.metres.mean >= 0)).toBe(true);
        const card = cardOf({
          ...{ body, spec, person: foot.person, footLengthMm: foot.lengthMm, cuffHeightMm: shape.cuffHeightMm },
          ...{ words: 'british', unitSystem: 'metric', needlesMm: {} },
          strands: body.roles.map(({ name }, index) => ({
            ...{ role: name, strand: 0, yarnColourId: index, colour: name, yarn: yarn.name, fibre: null, hexes: [] },
            ...{ tex: yarn.tex, ballMg: yarn.ballMg, mg: 1000 },
          })),
        });
        expect(JSON.stringify(card)).not.toContain('NaN');
        for (const piece of card.slippers[0]!.pieces) {
          expect(piece.steps.reduce((sum, step) => sum + step.rows, 0)).toBe(piece.rows);
        }
      }),
      { numRuns: 300 },
    );
    expect(accepted).toBeGreaterThan(60);
  });
});
