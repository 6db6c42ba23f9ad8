import { buyingRows } from '#tests/bench/buying-rows.ts';
import { cardRows } from '#tests/bench/card-rows.tsx';
import { manyRows } from '#tests/bench/many-rows.ts';
import type { BenchRow } from '#tests/bench/measure.ts';
import { pairsRows } from '#tests/bench/pairs-rows.ts';
import { planRows } from '#tests/bench/plan-rows.ts';
import { serverRows } from '#tests/bench/server-rows.ts';

// Measures speed against what it should reach; a slow row is shown, never a failed test.
const parts = {
  plan: planRows,
  buying: buyingRows,
  pairs: pairsRows,
  cards: cardRows,
  many: manyRows,
  server: serverRows,
};
const asked = process.argv.slice(2).filter((word) => word !== '--json');
const chosen = Object.entries(parts).filter(([name]) => asked.length === 0 || asked.includes(name));
const rows: BenchRow[] = [];
for (const [, measure] of chosen) rows.push(...(await measure()));
if (process.argv.includes('--json')) {
  console.log(JSON.stringify(rows, null, 2));
} else {
  const width = Math.max(...rows.map((row) => row.name.length));
  for (const row of rows) {
    const against = `${row.measured} ${row.unit} (reach ${row.reach})`;
    console.log(`${row.holds ? 'holds' : 'MISSES'}  ${row.name.padEnd(width)}  ${against}`);
  }
}
