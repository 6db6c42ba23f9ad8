import { openWorkshop } from '#db/open.ts';
import { createYarn, createYarnColour } from '#db/stores/shelf.ts';

// Run by kill.long.test.ts: writes without end, and says the id of each yarn once its write was answered.
const [url, round] = process.argv.slice(2);
const workshop = await openWorkshop(url!);
for (let count = 0; ; count += 1) {
  const yarn = await workshop.store.write('write until killed', async (tx) => {
    const added = await createYarn(tx, { name: `${round} ${count}`, tex: 1000, ballMg: 100_000, category: 5 });
    await createYarnColour(tx, { yarnId: added.id, name: 'oat', swatchHex: '#c9b28f' });
    return added;
  });
  process.stdout.write(`${yarn.id}\n`);
}
