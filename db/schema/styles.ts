import { type AnySQLiteColumn, index, integer, real, sqliteTable, text, uniqueIndex } from 'drizzle-orm/sqlite-core';
import { above0, id, json, mostCents, version, whole, words, yesOrNo } from '#db/schema/columns.ts';

export const styles = sqliteTable(
  'styles',
  {
    id: id(),
    name: text('name').notNull().unique(),
    isShipped: integer('shipped', { mode: 'boolean' }).notNull(),
    /** Empty only between the two writes that make a style and its first version. */
    currentVersionId: integer('current_version_id').references((): AnySQLiteColumn => styleVersions.id, {
      onDelete: 'restrict',
    }),
    version: version(),
  },
  (t) => [words(t.name), yesOrNo(t.isShipped), whole(t.version, 1)],
);

/** A style as it was at one time. Never altered: pairs on the needles point here. */
export const styleVersions = sqliteTable(
  'style_versions',
  {
    id: id(),
    styleId: integer('style_id')
      .notNull()
      .references(() => styles.id, { onDelete: 'restrict' }),
    number: integer('number').notNull(),
    format: integer('format').notNull(),
    bodyJson: text('body_json').notNull(),
  },
  (t) => [
    whole(t.number, 1),
    whole(t.format, 1),
    json(t.bodyJson),
    uniqueIndex('style_versions_number').on(t.styleId, t.number),
  ],
);

/** What goes into a pair besides yarn: soles, buttons, grip lines. */
export const materials = sqliteTable(
  'materials',
  { id: id(), name: text('name').notNull().unique(), eachCents: integer('each_cents').notNull(), version: version() },
  (t) => [words(t.name), whole(t.eachCents, 0, mostCents), whole(t.version, 1)],
);

export const styleMaterials = sqliteTable(
  'style_materials',
  {
    id: id(),
    styleId: integer('style_id')
      .notNull()
      .references(() => styles.id, { onDelete: 'restrict' }),
    materialId: integer('material_id')
      .notNull()
      .references(() => materials.id, { onDelete: 'restrict' }),
    perPair: real('per_pair').notNull(),
  },
  (t) => [
    above0(t.perPair, 10_000),
    uniqueIndex('style_materials_once').on(t.styleId, t.materialId),
    index('style_materials_material').on(t.materialId),
  ],
);
