import { kindFor } from '#core/batch/kinds.ts';
import type { Kind, Line } from '#core/batch/lines.ts';
import { lotsOnTheirWay } from '#core/buying/purchases.ts';
import { lotKeyOf, type ShelfLot, usableMg } from '#core/buying/shelf.ts';
import type { Yarn } from '#core/gauge/hand.ts';
import type { PlanInput } from '#core/plan.ts';
import type { MaterialUse } from '#core/pricing/cost-pairs.ts';
import { mayMixLots, type Outlet } from '#core/pricing/outlet.ts';
import { overheadRate } from '#core/pricing/overhead.ts';
import type { Day } from '#core/shared/calendar.ts';
import { type Figure, given } from '#core/shared/figure.ts';
import type { Problem } from '#core/shared/problem.ts';
import type { Settings } from '#core/shared/settings.ts';
import { bandFigure } from '#core/sizing/bands.ts';
import type { Foot, Person } from '#core/sizing/foot.ts';
import { checkFoot, footFrom } from '#core/sizing/girths.ts';
import { sizeWords } from '#core/sizing/size-words.ts';
import { choiceOfStored, footLengthOfStored } from '#core/sizing/stored-size.ts';
import { readStyle } from '#core/styles/read-style.ts';
import type { Style } from '#core/styles/style.ts';
import type { OrderLineRow } from '#db/stores/orders.ts';
import type { WorkshopRows } from '#db/stores/read-workshop.ts';
import type { YarnRow } from '#db/stores/shelf.ts';
import { storedPairs } from '#flows/batch/started-pairs.ts';
import { purchasesOnTheirWay } from '#flows/buying/purchases-on-their-way.ts';
import { answersFrom, offersFrom, suppliersFrom } from '#flows/buying/terms-of.ts';
import { handsOf } from '#flows/knitters/hands.ts';

/** The foot of a line: in words for the page, and its length as a figure with its own working. */
export type LineFoot = {
  readonly words: string;
  readonly figure: Figure;
  readonly foot: Foot;
  /** The right foot where it differs. */
  readonly right: Foot | null;
};

/** A line that cannot be planned, and why; it is named, never dropped. */
export type LineProblem = { readonly lineId: number; readonly message: string };

/** Stored rows as the plan wants them. */
export type PlanSource = {
  readonly input: PlanInput;
  readonly kindOfLine: ReadonlyMap<number, Kind>;
  readonly footOfLine: ReadonlyMap<number, LineFoot>;
  readonly lineProblems: readonly LineProblem[];
};

/** A stored yarn as core knows it. */
export function yarnFrom(row: YarnRow): Yarn {
  return {
    id: row.id,
    name: row.name,
    fibre: row.fibre,
    tex: row.tex,
    ballMg: row.ballMg,
    category: row.category,
    usualStitches: row.usualStitchesPer10Cm,
    needleMm: row.needleMm,
  };
}

/** Current styles by style id, and any version by version id. */
export function stylesFrom(rows: Pick<WorkshopRows, 'styles' | 'styleVersions'>): {
  readonly current: ReadonlyMap<number, Style>;
  readonly version: ReadonlyMap<number, Style>;
} {
  const names = new Map(rows.styles.map((style) => [style.id, style.name]));
  const version = new Map<number, Style>();
  for (const row of rows.styleVersions) {
    const body = readStyle(row.bodyJson);
    if (body.ok)
      version.set(row.id, { versionId: row.id, name: names.get(row.styleId) ?? body.value.style, body: body.value });
  }
  const current = new Map<number, Style>();
  for (const style of rows.styles) {
    const found = style.currentVersionId === null ? undefined : version.get(style.currentVersionId);
    if (found) current.set(style.id, found);
  }
  return { current, version };
}

type FootMeasures = Parameters<typeof footFrom>[0];

type SizeOfLine = {
  readonly words: string;
  readonly figure: Figure;
  readonly input: FootMeasures;
  /** The right foot where it differs. */
  readonly right?: FootMeasures;
};

function measuredSize(line: OrderLineRow, rows: WorkshopRows): SizeOfLine | null {
  const row = rows.feet.find((each) => each.id === line.footId);
  if (!row) return null;
  const { person } = row;
  const left: FootMeasures = {
    person,
    lengthMm: row.leftLengthMm,
    ballGirthMm: row.leftBallGirthMm,
    heelAnkleGirthMm: row.leftHeelAnkleGirthMm,
  };
  const right: FootMeasures = {
    person,
    lengthMm: row.rightLengthMm,
    ballGirthMm: row.rightBallGirthMm,
    heelAnkleGirthMm: row.rightHeelAnkleGirthMm,
  };
  const words = sizeWords({ by: 'foot', person, lengthMm: left.lengthMm, rightLengthMm: right.lengthMm });
  const figure = given('foot length', left.lengthMm, 'mm', 'yours', 'measured');
  const size = { words: row.name ? `${row.name}, ${words}` : words, figure, input: left };
  const isAlike =
    left.lengthMm === right.lengthMm &&
    left.ballGirthMm === right.ballGirthMm &&
    left.heelAnkleGirthMm === right.heelAnkleGirthMm;
  return isAlike ? size : { ...size, right };
}

function sizeOfLine(line: OrderLineRow, rows: WorkshopRows, usWomenOffset: number): SizeOfLine | Problem {
  const lost: Problem = { code: 'size-lost', path: 'size', message: 'Its size is no longer here: choose one again.' };
  if (line.footId !== null) return measuredSize(line, rows) ?? lost;
  if (line.bandId !== null) {
    const band = rows.bands.find((each) => each.id === line.bandId);
    if (!band) return lost;
    const person: Person = band.person ?? 'unknown';
    const figure = bandFigure({ name: band.name, person, fromMm: band.fromMm, toMm: band.toMm });
    return {
      words: sizeWords({ by: 'band', person, name: band.name }),
      figure,
      input: { person, lengthMm: figure.value },
    };
  }
  if (line.person === null || line.sizeSystem === null || line.sizeLabel === null) return lost;
  const size = { person: line.person, system: line.sizeSystem, label: line.sizeLabel };
  const choice = choiceOfStored(size);
  const length = footLengthOfStored(size, usWomenOffset);
  if (choice === null || !length.ok) return length.ok ? lost : (length.problems[0] ?? lost);
  return {
    words: sizeWords(choice),
    figure: length.value,
    input: { person: line.person, lengthMm: length.value.value },
  };
}

function coloursOf(rows: WorkshopRows): ReadonlyMap<number, WorkshopRows['lineColours'][number][]> {
  const byLine = new Map<number, WorkshopRows['lineColours'][number][]>();
  for (const colour of rows.lineColours) {
    const list = byLine.get(colour.lineId);
    if (list) list.push(colour);
    else byLine.set(colour.lineId, [colour]);
  }
  for (const list of byLine.values()) list.sort((a, b) => a.strand - b.strand);
  return byLine;
}

/**
 * What the shelf can give: whole lots less what is reserved, ends left out, balls that are out with a knitter included;
 * then what is ordered and on its way.
 */
function shelfFrom(rows: WorkshopRows, settings: Settings, today: Day): ShelfLot[] {
  const here = rows.lots.map((lot) => {
    const balls = rows.balls.filter((ball) => ball.lotId === lot.id).map((ball) => ball.massMg);
    const reservedMg = rows.reservations
      .filter((reservation) => reservation.lotId === lot.id)
      .reduce((sum, reservation) => sum + reservation.massMg, 0);
    return {
      id: lot.id,
      yarnColourId: lot.yarnColourId,
      dyeLot: lot.dyeLot ?? '',
      lotKey: lotKeyOf(lot.dyeLot),
      freeMg: usableMg(balls, reservedMg, settings.leastPartBallG * 1000),
      paidCents: lot.paidCents,
      boughtMg: lot.boughtMg,
    };
  });
  return [...here, ...purchasesOnTheirWay(rows).flatMap(({ purchase }) => lotsOnTheirWay(purchase, today))];
}

function materialsFrom(rows: WorkshopRows): ReadonlyMap<number, readonly MaterialUse[]> {
  const materials = new Map(rows.materials.map((material) => [material.id, material]));
  const byVersion = new Map<number, MaterialUse[]>();
  for (const version of rows.styleVersions) {
    const uses = rows.styleMaterials
      .filter((use) => use.styleId === version.styleId)
      .flatMap((use) => {
        const material = materials.get(use.materialId);
        return material ? [{ name: material.name, eachCents: material.eachCents, perPair: use.perPair }] : [];
      });
    byVersion.set(version.id, uses);
  }
  return byVersion;
}

function outletsFrom(rows: WorkshopRows): Outlet[] {
  return [...rows.outlets].sort((a, b) => a.rank - b.rank || a.id - b.id);
}

/**
 * Turns stored rows into the plan's input: sizes into feet, colours into yarns by role, balls into lots. A line whose
 * size, style or colours cannot be read becomes a problem with a sentence; the others are planned.
 */
export function planInputFrom(rows: WorkshopRows, settings: Settings, today: Day): PlanSource {
  const styles = stylesFrom(rows);
  const yarns = new Map(rows.yarns.map((row) => [row.id, yarnFrom(row)]));
  const yarnOfColour = new Map(rows.yarnColours.map((colour) => [colour.id, yarns.get(colour.yarnId)]));
  const lineColours = coloursOf(rows);
  const orders = new Map(rows.orders.map((order) => [order.id, order]));
  const outletKind = new Map(rows.outlets.map((outlet) => [outlet.id, outlet.kind]));
  const outletRank = new Map(rows.outlets.map((outlet) => [outlet.id, outlet.rank]));
  const kindOfLine = new Map<number, Kind>();
  const footOfLine = new Map<number, LineFoot>();
  const lineProblems: LineProblem[] = [];
  const lines: Line[] = [];
  const feet = new Map<string, LineFoot | Problem>();
  const { started, stock, doneOfLine } = storedPairs(rows);
  const kinds = new Map<string, Kind>();

  for (const line of rows.lines) {
    const order = orders.get(line.orderId);
    if (!order) continue;
    const say = (message: string) => lineProblems.push({ lineId: line.id, message });
    const sizeKey = `${line.person}/${line.sizeSystem}/${line.sizeLabel}/${line.bandId}/${line.footId}`;
    let foot = feet.get(sizeKey);
    if (foot === undefined) {
      foot = lineFoot(line, rows, settings.usWomenOffset);
      feet.set(sizeKey, foot);
    }
    if ('message' in foot) {
      say(foot.message);
      continue;
    }
    footOfLine.set(line.id, foot);
    const style = styles.current.get(line.styleId);
    if (!style) {
      say('Its style cannot be read: open the style and save it again.');
      continue;
    }
    const colours = lineColours.get(line.id) ?? [];
    const kindKey = `${sizeKey}/${line.styleId}/${line.fit}/${line.cuffHeightMm}/${colours.map((each) => `${each.role}${each.yarnColourId}`).join('+')}`;
    let kind = kinds.get(kindKey);
    if (!kind) {
      const made = kindOfColours(style, foot, line, colours, yarnOfColour);
      if (typeof made === 'string') {
        say(made);
        continue;
      }
      kind = made;
      kinds.set(kindKey, kind);
    }
    kindOfLine.set(line.id, kind);
    if (order.state !== 'agreed') continue;
    // Pairs finished for the line, or gone out for it, need no making.
    const quantity = line.quantity - (doneOfLine.get(line.id) ?? 0);
    if (quantity <= 0) continue;
    lines.push({
      id: line.id,
      orderId: order.id,
      orderNumber: order.number,
      outletId: order.outletId,
      outletRank: outletRank.get(order.outletId) ?? 0,
      dueDay: order.dueDay ?? order.arriveByDay,
      quantity,
      kind,
      pinnedKnitterId: line.knitterId,
      ...(mayMixLots(outletKind.get(order.outletId) ?? null, settings) ? { mayMixLots: true } : {}),
    });
  }

  const { hands, knitters, referenceKnitterId } = handsOf(rows);
  return {
    kindOfLine,
    footOfLine,
    lineProblems,
    input: {
      today,
      lines,
      stock,
      started,
      hands,
      knitters,
      referenceKnitterId,
      shelf: shelfFrom(rows, settings, today),
      suppliers: suppliersFrom(rows),
      offers: offersFrom(rows),
      answers: answersFrom(rows),
      outlets: outletsFrom(rows),
      materials: materialsFrom(rows),
      settings: {
        wageCentsPerHour: settings.wageCentsPerHour,
        overheadCentsPerHour: overheadRate(settings.runningCostsCentsPerMonth, settings.plannedHoursPerMonth),
        confidence: settings.confidence,
        buyAt: settings.buyAt,
        oneSupplierPerColour: settings.oneSupplierPerColour,
        spareRatio: settings.spareRatio,
        knittingMinutesPerHour: settings.knittingMinutesPerHour,
        chargeOpenedBall: settings.chargeOpenedBall,
      },
    },
  };
}

function lineFoot(line: OrderLineRow, rows: WorkshopRows, usWomenOffset: number): LineFoot | Problem {
  const size = sizeOfLine(line, rows, usWomenOffset);
  if ('message' in size) return size;
  const problem = checkFoot(size.input)[0] ?? (size.right ? checkFoot(size.right)[0] : undefined);
  if (problem) return problem;
  const right = size.right ? footFrom(size.right) : null;
  return { words: size.words, figure: size.figure, foot: footFrom(size.input), right };
}

function kindOfColours(
  style: Style,
  foot: LineFoot,
  line: OrderLineRow,
  colours: readonly WorkshopRows['lineColours'][number][],
  yarnOfColour: ReadonlyMap<number, Yarn | undefined>,
): Kind | string {
  const byRole: Record<string, number[]> = {};
  const yarnsByRole: Record<string, Yarn[]> = {};
  for (const colour of colours) {
    const yarn = yarnOfColour.get(colour.yarnColourId);
    if (!yarn) return 'One of its colours is no longer here: choose another.';
    byRole[colour.role] = [...(byRole[colour.role] ?? []), colour.yarnColourId];
    yarnsByRole[colour.role] = [...(yarnsByRole[colour.role] ?? []), yarn];
  }
  const missing = style.body.roles.find((role) => !yarnsByRole[role.name]);
  if (missing) return `It has no colour for the ${missing.words.toLowerCase()}: choose one.`;
  return kindFor({
    style,
    foot: foot.foot,
    right: foot.right,
    fit: line.fit,
    yarns: yarnsByRole,
    colours: byRole,
    cuff: line.cuffHeightMm ?? 'short',
  });
}
