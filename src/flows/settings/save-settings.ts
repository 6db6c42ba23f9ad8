import { AppError } from '#core/shared/app-error.ts';
import { readSettings, type SettingName, type Settings, settingDefinitions } from '#core/shared/settings.ts';
import type { Workshop } from '#db/open.ts';
import { listSettings, setSetting } from '#db/stores/workshop.ts';

/**
 * Saves the settings that a form changed. What the form showed and left alone stays as it is now, even if somebody else
 * has changed it since; where both changed the same one, the second is told.
 *
 * @param wished all settings of the form
 * @param seen the same as they were when the form was drawn
 * @throws {AppError} `conflict`
 */
export async function saveSettings(
  workshop: Workshop,
  wished: Partial<Settings>,
  seen: Partial<Settings>,
): Promise<void> {
  const names = Object.keys(wished) as SettingName[];
  const changed = names.filter((name) => !(name in seen) || seen[name] !== wished[name]);
  if (changed.length === 0) return;
  await workshop.store.write('settings: change settings', async (tx) => {
    const now = readSettings(await listSettings(tx));
    for (const name of changed) {
      if (name in seen && now[name] !== seen[name] && now[name] !== wished[name]) {
        throw new AppError(
          'conflict',
          `Somebody else changed “${settingDefinitions[name].words}” while you had it open. Look at their change, then save yours again.`,
        );
      }
      await setSetting(tx, name, wished[name] ?? null);
    }
  });
}
