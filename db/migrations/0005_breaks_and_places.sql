CREATE TABLE `offer_breaks` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`offer_id` integer NOT NULL,
	`from_packs` integer NOT NULL,
	`price_cents` integer NOT NULL,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`offer_id`) REFERENCES `offers`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "from_packs_whole" CHECK((typeof("offer_breaks"."from_packs") = 'integer' and "offer_breaks"."from_packs" between 2 and 100000)),
	CONSTRAINT "price_cents_whole" CHECK((typeof("offer_breaks"."price_cents") = 'integer' and "offer_breaks"."price_cents" between 0 and 100000000000)),
	CONSTRAINT "version_whole" CHECK((typeof("offer_breaks"."version") = 'integer' and "offer_breaks"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `offer_breaks_once` ON `offer_breaks` (`offer_id`,`from_packs`);--> statement-breakpoint
CREATE TABLE `supplier_breaks` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`supplier_id` integer NOT NULL,
	`from_cents` integer NOT NULL,
	`off_ratio` real NOT NULL,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`supplier_id`) REFERENCES `suppliers`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "from_cents_whole" CHECK((typeof("supplier_breaks"."from_cents") = 'integer' and "supplier_breaks"."from_cents" between 1 and 100000000000)),
	CONSTRAINT "off_ratio_measure" CHECK((typeof("supplier_breaks"."off_ratio") = 'real' and "supplier_breaks"."off_ratio" between 0 and 0.9)),
	CONSTRAINT "version_whole" CHECK((typeof("supplier_breaks"."version") = 'integer' and "supplier_breaks"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `supplier_breaks_once` ON `supplier_breaks` (`supplier_id`,`from_cents`);--> statement-breakpoint
PRAGMA foreign_keys=OFF;--> statement-breakpoint
CREATE TABLE `__new_lots` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`yarn_colour_id` integer NOT NULL,
	`dye_lot` text,
	`donor` text,
	`place` text,
	`got_day` text NOT NULL,
	`returnable_until_day` text,
	`paid_cents` integer NOT NULL,
	`bought_mg` integer NOT NULL,
	`worth_cents` integer,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`yarn_colour_id`) REFERENCES `yarn_colours`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "dye_lot_words" CHECK("__new_lots"."dye_lot" is null or (typeof("__new_lots"."dye_lot") = 'text' and length(trim("__new_lots"."dye_lot")) > 0 and length("__new_lots"."dye_lot") <= 200)),
	CONSTRAINT "donor_words" CHECK("__new_lots"."donor" is null or (typeof("__new_lots"."donor") = 'text' and length(trim("__new_lots"."donor")) > 0 and length("__new_lots"."donor") <= 200)),
	CONSTRAINT "place_words" CHECK("__new_lots"."place" is null or (typeof("__new_lots"."place") = 'text' and length(trim("__new_lots"."place")) > 0 and length("__new_lots"."place") <= 200)),
	CONSTRAINT "got_day_day" CHECK(("__new_lots"."got_day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("__new_lots"."got_day") is "__new_lots"."got_day")),
	CONSTRAINT "returnable_until_day_day" CHECK("__new_lots"."returnable_until_day" is null or ("__new_lots"."returnable_until_day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("__new_lots"."returnable_until_day") is "__new_lots"."returnable_until_day")),
	CONSTRAINT "paid_cents_whole" CHECK((typeof("__new_lots"."paid_cents") = 'integer' and "__new_lots"."paid_cents" between 0 and 100000000000)),
	CONSTRAINT "bought_mg_whole" CHECK((typeof("__new_lots"."bought_mg") = 'integer' and "__new_lots"."bought_mg" between 1 and 1000000000)),
	CONSTRAINT "worth_cents_whole" CHECK("__new_lots"."worth_cents" is null or (typeof("__new_lots"."worth_cents") = 'integer' and "__new_lots"."worth_cents" between 0 and 100000000000)),
	CONSTRAINT "version_whole" CHECK((typeof("__new_lots"."version") = 'integer' and "__new_lots"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
INSERT INTO `__new_lots`("id", "yarn_colour_id", "dye_lot", "donor", "got_day", "returnable_until_day", "paid_cents", "bought_mg", "worth_cents", "version") SELECT "id", "yarn_colour_id", "dye_lot", "donor", "got_day", "returnable_until_day", "paid_cents", "bought_mg", "worth_cents", "version" FROM `lots`;--> statement-breakpoint
UPDATE sqlite_sequence SET seq = coalesce((SELECT seq FROM sqlite_sequence WHERE name = 'lots'), seq) WHERE name = '__new_lots';--> statement-breakpoint
DROP TABLE `lots`;--> statement-breakpoint
ALTER TABLE `__new_lots` RENAME TO `lots`;--> statement-breakpoint
PRAGMA foreign_keys=ON;--> statement-breakpoint
CREATE INDEX `lots_yarn_colour` ON `lots` (`yarn_colour_id`);