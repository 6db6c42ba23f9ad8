DROP INDEX `pair_colours_place`;--> statement-breakpoint
CREATE UNIQUE INDEX `pair_colours_waiting` ON `pair_colours` (`pair_id`,`role`,`strand`) WHERE "pair_colours"."lot_id" is null;--> statement-breakpoint
CREATE UNIQUE INDEX `pair_colours_place` ON `pair_colours` (`pair_id`,`role`,`strand`,`lot_id`);--> statement-breakpoint
PRAGMA foreign_keys=OFF;--> statement-breakpoint
CREATE TABLE `__new_purchases` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`supplier_id` integer NOT NULL,
	`state` text NOT NULL,
	`ordered_day` text NOT NULL,
	`expected_day` text NOT NULL,
	`shipping_cents` integer NOT NULL,
	`off_cents` integer DEFAULT 0 NOT NULL,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`supplier_id`) REFERENCES `suppliers`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "state_one_of" CHECK("__new_purchases"."state" in ('ordered', 'arrived', 'cancelled')),
	CONSTRAINT "ordered_day_day" CHECK(("__new_purchases"."ordered_day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("__new_purchases"."ordered_day") is "__new_purchases"."ordered_day")),
	CONSTRAINT "expected_day_day" CHECK(("__new_purchases"."expected_day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("__new_purchases"."expected_day") is "__new_purchases"."expected_day")),
	CONSTRAINT "expected_after_ordered" CHECK("__new_purchases"."expected_day" >= "__new_purchases"."ordered_day"),
	CONSTRAINT "shipping_cents_whole" CHECK((typeof("__new_purchases"."shipping_cents") = 'integer' and "__new_purchases"."shipping_cents" between 0 and 100000000000)),
	CONSTRAINT "off_cents_whole" CHECK((typeof("__new_purchases"."off_cents") = 'integer' and "__new_purchases"."off_cents" between 0 and 100000000000)),
	CONSTRAINT "version_whole" CHECK((typeof("__new_purchases"."version") = 'integer' and "__new_purchases"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
INSERT INTO `__new_purchases`("id", "supplier_id", "state", "ordered_day", "expected_day", "shipping_cents", "off_cents", "version") SELECT "id", "supplier_id", "state", "ordered_day", "expected_day", "shipping_cents", 0, "version" FROM `purchases`;--> statement-breakpoint
UPDATE sqlite_sequence SET seq = coalesce((SELECT seq FROM sqlite_sequence WHERE name = 'purchases'), seq) WHERE name = '__new_purchases';--> statement-breakpoint
DROP TABLE `purchases`;--> statement-breakpoint
ALTER TABLE `__new_purchases` RENAME TO `purchases`;--> statement-breakpoint
PRAGMA foreign_keys=ON;--> statement-breakpoint
CREATE INDEX `purchases_state` ON `purchases` (`state`);