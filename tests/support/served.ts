import type { AddressInfo } from 'node:net';
import { type ServerType, serve } from '@hono/node-server';
import { readWorkshop } from '#db/stores/read-workshop.ts';
import { createApp } from '#server/app.ts';
import type { Solver } from '#solver/solver.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

export type Served = {
  /** Where it answers: `http://127.0.0.1:40123`. */
  readonly address: string;
  readonly workshop: TestWorkshop;
  /** The patterns of all that can be asked for with GET. */
  readonly patterns: readonly string[];
  /** Ends the server and takes its workshop away. */
  readonly stop: () => Promise<void>;
};

/**
 * The whole program on a free port of this machine, with an empty workshop of its own; `now` stands still if given, and
 * searches are made by `solver` if given.
 */
export async function serveWorkshop(now: () => Date = () => new Date(), solver?: Solver): Promise<Served> {
  const workshop = await openTestWorkshop();
  const app = createApp({ workshop, now, publicUrl: null, ...(solver ? { solver } : {}) });
  const server = await new Promise<ServerType>((resolve) => {
    const started = serve({ fetch: app.fetch, hostname: '127.0.0.1', port: 0 }, () => resolve(started));
  });
  const { port } = server.address() as AddressInfo;
  async function stop(): Promise<void> {
    const closed = new Promise<void>((resolve) => server.close(() => resolve()));
    if ('closeAllConnections' in server) server.closeAllConnections();
    await closed;
    await workshop.discard();
  }
  const patterns = [...new Set(app.routes.filter(({ method }) => method === 'GET').map(({ path }) => path))];
  return { address: `http://127.0.0.1:${port}`, workshop, patterns, stop };
}

/** A press of a button that needs no page: the form it stands in is sent as our own page would. */
export async function sendForm(
  { address }: Served,
  path: string,
  fields: Readonly<Record<string, string>> = {},
): Promise<Response> {
  return fetch(`${address}${path}`, {
    method: 'POST',
    body: new URLSearchParams(fields),
    headers: { Origin: address },
    redirect: 'manual',
  });
}

/** The sample season, served, with one batch of it started and a style of its own. */
export async function serveSample(now?: () => Date): Promise<Served> {
  const served = await serveWorkshop(now);
  await sendForm(served, '/begin/sample');
  const { orders, styles, revision } = await readWorkshop(served.workshop);
  const order = String(orders.find(({ state }) => state === 'agreed')!.id);
  const started = await sendForm(served, '/batch/start', { order, revision: String(revision), name: 'First batch' });
  const copied = await sendForm(served, `/styles/${styles[0]!.id}/copy`);
  for (const { status, url } of [started, copied]) {
    if (status !== 303) throw new Error(`${url} answered ${status}.`);
  }
  return served;
}
