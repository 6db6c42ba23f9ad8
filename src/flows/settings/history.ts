import { readSettings } from '#core/shared/settings.ts';
import type { Workshop } from '#db/open.ts';
import type { WorkshopRows } from '#db/stores/read-workshop.ts';
import { type ChangeRow, listLastChanges } from '#db/stores/workshop.ts';
import { changeWords, countWords } from '#flows/settings/history-words.ts';

/** One thing that was done, with what it changed. */
export type HistoryEntry = {
  readonly atMs: number;
  readonly who: string | null;
  /** "Added an order". */
  readonly action: string;
  /** "1 batch and 2 pairs"; empty where one change says it all. */
  readonly counts: string;
  readonly changes: readonly string[];
};

const pastOf: Readonly<Record<string, string>> = {
  add: 'Added',
  cancel: 'Cancelled',
  change: 'Changed',
  clear: 'Cleared',
  count: 'Counted',
  enter: 'Entered',
  finish: 'Finished',
  give: 'Gave',
  hand: 'Handed',
  import: 'Imported',
  keep: 'Kept',
  note: 'Noted',
  order: 'Ordered',
  place: 'Placed',
  put: 'Put',
  remove: 'Removed',
  repeat: 'Repeated',
  save: 'Saved',
  start: 'Started',
  take: 'Took',
  tick: 'Ticked',
  undo: 'Undid',
  weigh: 'Weighed',
  wind: 'Wound',
};

const actionsInFull: Readonly<Record<string, string>> = {
  'batch: come back': 'A pair came back',
  'batch: finish': 'Finished a pair',
  'batch: go on': 'Went on with a pair',
  'batch: good': 'A pair is no second after all',
  'batch: leave': 'A pair left',
  'batch: let go': 'A pair went to stock',
  'batch: piece': 'Got on with a piece',
  'batch: rip out': 'Ripped out a pair',
  'batch: second': 'A pair is a second',
  'begin: a market of the sample season': 'Added a market to the sample season',
  'begin: mark the sample season': 'Marked this as the sample season',
  'begin: our own workshop': 'Began our own workshop',
  'begin: the sample season': 'Opened the sample season',
  'buying: a basket is here': 'Yarn came home',
  'cards: rows done': 'Counted rows',
  'fair: book what is missing': 'Booked what was missing from a table',
  'fair: choose what is taken along': 'Chose what comes along to a table',
  'fair: say what a sold pair brought': 'Noted what a sold pair brought',
  'fair: say which pair was sold': 'Noted which pair was sold',
  'fair: say why no pair belongs to a sale': 'Noted why no pair belongs to a sale',
  'fair: type in a day': 'Typed in a day at a table',
  'orders: put in the post': 'Put an order in the post',
  'orders: take a cancel back': 'Took a cancellation back',
  'pricing: change the price of a group': 'Changed a price for several sizes',
  'pricing: one price for a group of sizes': 'Set one price for several sizes',
  'pricing: take the price of a group away': 'Took a price for several sizes away',
  'shelf: pairs give yarn back': 'Pairs gave yarn back',
  'shelf: stocktake': 'Took stock of the shelf',
  'shelf: unlabelled wool': 'Put unlabelled wool on the shelf',
  'styles: add those that ship': 'Added the styles of the program',
};

function actionOf(flow: string): string {
  const words = actionsInFull[flow] ?? flow.replace(/^[^:]*: ?/, '');
  const [first = '', ...rest] = words.split(' ');
  return [pastOf[first] ?? first.charAt(0).toUpperCase() + first.slice(1), ...rest].join(' ');
}

/** A movement is told by what it did to its ball, an event by its pair. */
const silent = new Set(['ball_moves', 'pair_events', 'answers']);

/** Parts of something else, which are told only where nothing but them was changed. */
const parts = new Set([
  'batch_lines',
  'fair_pairs',
  'line_colours',
  'pair_colours',
  'pair_pieces',
  'purchase_lines',
  'reservations',
  'sales',
  'style_versions',
]);

/** The changes of one write worth telling: what was added and then filled in is one of them. */
function worthTelling(changes: readonly ChangeRow[]): ChangeRow[] {
  const told: ChangeRow[] = [];
  for (const change of changes) {
    if (silent.has(change.table)) continue;
    const begun = told.findIndex((each) => {
      return each.table === change.table && each.row === change.row && each.beforeJson === null;
    });
    if (begun >= 0 && change.afterJson !== null) told[begun] = { ...told[begun]!, afterJson: change.afterJson };
    else told.push(change);
  }
  const wholes = told.filter(({ table }) => !parts.has(table));
  return wholes.length > 0 ? wholes : told;
}

/** The last changes, newest first; what was saved together stands together. */
export async function readHistory(
  workshop: Workshop,
  rows: WorkshopRows,
  most = 2000,
): Promise<readonly HistoryEntry[]> {
  const changes = await workshop.store.read(async (db) => await listLastChanges(db, most));
  const shown = { ...readSettings(rows.settings), rows };
  const writes: ChangeRow[][] = [];
  for (const change of changes) {
    const last = writes.at(-1)?.[0];
    if (last && last.atMs === change.atMs && last.flow === change.flow) writes.at(-1)!.unshift(change);
    else writes.push([change]);
  }
  // The oldest write may have been read in part.
  if (changes.length === most && writes.length > 1) writes.pop();
  return writes.map((write) => {
    const { atMs, who, flow } = write[0]!;
    const told = worthTelling(write);
    return {
      atMs,
      who,
      action: actionOf(flow),
      counts: told.length > 1 ? countWords(told) : '',
      changes: told.map((change) => changeWords(change, shown)),
    };
  });
}
