import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createClient } from '@libsql/client';
import { entryOf } from '#core/shared/entry-of.ts';
import { openWorkshop, type Workshop } from '#db/open.ts';
import { loadSample } from '#flows/begin/load-sample.ts';

// Loading the sample season takes ten times as long as copying the rows of one that was loaded.
const seasons = new Map<string, Promise<string>>();

async function seasonOf(today: string): Promise<string> {
  const folder = mkdtempSync(join(tmpdir(), 'season-'));
  process.once('exit', () => rmSync(folder, { recursive: true, force: true }));
  const file = join(folder, 'workshop.db');
  const workshop = await openWorkshop(`file:${file}`);
  const loaded = await loadSample(workshop, { today });
  await workshop.close();
  if (!loaded.ok) throw new Error('The sample season was not loaded.');
  return file;
}

/** Puts the sample season as of a day into an empty workshop, row by row as it is loaded, revision included. */
export async function putSample({ url }: Workshop, today: string): Promise<void> {
  const season = await entryOf(seasons, today, () => seasonOf(today));
  const client = createClient({ url });
  try {
    const { rows } = await client.execute(
      "select name from sqlite_master where type = 'table' and name not like '\\_\\_%' escape '\\' and name <> 'state'",
    );
    const tables = rows
      .map(({ name }) => String(name))
      .sort((a, b) => Number(a === 'sqlite_sequence') - Number(b === 'sqlite_sequence'));
    await client.executeMultiple(`
      pragma foreign_keys = off;
      attach '${season}' as season;
      begin immediate;
      ${tables.map((name) => `delete from main."${name}"; insert into main."${name}" select * from season."${name}";`).join('\n')}
      update main.state set revision = (select revision from season.state);
      commit;
      detach season;
    `);
  } finally {
    client.close();
  }
}
