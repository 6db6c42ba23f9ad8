import { kindFor, strandsOfKind } from '#core/batch/kinds.ts';
import type { CardInput, KnittingWords } from '#core/cards/card.ts';
import type { Yarn } from '#core/gauge/hand.ts';
import type { Person } from '#core/sizing/foot.ts';
import { footFrom } from '#core/sizing/girths.ts';
import { specifyWithWorking } from '#core/styles/specify.ts';
import type { StyleBody } from '#core/styles/style.ts';
import { bulky, gauge } from '#tests/support/plan-input.ts';

/** Cards of any style at any gauge, for tests of their words and numbers. */

export type CardWish = {
  readonly body: StyleBody;
  readonly person?: Person;
  readonly lengthMm?: number;
  readonly rightLengthMm?: number;
  readonly cuff?: 'short' | 'turned down' | 'none';
  readonly stitches?: number;
  readonly rows?: number;
  readonly yarns?: readonly Yarn[];
  readonly words?: KnittingWords;
  /** Names of the colours by role; the same name is the same colour. */
  readonly colours?: Readonly<Record<string, string>>;
  readonly needleMm?: number;
};

/** A pair's card input and the worked style it came from. */
export function cardCase(wish: CardWish) {
  const { body, person = 'woman', lengthMm = 240, yarns = [bulky], needleMm = 7 } = wish;
  const roles = body.roles.map((role) => role.name);
  const names = roles.map((role, index) => wish.colours?.[role] ?? (index === 0 ? 'Heather' : 'Oat'));
  const ids = names.map((name) => names.indexOf(name) + 1);
  const kind = kindFor({
    style: { versionId: 1, name: body.style, body },
    foot: footFrom({ person, lengthMm }),
    right: wish.rightLengthMm === undefined ? null : footFrom({ person, lengthMm: wish.rightLengthMm }),
    fit: 'usual',
    yarns: Object.fromEntries(roles.map((role) => [role, yarns])),
    colours: Object.fromEntries(roles.map((role, index) => [role, yarns.map(() => ids[index]!)])),
    cuff: wish.cuff ?? 'short',
  });
  const key = yarns
    .map((yarn) => yarn.id)
    .sort((a, b) => a - b)
    .join('+');
  const hand = {
    key: 'hand',
    tightness: 'usual' as const,
    gauges: [{ ...gauge(key, wish.stitches ?? 13, wish.rows ?? 18), needleMm }],
  };
  const working = specifyWithWorking(kind.shape, hand);
  const { spec } = working;
  const gramsOf = (role: string, strand: number, tex: number) =>
    (spec.metres
      .filter((each) => each.role === role && each.strand === strand)
      .reduce((sum, each) => sum + each.metres.mean, 0) *
      tex) /
    1000;
  const input: CardInput = {
    body,
    spec,
    person,
    footLengthMm: lengthMm,
    cuffHeightMm: kind.shape.cuffHeightMm,
    words: wish.words ?? 'british',
    strands: strandsOfKind(kind)
      .filter(({ role }) => spec.metres.some((each) => each.role === role))
      .map(({ role, strand, yarn, yarnColourId }) => ({
        role,
        strand,
        yarnColourId,
        colour: names[yarnColourId - 1]!,
        yarn: yarn.name,
        fibre: yarn.fibre,
        hexes: ['#7a5f8f'],
        tex: yarn.tex,
        ballMg: yarn.ballMg,
        mg: Math.round(gramsOf(role, strand, yarn.tex) * 1000),
      })),
    unitSystem: 'metric',
    needlesMm: Object.fromEntries(spec.pieces.map((piece) => [piece.name, needleMm])),
  };
  return { input, spec, working, kind };
}
