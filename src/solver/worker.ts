import { parentPort } from 'node:worker_threads';
import loadModule, { type Highs } from 'highs';
import type { SearchNews, SearchOrder } from '#solver/messages.ts';
import { type Model, purchaseModel } from '#solver/model.ts';

// Its types describe a CommonJS module; under node the default import is the loader itself.
const loadHighs = loadModule as unknown as () => Promise<Highs>;
const highs = await loadHighs();
const { callbackType, modelStatus } = highs.constants;

const betweenBoundsMs = 100;

function dataOf({ costs, lower, upper, isWhole, rows }: Model) {
  const starts = new Int32Array(rows.length + 1);
  const indices: number[] = [];
  const values: number[] = [];
  for (const [i, row] of rows.entries()) {
    for (const [column, factor] of row.terms) {
      indices.push(column);
      values.push(factor);
    }
    starts[i + 1] = indices.length;
  }
  return {
    numCols: costs.length,
    numRows: rows.length,
    colCost: costs,
    colLower: lower,
    colUpper: upper,
    rowLower: rows.map((row) => row.from),
    rowUpper: rows.map((row) => row.to),
    integrality: Int32Array.from(isWhole, (whole) => (whole ? 1 : 0)),
    matrix: {
      format: 'csr' as const,
      numRows: rows.length,
      numCols: costs.length,
      starts,
      indices: Int32Array.from(indices),
      values: Float64Array.from(values),
    },
  };
}

function search({ id, problem, known, deadlineMs, stop }: SearchOrder): void {
  const post = (news: SearchNews) => parentPort!.postMessage(news);
  const endMs = performance.now() + deadlineMs;
  const flag = new Int32Array(stop);
  const { model, packsOf, startOf } = purchaseModel(problem, known.cents);
  let bound = Number.NEGATIVE_INFINITY;
  let toldMs = 0;
  const tellBound = (found: number | undefined, isLast = false) => {
    if (found === undefined || !Number.isFinite(found)) return;
    bound = Math.max(bound, found);
    if (!isLast && performance.now() - toldMs < betweenBoundsMs) return;
    toldMs = performance.now();
    post({ id, kind: 'bound', bound });
  };
  highs.withModel(dataOf(model), (solver) => {
    solver.options.set({ output_flag: false, mip_rel_gap: 0, mip_abs_gap: 0.99 });
    solver.setSolution({ colValue: startOf(known.packs) });
    solver.run({
      [callbackType.mipImprovingSolution](event) {
        if (event.data.mip_solution) post({ id, kind: 'list', packs: packsOf(event.data.mip_solution) });
        tellBound(event.data.mip_dual_bound);
      },
      [callbackType.mipLogging](event) {
        tellBound(event.data.mip_dual_bound);
      },
      [callbackType.mipInterrupt](event) {
        tellBound(event.data.mip_dual_bound);
        if (performance.now() > endMs || Atomics.load(flag, 0) !== 0) event.interrupt();
      },
    });
    const status = solver.getModelStatus();
    if (status === modelStatus.optimal) {
      post({ id, kind: 'list', packs: packsOf(solver.getSolution().colValue) });
    }
    if (status === modelStatus.optimal || status === modelStatus.interrupted) {
      tellBound(Number(solver.info.get('mip_dual_bound')), true);
    }
    const how =
      status === modelStatus.optimal ? 'proven' : status === modelStatus.interrupted ? 'interrupted' : 'failed';
    post({ id, kind: 'ended', how });
  });
}

parentPort!.postMessage({ kind: 'ready' } satisfies SearchNews);
parentPort!.on('message', (order: SearchOrder) => {
  try {
    search(order);
  } catch (error) {
    console.error('The search for a cheaper list failed.', error);
    parentPort!.postMessage({ id: order.id, kind: 'ended', how: 'failed' } satisfies SearchNews);
  }
});
