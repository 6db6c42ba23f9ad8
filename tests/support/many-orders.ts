import { addDays, type Day } from '#core/shared/calendar.ts';
import type { WorkshopRows } from '#db/stores/read-workshop.ts';

/** One line of the table, as the test knows it. */
export type TableLine = { readonly reference: string; readonly due: Day; readonly pairs: number };

/** A table of orders and what stands in it. */
export type OrderTable = { readonly text: string; readonly lines: readonly TableLine[] };

const sizes = { woman: [36, 37, 38, 39, 40, 41], man: [41, 42, 43, 44, 45], child: [26, 28, 30, 32] } as const;
const people = ['woman', 'woman', 'woman', 'man', 'man', 'child'] as const;
const firstNames = ['Ada', 'Bea', 'Dora', 'Egon', 'Fia', 'Gus', 'Ivo', 'Jette', 'Kaj', 'Lina', 'Nora', 'Olin'];
const lastNames = ['Alder', 'Birch', 'Dale', 'Fern', 'Glen', 'Heath', 'Knoll', 'Moor', 'Pine', 'Rowan', 'Sedge'];
const cuffs = ['short', 'short', 'turned down', 'none'];

/** Some of a list, always the same: a linear congruence, whose high bits are even enough for this. */
function chooser() {
  let state = 12_345;
  return <T>(list: readonly T[]): T => {
    state = (state * 1_103_515_245 + 12_345) % 2_147_483_648;
    return list[Math.floor((state / 2_147_483_648) * list.length)]!;
  };
}

/**
 * A table of so many lines in the sample season's own outlets and colours, two in three lines an order of their own, due
 * over ten months.
 */
export function manyOrders({ outlets, yarns, yarnColours }: WorkshopRows, count: number, today: Day): OrderTable {
  const choose = chooser();
  const yarn = yarns.find((each) => each.usualStrands === 1)!;
  const colours = yarnColours.filter((each) => each.yarnId === yarn.id).map(({ name }) => name);
  const open = outlets.filter((outlet) => !outlet.isClosed).map(({ name }) => name);
  const days = Array.from({ length: 300 }, (_, index) => addDays(today, index + 1));
  const rows = ['customer,reference,outlet,due,person,size,yarn,foot colour,cuff colour,cuff,quantity'];
  const lines: TableLine[] = [];
  let order = 0;
  let head = '';
  let due = today;
  for (let index = 0; index < count; index += 1) {
    if (index % 3 !== 2) {
      order += 1;
      due = choose(days);
      head = `${choose(firstNames)} ${choose(lastNames)},M-${order},${choose(open)},${due}`;
    }
    const person = choose(people);
    const pairs = choose([1, 1, 1, 1, 1, 1, 2]);
    const size = `EU ${choose<number>(sizes[person])}`;
    rows.push([head, person, size, yarn.name, choose(colours), choose(colours), choose(cuffs), pairs].join(','));
    lines.push({ reference: `M-${order}`, due, pairs });
  }
  return { text: rows.join('\n'), lines };
}
