import type { Shape } from '#core/batch/lines.ts';
import type { Hand, Yarn } from '#core/gauge/hand.ts';
import type { Problem } from '#core/shared/problem.ts';
import type { Foot, Person } from '#core/sizing/foot.ts';
import { footFrom } from '#core/sizing/girths.ts';
import { fabrics } from '#core/styles/fabrics.ts';
import { StyleFault } from '#core/styles/fault.ts';
import type { EdgeName, Factor, Mark, Section, StitchRule, StyleBody } from '#core/styles/style.ts';
import { workOut } from '#core/styles/work-out.ts';
import type { WorkedPiece } from '#core/styles/work-piece.ts';

type Say = (path: string, message: string) => void;

const bodyMeasures = ['footLength', 'ballGirth', 'heelAnkleGirth', 'cuffHeight'];
const mostNames = 60;

function sayUnknownFactor(body: StyleBody, factor: Factor, path: string, say: Say): void {
  if (typeof factor === 'string' && !Object.hasOwn(body.settings, factor))
    say(path, `There is no setting called ${factor}.`);
}

/** Edges and lists of names are put together with dots and commas. */
const goodName = /^\p{L}[\p{L}\p{N} '’()-]*$/u;

function sayFaultyName(name: string, path: string, say: Say): void {
  if (name.trim() === '') say(path, 'Give everything here a name.');
  else if (!goodName.test(name)) {
    say(path, `“${name}” cannot be a name here: begin with a letter, go on with letters, digits, blanks and hyphens.`);
  }
}

function sayDoubles(names: readonly string[], path: string, what: string, say: Say): void {
  const double = names.find((name, index) => names.indexOf(name) !== index);
  if (double !== undefined) say(path, `Two ${what} are called ${double}: give each its own name.`);
  for (const name of names) sayFaultyName(name, path, say);
  if (names.length > mostNames) say(path, `There are more than ${mostNames} ${what}.`);
}

function checkStitches(body: StyleBody, rule: StitchRule, path: string, say: Say): void {
  if ((rule.across === undefined) === (rule.alongEdge === undefined)) {
    say(path, 'Stitches go either across a length or along edges: say one of the two.');
  }
  if (rule.across !== undefined && !Object.hasOwn(body.lengths, rule.across)) {
    say(path, `There is no length called ${rule.across}.`);
  }
  if (!fabrics.some((fabric) => fabric.name === rule.fabric)) say(path, `There is no fabric called ${rule.fabric}.`);
  if (!Number.isInteger(rule.repeat) || rule.repeat < 1) say(path, 'The repeat is a whole number from 1, like 4.');
  if (!Number.isInteger(rule.plus) || rule.plus < 0) say(path, 'Stitches beside the repeat are a whole number from 0.');
  if (!Number.isInteger(rule.least) || rule.least < 1) say(path, 'The least number of stitches is whole, from 1.');
  if (![0, 1, 2].includes(rule.edges)) say(path, 'A piece has 0, 1 or 2 edges taken into a seam.');
  if (rule.raiseUntil !== undefined && !body.checks.some((check) => check.name === rule.raiseUntil)) {
    say(path, `There is no check called ${rule.raiseUntil}.`);
  }
}

function checkSection(body: StyleBody, section: Section, path: string, say: Say): void {
  if (!body.roles.some((role) => role.name === section.colour))
    say(path, `There is no colour called ${section.colour}.`);
  if (section.do === 'castOn' || section.do === 'pickUp') checkStitches(body, section.stitches, path, say);
  if (section.do === 'work' && section.stripes !== undefined) {
    const { colour, rows } = section.stripes;
    if (!body.roles.some((role) => role.name === colour)) say(path, `There is no colour called ${colour}.`);
    if (colour === section.colour) say(path, 'Stripes want a second colour.');
    if (!Number.isInteger(rows) || rows < 1) say(path, 'A stripe has a whole number of rows from 1.');
  }
  if (section.do === 'work') {
    if (!fabrics.some((fabric) => fabric.name === section.fabric))
      say(path, `There is no fabric called ${section.fabric}.`);
    if ('along' in section.rows) {
      if (!Object.hasOwn(body.lengths, section.rows.along))
        say(path, `There is no length called ${section.rows.along}.`);
    } else {
      sayUnknownFactor(body, section.rows.count, path, say);
      const { count } = section.rows;
      const rows = typeof count === 'number' ? count : body.settings[count];
      if (rows !== undefined && (!Number.isInteger(rows) || rows < 0))
        say(path, 'Enter a whole number of rows from 0.');
    }
  }
  if (section.do === 'change') {
    if (section.how === 'two together across') {
      sayUnknownFactor(body, section.repeatWhileAbove, path, say);
      if (![0, 1, 2, 3, 4].includes(section.plainRowsBetween)) say(path, 'Enter 0 to 4 plain rows between.');
    } else {
      checkStitches(body, section.to, path, say);
      if (section.how !== 'evenly' && (!Number.isInteger(section.by) || section.by < 1)) {
        say(path, 'Enter how many stitches go each time, a whole number from 1.');
      }
      if (section.how !== 'evenly' && (!Number.isInteger(section.everyRows) || section.everyRows < 1)) {
        say(path, 'Enter how many rows lie from one to the next, a whole number from 1.');
      }
    }
  }
}

/** The edges that pieces and marks make. */
function edgesOf(body: StyleBody): Set<EdgeName> {
  const edges = new Set<EdgeName>();
  for (const { name } of body.pieces) {
    for (const edge of ['start', 'end', 'left', 'right']) edges.add(`${name}.${edge}`);
  }
  for (const mark of body.marks) {
    for (const edge of mark.edges) {
      edges.add(`${edge}.${mark.name}`);
      edges.add(`${edge}.rest`);
    }
  }
  return edges;
}

function sayUnknownEdges(names: readonly EdgeName[], edges: ReadonlySet<EdgeName>, path: string, say: Say): void {
  const lost = names.find((name) => !edges.has(name));
  if (lost !== undefined) say(path, `There is no edge called ${lost}. There is ${[...edges].slice(0, 12).join(', ')}.`);
}

/** A mark splits the sides of one piece, each once. */
function sayFaultyMark(mark: Mark, marks: readonly Mark[], path: string, say: Say): void {
  const isSide = mark.edges.length > 0 && mark.edges.every((edge) => /^[^.]+\.(left|right)$/.test(edge));
  const pieces = new Set(mark.edges.map((edge) => edge.split('.')[0]));
  if (!isSide || pieces.size > 1) say(path, 'A mark stands on the sides of one piece, like foot.left and foot.right.');
  if (mark.name === 'rest') say(path, 'What lies beyond a mark is called rest: give the mark another name.');
  const others = marks.filter((each) => each !== mark).flatMap((each) => each.edges);
  const twice = mark.edges.find((edge) => others.includes(edge));
  if (twice !== undefined) say(path, `${twice} has a mark already: an edge is split once.`);
}

/** Names that point at something: settings, lengths, fabrics, colours, checks, edges. */
function checkNames(body: StyleBody, say: Say): void {
  if (body.style.trim() === '') say('style', 'Give the style a name.');
  if (body.make !== 2) say('make', 'A pair is two slippers: make two of each piece.');
  if (body.roles.length === 0) say('roles', 'A style has at least one colour.');
  if (body.pieces.length === 0) say('pieces', 'A style has at least one piece.');
  if (body.pieces[0]?.isOptional) say(`pieces.${body.pieces[0].name}`, 'The first piece cannot be left out.');
  sayDoubles(
    body.roles.map((role) => role.name),
    'roles',
    'colours',
    say,
  );
  sayDoubles(
    body.pieces.map((piece) => piece.name),
    'pieces',
    'pieces',
    say,
  );
  sayDoubles(
    body.marks.map((mark) => mark.name),
    'marks',
    'marks',
    say,
  );
  sayDoubles(
    body.joins.map((join) => join.name),
    'joins',
    'seams',
    say,
  );
  sayDoubles(
    body.checks.map((check) => check.name),
    'checks',
    'checks',
    say,
  );
  for (const [name, value] of Object.entries({ ...body.settings, ...body.settingsForChild })) {
    sayFaultyName(name, `settings.${name}`, say);
    if (!Number.isFinite(value)) say(`settings.${name}`, 'Enter a number.');
    if (!Object.hasOwn(body.settings, name))
      say(`settings.${name}`, 'A setting for children needs one for adults too.');
  }
  for (const [name, length] of Object.entries(body.lengths)) {
    const path = `lengths.${name}`;
    sayFaultyName(name, path, say);
    if (length.sum.length === 0) say(path, 'A length is the sum of at least one thing.');
    for (const part of length.sum) {
      if ('mm' in part) sayUnknownFactor(body, part.mm, path, say);
      else {
        sayUnknownFactor(body, part.times, path, say);
        if (!bodyMeasures.includes(part.of)) say(path, `There is no body measure called ${part.of}.`);
      }
    }
  }
  const edges = edgesOf(body);
  for (const piece of body.pieces) {
    sayDoubles(
      piece.sections.map((section) => section.name),
      `pieces.${piece.name}`,
      'steps',
      say,
    );
    if (!body.roles.some((role) => role.name === piece.gaugeOf)) {
      say(`pieces.${piece.name}`, `There is no colour called ${piece.gaugeOf} to take the gauge from.`);
    }
    const last = piece.sections.at(-1);
    if (last?.do !== 'drawUp' && last?.do !== 'bindOff') {
      say(`pieces.${piece.name}`, 'A piece ends drawn up or bound off.');
    }
    piece.sections.forEach((section, index) => {
      const path = `pieces.${piece.name}.${section.name}`;
      const isBeginning = section.do === 'castOn' || section.do === 'pickUp';
      if (isBeginning !== (index === 0)) {
        say(
          path,
          index === 0
            ? 'A piece begins with stitches cast on or picked up.'
            : 'Stitches are cast on once, at the beginning.',
        );
      }
      if ((section.do === 'drawUp' || section.do === 'bindOff') && index < piece.sections.length - 1) {
        say(path, 'Nothing can follow once the stitches are drawn up or bound off.');
      }
      checkSection(body, section, path, say);
    });
  }
  for (const mark of body.marks) {
    const path = `marks.${mark.name}`;
    sayUnknownEdges(mark.edges, edges, path, say);
    sayFaultyMark(mark, body.marks, path, say);
    if (typeof mark.to !== 'object') sayUnknownFactor(body, mark.to, path, say);
    else if ('oneLess' in mark.to) sayUnknownFactor(body, mark.to.oneLess, path, say);
  }
  for (const join of body.joins) {
    const path = `joins.${join.name}`;
    if ((join.fold === undefined) === (join.edges === undefined))
      say(path, 'A seam folds one edge or joins two sides.');
    sayUnknownEdges(join.fold === undefined ? (join.edges ?? []).flat() : [join.fold], edges, path, say);
    if (!body.roles.some((role) => role.name === join.colour)) say(path, `There is no colour called ${join.colour}.`);
    if (join.takes !== null && (join.takes < 0 || join.takes > 2))
      say(path, 'A seam takes 0 to 2 stitches of each edge.');
  }
  for (const check of body.checks) {
    const path = `checks.${check.name}`;
    sayUnknownEdges('ratio' in check ? check.ratio.flat() : check.edge, edges, path, say);
    if ('ratio' in check && check.between[0] > check.between[1]) say(path, 'The smaller ratio comes first.');
    if ('stretch' in check && (check.stretch < 1 || check.stretch > 4)) say(path, 'An edge stretches 1 to 4 times.');
  }
}

/** Feet and gauges that every style must serve, from a small child's to a large man's. */
const trialFeet: readonly { readonly person: Person; readonly lengthMm: number }[] = [
  { person: 'child', lengthMm: 90 },
  { person: 'child', lengthMm: 150 },
  { person: 'child', lengthMm: 210 },
  { person: 'woman', lengthMm: 220 },
  { person: 'woman', lengthMm: 260 },
  { person: 'man', lengthMm: 265 },
  { person: 'man', lengthMm: 320 },
];
const trialGauges: readonly { readonly stitches: number; readonly tex: number }[] = [
  { stitches: 9, tex: 1800 },
  { stitches: 13, tex: 1000 },
  { stitches: 18, tex: 500 },
  { stitches: 24, tex: 350 },
  { stitches: 30, tex: 250 },
];

function trialShape(body: StyleBody, foot: (typeof trialFeet)[number], tex: number, hasCuff: boolean): Shape {
  const yarn: Yarn = {
    id: 1,
    name: 'trial',
    fibre: null,
    tex,
    ballMg: 100_000,
    category: 4,
    usualStitches: null,
    needleMm: null,
  };
  return {
    key: 'trial',
    style: { versionId: 0, name: body.style, body },
    foot: footFrom(foot),
    right: null,
    fit: 'usual',
    yarns: Object.fromEntries(body.roles.map((role) => [role.name, [yarn]])),
    cuffHeightMm: hasCuff ? Math.round(foot.lengthMm * 0.2) : 0,
    isOneColour: true,
  };
}

/** A step whose length has fewer rows than are named as there already would have to be worked backwards. */
function sayNegativeRows(piece: WorkedPiece, where: string, say: Say): void {
  for (const [name, figure] of Object.entries(piece.rowFigures)) {
    const [length, perCm, already] = figure.inputs;
    const rows = ((length?.value ?? 0) * (perCm?.value ?? 0)) / 100 - (already?.value ?? 0);
    if (rows >= 0) continue;
    const path = `pieces.${piece.piece.name}.${name}`;
    say(
      path,
      `There are more rows named than the length has (${Math.round(rows)} rows left ${where}): make it longer.`,
    );
  }
}

/** What the seams take must leave some of the piece. */
function sayNothingLeft(piece: WorkedPiece, where: string, say: Say): void {
  const least = Math.min(piece.castOn.value, piece.lastStitches);
  if (piece.width.value > 0 && least - piece.seamStitches.value > 0) return;
  say(`pieces.${piece.piece.name}`, `Its seams take all of its ${least} stitches ${where}: leave more of them.`);
}

/** A piece out of all proportion to the foot comes from a slip of the decimal point. Our own bounds. */
function sayOutOfProportion(piece: WorkedPiece, foot: Foot, where: string, say: Say): void {
  const path = `pieces.${piece.piece.name}`;
  const inCm = (mm: number) => Math.round(mm / 10);
  if (piece.width.value > 4 * foot.ballGirthMm) {
    say(path, `This piece would be ${inCm(piece.width.value)} cm wide ${where}: look at its numbers.`);
  }
  if (piece.length.value > 4 * foot.lengthMm) {
    say(path, `This piece would be ${inCm(piece.length.value)} cm long ${where}: look at its numbers.`);
  }
}

function tryKnitting(body: StyleBody, say: Say): void {
  for (const foot of trialFeet) {
    for (const { stitches, tex } of trialGauges) {
      for (const hasCuff of [true, false]) {
        const where = `for a ${foot.person}'s foot of ${foot.lengthMm / 10} cm at ${stitches} stitches in 10 cm`;
        const hand: Hand = {
          key: 'trial',
          tightness: 'usual',
          gauges: [
            {
              yarnsKey: '1',
              fabric: 'stocking',
              stitchesPer10Cm: stitches,
              rowsPer10Cm: (stitches * 4) / 3,
              source: 'typed',
              isWashed: true,
              loopCm: null,
              loopRelativeSd: null,
              needleMm: null,
            },
          ],
        };
        try {
          const worked = workOut(trialShape(body, foot, tex, hasCuff), hand);
          for (const piece of worked.pieces) {
            sayNegativeRows(piece, where, say);
            sayNothingLeft(piece, where, say);
            sayOutOfProportion(piece, worked.shape.foot, where, say);
          }
        } catch (error) {
          if (error instanceof StyleFault) say(error.path, `${error.message} This happens ${where}.`);
          else if (error instanceof RangeError) say('style', `This cannot be knitted ${where}.`);
          else throw error;
        }
      }
    }
  }
}

/**
 * What is wrong with a style: names that point at nothing, steps in the wrong order, and what shows when it is knitted in
 * numbers for feet from a small child's to a large man's at 9 to 30 stitches in 10 cm.
 *
 * @param body a style body of the right shape, as `readStyle` gives it
 * @returns one problem a place, each a sentence; empty when the style can be knitted everywhere. Paths name the place:
 * `pieces.foot.toe`, `lengths.width`, `joins.heel`
 */
export function checkStyle(body: StyleBody): Problem[] {
  const problems = new Map<string, Problem>();
  const say: Say = (path, message) => {
    if (!problems.has(path)) problems.set(path, { code: 'style', path, message });
  };
  checkNames(body, say);
  // Knitting a style whose names are wrong would only repeat what was said.
  if (problems.size === 0) tryKnitting(body, say);
  return [...problems.values()];
}
