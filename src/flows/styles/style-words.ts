import { formatNumber, formatPercent } from '#core/shared/format.ts';
import type {
  BodyMeasure,
  Check,
  EdgeName,
  Factor,
  Join,
  LengthRule,
  Mark,
  Piece,
  Section,
  StitchRule,
  StyleBody,
} from '#core/styles/style.ts';
import { settingHelp } from '#flows/sizing/style-settings.ts';

/** A style in plain words: what it is reckoned from, not what it comes to. */
export type StyleWords = {
  readonly colours: string;
  readonly lengths: readonly { readonly name: string; readonly words: string }[];
  readonly pieces: readonly { readonly name: string; readonly note: string; readonly steps: readonly string[] }[];
  readonly marks: readonly string[];
  readonly seams: readonly string[];
  readonly checks: readonly string[];
};

export const measureWords: Readonly<Record<BodyMeasure, string>> = {
  footLength: 'length of the foot',
  ballGirth: 'girth of the ball of the foot',
  heelAnkleGirth: 'girth around heel and ankle',
  cuffHeight: 'height of the cuff',
};

export const fabricNames: Readonly<Record<string, string>> = {
  stocking: 'stocking stitch',
  garter: 'garter stitch',
  'rib 2x2': 'rib (knit 2, purl 2)',
  'rib 1x1': 'rib (knit 1, purl 1)',
};

const plain = (value: number) => formatNumber(value, Number.isInteger(value) ? 0 : 3).replace(/(\.\d*?)0+$/, '$1');

function inARow(words: readonly string[]): string {
  return words.length < 2 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}

/** `cuffTall` as it is said: "cuff tall". */
const spoken = (name: string) => name.replace(/([a-z])([A-Z])/g, '$1 $2').toLowerCase();

const lowerFirst = (words: string) => words.charAt(0).toLowerCase() + words.slice(1);

/** A number, and what the setting that it stands in is called: "0.93 (ease around the foot, thick yarn)". */
function factorWords(factor: Factor, body: StyleBody, show: (value: number) => string = plain): string {
  if (typeof factor === 'number') return show(factor);
  const value = body.settings[factor];
  const words = lowerFirst(settingHelp(factor)?.words ?? spoken(factor));
  return value === undefined ? words : `${show(value)} (${words})`;
}

const rowsOf = (value: number) => `${plain(value)} ${value === 1 ? 'row' : 'rows'}`;

const sideWords: Readonly<Record<string, string>> = {
  start: 'the first edge',
  end: 'the last edge',
  left: 'the left side',
  right: 'the right side',
};

/** An edge in words: `foot.left.open` is "the left side of the foot up to the mark open". */
export function edgeWords(edge: EdgeName): string {
  const [piece = '', side = '', part] = edge.split('.');
  const whole = `${sideWords[side] ?? side} of the ${piece}`;
  if (part === undefined) return whole;
  return part === 'rest' ? `${whole} beyond the mark` : `${whole} up to the mark “${part}”`;
}

function edgesWords(edges: readonly EdgeName[]): string {
  const [left = '', right = ''] = edges;
  const isBothSides = edges.length === 2 && left.includes('.left') && left.replace('.left', '.right') === right;
  return isBothSides ? edgeWords(left).replace('the left side', 'both sides') : inARow(edges.map(edgeWords));
}

function lengthWords({ sum }: LengthRule, body: StyleBody): string {
  return sum
    .map((part) => {
      if ('mm' in part) return factorWords(part.mm, body, (mm) => `${plain(mm)} mm`);
      const measure = measureWords[part.of];
      return part.times === 1 ? measure : `${measure} × ${factorWords(part.times, body)}`;
    })
    .join(' + ');
}

function stitchWords(rule: StitchRule): string {
  const target = rule.across === undefined ? edgesWords(rule.alongEdge ?? []) : `the length “${spoken(rule.across)}”`;
  const repeat =
    rule.repeat === 1 && rule.plus === 0
      ? ''
      : `, a multiple of ${rule.repeat}${rule.plus ? ` plus ${rule.plus}` : ''}`;
  const until = rule.raiseUntil === undefined ? '' : `, more until “${rule.raiseUntil}” holds`;
  const takes = rule.across === undefined && (rule.alongEdge ?? []).length > 1 ? 'take' : 'takes';
  return `as many stitches as ${target} ${takes}${repeat}, at least ${rule.least}${until}`;
}

function sectionWords(section: Section, body: StyleBody): string {
  const colour = `in the ${(body.roles.find((role) => role.name === section.colour)?.words ?? section.colour).toLowerCase()} colour`;
  switch (section.do) {
    case 'castOn':
      return `Cast on ${colour}: ${stitchWords(section.stitches)}. The next row is a ${section.next.replace(' ', '-')} row.`;
    case 'pickUp':
      return `Pick up ${colour}: ${stitchWords(section.stitches)}. The next row is a ${section.next.replace(' ', '-')} row.`;
    case 'work': {
      const fabric = fabricNames[section.fabric] ?? section.fabric;
      const stripes = section.stripes
        ? ` By turns ${section.stripes.rows} rows in this colour and ${section.stripes.rows} in the ${section.stripes.colour} colour.`
        : '';
      const first = `${section.firstRow === 'plain' ? ' The first row is plain.' : ''}${stripes}`;
      const { rows } = section;
      if ('count' in rows) return `Work ${factorWords(rows.count, body, rowsOf)} of ${fabric} ${colour}.${first}`;
      const less =
        rows.lessRows.length > 0 ? `, less the rows of ${inARow(rows.lessRows.map((name) => `“${name}”`))}` : '';
      return `Work ${fabric} ${colour} over the length “${spoken(rows.along)}”${less}; the last is a ${rows.endAfter.replace(' ', '-')} row, and there are at least ${rows.least}.${first}`;
    }
    case 'change':
      if (section.how === 'two together across') {
        return `Knit two together all across ${colour}; while more than ${factorWords(section.repeatWhileAbove, body, (count) => `${plain(count)} stitches`)} are left, work ${rowsOf(section.plainRowsBetween)} plain between and do it again.`;
      }
      if (section.how === 'evenly')
        return `In one row ${colour}, increase or decrease evenly to ${stitchWords(section.to)}.`;
      return `Decrease ${section.by} ${section.how === 'centre' ? 'in the middle' : 'at the edges'} every ${section.everyRows} rows ${colour}, down to ${stitchWords(section.to)}.`;
    case 'drawUp':
      return 'Draw the yarn through the stitches that are left and pull tight.';
    case 'bindOff':
      return `Bind off ${section.loose ? 'loosely ' : ''}${colour}.`;
  }
}

function pieceWords(piece: Piece, body: StyleBody) {
  return {
    name: piece.name,
    note: piece.isOptional ? 'May be left out.' : '',
    steps: piece.sections.map((section) => sectionWords(section, body)),
  };
}

function markWords(mark: Mark, body: StyleBody): string {
  const { to } = mark;
  const place =
    typeof to !== 'object'
      ? `after ${factorWords(to, body, formatPercent)} of the rows`
      : 'after' in to
        ? `at the end of “${to.after}”`
        : `where the last ${factorWords(to.oneLess, body, formatPercent)} of the rows begin`;
  const until = mark.raiseUntil === undefined ? '' : `; a row further until “${mark.raiseUntil}” holds`;
  return `“${mark.name}” on ${edgesWords(mark.edges)}: ${place}${until}.`;
}

function joinWords(join: Join): string {
  const what =
    join.fold === undefined
      ? `sew ${edgesWords(join.edges?.[0] ?? [])} to ${edgesWords(join.edges?.[1] ?? [])}`
      : `fold ${edgeWords(join.fold)} and sew it together`;
  const takes =
    join.takes === null
      ? 'taking in half a stitch an edge in thick yarn, one in fine'
      : `taking in ${plain(join.takes)} of a stitch`;
  const tail = join.withTail === undefined ? '' : `, with the ${join.withTail} end`;
  const place = join.place === undefined ? '' : `, ${join.place}`;
  return `“${join.name}”: ${what}${place}${tail}, ${takes}.`;
}

function checkWords(check: Check): string {
  if ('ratio' in check) {
    const [one, other] = check.ratio;
    const [from, to] = check.between;
    return `“${check.name}”: ${edgesWords(one)} over ${edgesWords(other)} is ${plain(from)} to ${plain(to)}. If not: ${check.otherwise}`;
  }
  return `“${check.name}”: ${edgesWords(check.edge)}, stretched ${plain(check.stretch)} times, passes the ${measureWords[check.over]}. If not: ${check.otherwise}`;
}

/** A style in plain words. */
export function styleWords(body: StyleBody): StyleWords {
  return {
    colours: inARow(body.roles.map((role) => role.words.toLowerCase())),
    lengths: Object.entries(body.lengths).map(([name, length]) => ({
      name: spoken(name),
      words: lengthWords(length, body),
    })),
    pieces: body.pieces.map((piece) => pieceWords(piece, body)),
    marks: body.marks.map((mark) => markWords(mark, body)),
    seams: body.joins.map(joinWords),
    checks: body.checks.map(checkWords),
  };
}
