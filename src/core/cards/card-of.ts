import type {
  Card,
  CardColour,
  CardInput,
  CardPiece,
  CardSlipper,
  CardTotals,
  CardWeight,
  Silhouette,
} from '#core/cards/card.ts';
import { abbreviationsIn, capitalised, type Dialect, dialectOf, inARow } from '#core/cards/dialect.ts';
import { flatPlanOf } from '#core/cards/flat-plan.ts';
import { type PieceWords, pieceMarks, pieceSteps } from '#core/cards/piece-steps.ts';
import { gramsOfUses, rowsYarnOf, slippersOf } from '#core/cards/piece-yarn.ts';
import { type SewOn, type SlipperCounts, seamsOf, sewOnRatio } from '#core/cards/seams.ts';
import { cautionsOf, finishingSteps, type SewingInput, sewingInShort, sewingSteps } from '#core/cards/sewing.ts';
import { isCuffTurnedDown, silhouetteOf } from '#core/cards/silhouette.ts';
import { needleWords } from '#core/gauge/needle-words.ts';
import { mmOfGauge } from '#core/shared/measures.ts';
import { splitCents } from '#core/shared/money.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';
import { settingsFor } from '#core/styles/settings-of.ts';

/** A role's yarn as it is called in the steps: "Heather", "Marigold and Cream together". */
function roleName(input: CardInput, role: string): string {
  const own = input.strands.filter((strand) => strand.role === role);
  const names = [...new Set(own.map((strand) => strand.colour))];
  if (names.length > 1) return `${inARow(names, 'and')} together`;
  if (own.length > 1) return `${names[0]} (${own.length} strands together)`;
  return names[0] ?? role;
}

/** Roles with their colours; roles in one colour stand together. */
function coloursOf(input: CardInput): CardColour[] {
  const colours = new Map<string, CardColour>();
  for (const { name, words } of input.body.roles) {
    const own = input.strands.filter((strand) => strand.role === name);
    if (own.length === 0) continue;
    const key = own.map((strand) => strand.yarnColourId).join('+');
    const known = colours.get(key);
    colours.set(key, {
      roles: [...(known?.roles ?? []), name],
      words: known ? `${known.words} and ${words.toLowerCase()}` : words,
      name: roleName(input, name),
      yarn: inARow([...new Set(own.map((strand) => strand.yarn))], 'and'),
      hexes: [...new Set(own.flatMap((strand) => strand.hexes))].slice(0, 4),
    });
  }
  return [...colours.values()];
}

/**
 * Whole grams of each colour by piece: a colour's grams are rounded once, and its pieces add up to them.
 */
function weightsOf(input: CardInput): { readonly weights: CardWeight[]; readonly totals: CardTotals[] } {
  const uses = rowsYarnOf(input);
  const pieces = input.spec.pieces.map((piece) => piece.name);
  const weights: CardWeight[] = [];
  const totals: CardTotals[] = [];
  for (const yarnColourId of new Set(input.strands.map((strand) => strand.yarnColourId))) {
    const strands = input.strands.filter((strand) => strand.yarnColourId === yarnColourId);
    const colour = strands[0]!.colour;
    const grams = roundHalfUp(strands.reduce((sum, strand) => sum + strand.mg, 0) / 1000);
    const ofUses = gramsOfUses(input, uses, yarnColourId);
    const used = pieces.filter((piece) => ofUses.some((use) => use.piece === piece));
    if (used.length === 0) continue;
    totals.push({ yarnColourId, colour, grams });
    const shares = splitCents(
      grams,
      used.map((piece) => ofUses.filter((use) => use.piece === piece).reduce((sum, use) => sum + use.grams, 0)),
    );
    for (const [index, piece] of used.entries()) {
      weights.push({ piece, pieceWords: capitalised(piece), yarnColourId, colour, grams: shares[index]! });
    }
  }
  const order = (weight: CardWeight) => pieces.indexOf(weight.piece);
  weights.sort((a, b) => order(a) - order(b));
  return { weights, totals };
}

function needlesOf(input: CardInput): string[] {
  const byNeedle = new Map<number, string[]>();
  for (const { name } of input.spec.pieces) {
    const mm = input.needlesMm[name];
    if (mm !== undefined) byNeedle.set(mm, [...(byNeedle.get(mm) ?? []), name]);
  }
  if (byNeedle.size === 1) return [...byNeedle.keys()].map(needleWords);
  return [...byNeedle].map(([mm, names]) => `${inARow(names, 'and')}: ${needleWords(mm)}`);
}

/** One decimal at most, without a nought at its end. */
const oneDecimal = (value: number): string => String(roundHalfUp(value * 10) / 10);

function gaugeOf(input: CardInput, dialect: Dialect): Card['gauge'] {
  const main = input.spec.pieces[0]!;
  const isMetric = dialect.units === 'metric';
  const times = mmOfGauge[dialect.units] / 100;
  const over = isMetric ? `10 cm${dialect.words === 'american' ? ' (4 in)' : ''}` : '4 in';
  const counts = `${oneDecimal(main.stitchesPer10Cm * times)} sts and ${oneDecimal(main.rowsPer10Cm * times)} rows in ${over} of ${dialect.stocking}`;
  const isGuess = input.spec.isGaugeGuessed;
  return {
    name: capitalised(dialect.gauge),
    words: isGuess ? `${counts}: a guess, so measure the first foot.` : `${counts}, as you measured it.`,
    isGuess,
  };
}

/** Rows of the edge that something is sewn to or picked up from: those of its open part, whatever their fabric. */
function sewOnOf({ pieces, measures }: SlipperCounts): SewOn {
  const main = pieces[0]!;
  const upper = pieces.at(-1)!;
  const rowsPer10Cm =
    measures.markRows > 0 && measures.openingMm > 0 ? (measures.markRows * 200) / measures.openingMm : main.rowsPer10Cm;
  return sewOnRatio(upper.stitchesPer10Cm, rowsPer10Cm);
}

type Shared = {
  readonly input: CardInput;
  readonly dialect: Dialect;
  readonly isTurnedDown: boolean;
};

function slipperOf(slipper: SlipperCounts, foot: CardSlipper['foot'], { input, dialect }: Shared): CardSlipper {
  const { body } = input;
  const seams = seamsOf(slipper, body);
  const mark = body.marks[0];
  const isWithoutCuff = body.pieces.some((piece) => piece.isOptional) && slipper.pieces.length < body.pieces.length;
  const pieces = slipper.pieces.map((piece): CardPiece => {
    const isMarked = mark?.edges.some((edge) => edge.startsWith(`${piece.name}.`)) && slipper.measures.markRows > 0;
    const markRow = isMarked ? slipper.measures.markRows : null;
    const words: PieceWords = {
      input,
      dialect,
      seams,
      markRow,
      hasGarterEdges: isWithoutCuff && markRow !== null,
      nameOf: (role) => roleName(input, role),
      sewOn: sewOnOf(slipper),
    };
    const rules = body.pieces.find(({ name }) => name === piece.name);
    return {
      name: piece.name,
      title: capitalised(piece.name),
      castOnStitches: piece.castOnStitches,
      lastStitches: piece.lastStitches,
      rows: piece.totalRows,
      steps: pieceSteps(piece, words),
      marks: pieceMarks(piece, words),
      plan: flatPlanOf(piece, rules, markRow),
      markRow,
      endsDrawnUp: piece.sections.some((section) => section.do === 'drawUp'),
    };
  });
  const titles = { both: 'Make two alike', left: 'Left slipper', right: 'Right slipper' };
  return { foot, title: titles[foot], pieces };
}

type Measure = Omit<Card['measures'][number], 'foot'>;

/** What the finished slipper measures: a tape finds other things on a boot than on a slipper. */
function measuresOf(kind: Silhouette['kind'], { measures, pieces }: SlipperCounts): Measure[] {
  const main = pieces[0]!;
  if (kind === 'boot') return [{ name: 'along the sole', mm: main.widthMm / 2 }];
  const around = { name: 'around the foot', mm: measures.widthMm };
  if (kind === 'tube') return [{ name: 'long, lying flat', mm: measures.heelToToeMm }, around];
  return [{ name: 'heel to toe, lying flat', mm: measures.heelToToeMm }, around];
}

function sewingInputOf(slipper: SlipperCounts, { input, dialect, isTurnedDown }: Shared): SewingInput {
  return {
    input,
    slipper,
    seams: seamsOf(slipper, input.body),
    dialect,
    sewOn: sewOnOf(slipper),
    isTurnedDown,
    nameOf: (role) => roleName(input, role),
  };
}

/**
 * The knitting card of a pair: what to weigh out, needles, gauge, every step in words, rows to tick, seams, finishing.
 *
 * @param input counts in the knitter's hand, the style, colours with the grams to weigh out, and British or American words
 * @returns a description that paper and phone show alike; grams by piece add up to each colour's grams, rows of a piece's
 * steps to its rows
 */
export function cardOf(input: CardInput): Card {
  const dialect = dialectOf(input.words, input.unitSystem);
  const slippers = slippersOf(input);
  const isTurnedDown = isCuffTurnedDown(input.cuffHeightMm, input.footLengthMm, settingsFor(input.body, input.person));
  const shared: Shared = {
    input,
    dialect,
    isTurnedDown,
  };
  const feet = slippers.length === 1 ? (['both'] as const) : (['left', 'right'] as const);
  const made = slippers.map((slipper, index) => slipperOf(slipper, feet[index]!, shared));
  const sewingInput = sewingInputOf(slippers[0]!, shared);
  const sewing = sewingSteps(sewingInput);
  const finishing = finishingSteps(shared);
  const texts = [
    ...made.flatMap((slipper) => slipper.pieces.flatMap((piece) => piece.steps.map((step) => step.words))),
    ...[...sewing, ...finishing].map((step) => step.words),
  ];
  const silhouette = silhouetteOf(slippers[0]!, input.body, isTurnedDown);
  const gauge = gaugeOf(input, dialect);
  return {
    words: input.words,
    title: input.body.style,
    colours: coloursOf(input),
    ...weightsOf(input),
    needles: needlesOf(input),
    gauge,
    slippers: made,
    sewing,
    sewingShort: sewingInShort(sewingInput),
    finishing,
    cautions: cautionsOf(input),
    abbreviations: abbreviationsIn([...texts, gauge.words]),
    measures: slippers.flatMap((slipper, index) =>
      measuresOf(silhouette.kind, slipper).map((measure) => ({ foot: feet[index]!, ...measure })),
    ),
    silhouette,
  };
}
