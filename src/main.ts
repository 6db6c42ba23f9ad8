import type { Server } from 'node:http';
import { serve } from '@hono/node-server';
import { openWorkshop, type Workshop } from '#db/open.ts';
import { hasPassphrase } from '#flows/sign-in/set-passphrase.ts';
import { createApp } from '#server/app.ts';
import { type Config, isReachedByOthers, readConfig } from '#server/config.ts';
import { addressesToOpen } from '#server/session/own-addresses.ts';

const graceMs = 2000;

function stopWith(sentence: string): never {
  console.error(sentence);
  process.exit(1);
}

function configOrStop(): Config {
  const result = readConfig(process.env);
  if (result.ok) return result.value;
  return stopWith(['Toe to Till did not start:', ...result.problems.map(({ message }) => `  ${message}`)].join('\n'));
}

async function openOrStop(databaseUrl: string): Promise<Workshop> {
  try {
    return await openWorkshop(databaseUrl);
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    return stopWith(`Toe to Till did not start: the workshop at ${databaseUrl} cannot be opened. ${reason}`);
  }
}

function explainListenError(error: NodeJS.ErrnoException, { host, port }: Config): string {
  if (error.code === 'EADDRINUSE') {
    return `Port ${port} is taken: another program, perhaps this one, is running there. Stop it, or choose another port: PORT=${port + 1} npm start`;
  }
  if (error.code === 'EACCES')
    return `Port ${port} may not be used by this account. Choose one above 1023, like PORT=4173.`;
  return `Toe to Till cannot listen on ${host} port ${port}: ${error.message}`;
}

function askForPassphrase({ host, publicUrl }: Config): string {
  const isPublic = !isReachedByOthers({ host, publicUrl: null });
  const reason = isPublic ? `PUBLIC_URL is ${publicUrl}` : `HOST is ${host}`;
  const without = isPublic ? 'PUBLIC_URL' : 'HOST';
  return [
    `Toe to Till did not start: ${reason}, so others could read and change this workshop, and it has no passphrase yet.`,
    '  Set one with: npm run passphrase',
    `  Or start without ${without}, for this machine alone.`,
  ].join('\n');
}

async function main(): Promise<void> {
  const config = configOrStop();
  const workshop = await openOrStop(config.databaseUrl);
  if (isReachedByOthers(config) && !(await hasPassphrase(workshop))) {
    await workshop.close();
    stopWith(askForPassphrase(config));
  }
  const app = createApp({ workshop, now: () => new Date(), publicUrl: config.publicUrl, host: config.host });
  const server = serve({ fetch: app.fetch, hostname: config.host, port: config.port }, () => {
    for (const address of addressesToOpen(config)) console.log(`Toe to Till: ${address}`);
  }) as Server;
  server.on('error', (error: NodeJS.ErrnoException) => stopWith(explainListenError(error, config)));

  let isStopping = false;
  async function stop(): Promise<void> {
    if (isStopping) return;
    isStopping = true;
    // Requests under way may finish; a browser that keeps its connection open does not hold the program up.
    setTimeout(() => server.closeAllConnections(), graceMs).unref();
    await new Promise<void>((resolve) => server.close(() => resolve()));
    await workshop.close();
    process.exit(0);
  }
  process.on('SIGINT', stop);
  process.on('SIGTERM', stop);
}

await main();
