PRAGMA foreign_keys=OFF;--> statement-breakpoint
CREATE TABLE `__new_postage_bands` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`name` text NOT NULL,
	`up_to_g` real NOT NULL,
	`cents` integer NOT NULL,
	`days` integer NOT NULL,
	`version` integer DEFAULT 1 NOT NULL,
	CONSTRAINT "name_words" CHECK((typeof("__new_postage_bands"."name") = 'text' and length(trim("__new_postage_bands"."name")) > 0 and length("__new_postage_bands"."name") <= 200)),
	CONSTRAINT "up_to_g_measure" CHECK((typeof("__new_postage_bands"."up_to_g") = 'real' and "__new_postage_bands"."up_to_g" between 1 and 100000)),
	CONSTRAINT "cents_whole" CHECK((typeof("__new_postage_bands"."cents") = 'integer' and "__new_postage_bands"."cents" between 0 and 100000000000)),
	CONSTRAINT "days_whole" CHECK((typeof("__new_postage_bands"."days") = 'integer' and "__new_postage_bands"."days" between 0 and 365)),
	CONSTRAINT "version_whole" CHECK((typeof("__new_postage_bands"."version") = 'integer' and "__new_postage_bands"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
INSERT INTO `__new_postage_bands`("id", "name", "up_to_g", "cents", "days", "version") SELECT "id", "name", "up_to_g", "cents", "days", "version" FROM `postage_bands`;--> statement-breakpoint
UPDATE sqlite_sequence SET seq = coalesce((SELECT seq FROM sqlite_sequence WHERE name = 'postage_bands'), seq) WHERE name = '__new_postage_bands';--> statement-breakpoint
DROP TABLE `postage_bands`;--> statement-breakpoint
ALTER TABLE `__new_postage_bands` RENAME TO `postage_bands`;--> statement-breakpoint
PRAGMA foreign_keys=ON;--> statement-breakpoint
CREATE UNIQUE INDEX `postage_bands_once` ON `postage_bands` (`name`,`up_to_g`);