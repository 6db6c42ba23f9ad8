import type { CardInput } from '#core/cards/card.ts';
import { fabricOfSection, rowsOfSection } from '#core/cards/flat-plan.ts';
import { type SlipperCounts, seamsOf } from '#core/cards/seams.ts';
import { loopLengthCm } from '#core/gauge/gauge.ts';
import { fabricNamed } from '#core/styles/fabrics.ts';
import { factorValue, settingsFor } from '#core/styles/settings-of.ts';
import { type Shaping, shapingOf } from '#core/styles/shaping.ts';
import type { PieceCounts, SectionCounts } from '#core/styles/spec.ts';
import type { Change, StyleBody } from '#core/styles/style.ts';
import { drawUpMm, endMm, shapedLoopFactor, yardageRules } from '#core/yardage/rules.ts';

/** Yarn that some rows, or a tail, take of one role: metres of one strand. */
export type RowsYarn = {
  /** 0 the left or both alike, 1 the right. */
  readonly slipper: number;
  readonly piece: string;
  readonly role: string;
  /** First row and how many; 0 rows for tails, seams and binding off. */
  readonly fromRow: number;
  readonly rows: number;
  readonly metres: number;
};

type Use = Omit<RowsYarn, 'metres'> & { readonly loopM: number; readonly fixedM: number };

/** Only the ratio between pieces counts here: the spec's own metres set the scale. Munden's Ks of washed plain knit. */
const ks = 21.6;

/** The rows of a change, worked out again from its counts. */
export function shapingRows(
  section: SectionCounts,
  rule: Change,
  body: StyleBody,
  person: CardInput['person'],
): Shaping {
  const limit = rule.how === 'two together across' ? factorValue(rule.repeatWhileAbove, settingsFor(body, person)) : 0;
  return shapingOf(rule, section.stitchesBefore, section.stitchesAfter, limit, section.name);
}

/** Loops of a change, those of two together weighed more. */
function shapedLoops(section: SectionCounts, rule: Change, input: CardInput): number {
  const isAcross = rule.how === 'two together across';
  return shapingRows(section, rule, input.body, input.person).rows.reduce((sum, row) => {
    const together = isAcross && row.taken > 0 ? row.after : row.taken / 2;
    return sum + together * shapedLoopFactor + (row.after - together);
  }, 0);
}

function isOneColour(input: CardInput): boolean {
  const byRole = new Map<string, number[]>();
  for (const { role, yarnColourId } of input.strands) byRole.set(role, [...(byRole.get(role) ?? []), yarnColourId]);
  return new Set([...byRole.values()].map((ids) => ids.join('+'))).size <= 1;
}

function usesOfPiece(input: CardInput, piece: PieceCounts, slipper: number): Use[] {
  const rules = input.body.pieces.find(({ name }) => name === piece.name);
  const first = piece.sections.find((section) => section.do === 'work')?.fabric ?? 'stocking';
  const loopM = loopLengthCm(piece.stitchesPer10Cm, piece.rowsPer10Cm, ks) / 100;
  const ends = !isOneColour(input);
  const uses: Use[] = [];
  let fromRow = 1;
  for (const [index, section] of piece.sections.entries()) {
    const rule = rules?.sections[section.step];
    const rows = rowsOfSection(section);
    const base = { slipper, piece: piece.name, role: section.role };
    const add = (loops: number, fixedM: number) =>
      uses.push({ ...base, fromRow, rows: loops > 0 ? rows : 0, loopM: loops * loopM, fixedM });
    const before = piece.sections[index - 1]?.role;
    if (ends && before !== undefined && before !== section.role) {
      for (const role of [before, section.role]) {
        uses.push({ ...base, role, fromRow, rows: 0, loopM: 0, fixedM: endMm / 1000 });
      }
    }
    if (section.do === 'castOn' || section.do === 'pickUp') add(section.stitchesBefore, 0);
    if (section.do === 'castOn') {
      add(0, yardageRules.castOnTail.formula(piece.castOnStitches, piece.stitchesPer10Cm));
    }
    if (section.do === 'work') {
      const { loopFactor } = fabricNamed(fabricOfSection(section, rule, first));
      if (rows > 0) add(section.stitchesBefore * rows * loopFactor, 0);
    }
    if (section.do === 'change' && rule?.do === 'change') {
      const fabric = fabricNamed(fabricOfSection(section, rule, first));
      add(shapedLoops(section, rule, input) * fabric.loopFactor, 0);
    }
    if (section.do === 'drawUp') add(0, drawUpMm / 1000);
    if (section.do === 'bindOff') {
      add(0, yardageRules.bindOff.formula(section.stitchesBefore, piece.stitchesPer10Cm));
    }
    fromRow += rows;
  }
  return uses;
}

function usesOfSlipper(input: CardInput, slipper: SlipperCounts, index: number): Use[] {
  const seams = seamsOf(slipper, input.body).map(
    ({ join, lengthMm, piece }): Use => ({
      slipper: index,
      piece,
      role: join.colour,
      // A seam sewn with the cast-on end has its yarn from the first row on.
      fromRow: join.withTail === 'cast-on' ? 1 : slipper.pieces.find(({ name }) => name === piece)!.totalRows + 1,
      rows: 0,
      loopM: 0,
      fixedM: yardageRules.seam.formula(lengthMm, join.withTail === undefined ? 2 : 0),
    }),
  );
  return [...slipper.pieces.flatMap((piece) => usesOfPiece(input, piece, index)), ...seams];
}

const countsOf = ({ pieces, measures }: SlipperCounts): string => JSON.stringify([pieces, measures.markRows]);

/** The slippers of a pair: one entry where both have the same counts, however little the feet differ. */
export function slippersOf({ spec }: Pick<CardInput, 'spec'>): readonly SlipperCounts[] {
  // A pair begun before right feet were known has none.
  if (!spec.right || countsOf(spec) === countsOf(spec.right)) return [spec];
  return [spec, spec.right];
}

/** Share of a strand that goes into joining the next ball. */
export function joinFactor(tex: number, ballMg: number): number {
  return yardageRules.withJoins.formula(1, tex, ballMg / 1000);
}

/**
 * Where a pair's yarn goes: metres of one strand for each run of rows, tail and seam of each piece. The parts of a role add
 * up to the spec's metres of its first strand, ball joins left out; a seam belongs to the piece whose edge it names first.
 *
 * @param input counts, style and strands
 * @returns for like slippers the uses of one; for odd feet those of both, by `slipper`
 */
export function rowsYarnOf(input: CardInput): RowsYarn[] {
  const slippers = slippersOf(input);
  const times = slippers.length === 1 ? 2 : 1;
  const uses = slippers.flatMap((slipper, index) => usesOfSlipper(input, slipper, index));
  const roles = [...new Set(uses.map((use) => use.role))];
  return roles.flatMap((role) => {
    const own = uses.filter((use) => use.role === role);
    const strand = input.strands.find((each) => each.role === role);
    const total = input.spec.metres
      .filter((each) => each.role === role && each.strand === 0)
      .reduce((sum, each) => sum + each.metres.mean, 0);
    const wished = strand ? total / joinFactor(strand.tex, strand.ballMg) / times : 0;
    const fixed = own.reduce((sum, use) => sum + use.fixedM, 0);
    const loops = own.reduce((sum, use) => sum + use.loopM, 0);
    const scale = loops > 0 ? Math.max(0, wished - fixed) / loops : 0;
    return own.map(({ loopM, fixedM, ...use }) => ({ ...use, metres: loopM * scale + fixedM }));
  });
}

/**
 * Grams of one colour for each use of `rowsYarnOf`: all its strands together, ball joins included.
 *
 * @param input strands give tex and ball size
 * @param uses as `rowsYarnOf` gives them
 * @param yarnColourId the colour
 */
export function gramsOfUses(
  input: Pick<CardInput, 'strands'>,
  uses: readonly RowsYarn[],
  yarnColourId: number,
): readonly (RowsYarn & { readonly grams: number })[] {
  return uses.flatMap((use) => {
    const perM = input.strands
      .filter((strand) => strand.role === use.role && strand.yarnColourId === yarnColourId)
      .reduce((sum, { tex, ballMg }) => sum + (tex / 1000) * joinFactor(tex, ballMg), 0);
    return perM > 0 ? [{ ...use, grams: use.metres * perM }] : [];
  });
}
