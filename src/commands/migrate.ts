import { AppError } from '#core/shared/app-error.ts';
import { defaultDatabaseUrl, openWorkshop } from '#db/open.ts';
import { readState } from '#db/stores/workshop.ts';

// Opening a workshop brings its tables up to date; this does it without starting the server.
const url = process.env.DATABASE_URL?.trim() || defaultDatabaseUrl;
try {
  const workshop = await openWorkshop(url);
  const { revision } = await workshop.store.read(readState);
  await workshop.close();
  console.log(`${url} is up to date (written to ${revision} ${revision === 1 ? 'time' : 'times'}).`);
} catch (error) {
  if (!(error instanceof AppError)) throw error;
  console.error(`${url}: ${error.message}`);
  process.exitCode = 1;
}
