PRAGMA foreign_keys=OFF;--> statement-breakpoint
CREATE TABLE `__new_balls` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`lot_id` integer NOT NULL,
	`mass_mg` integer NOT NULL,
	`knitter_id` integer,
	`handed_day` text,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`lot_id`) REFERENCES `lots`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`knitter_id`) REFERENCES `knitters`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "mass_mg_whole" CHECK((typeof("__new_balls"."mass_mg") = 'integer' and "__new_balls"."mass_mg" between 0 and 1000000000)),
	CONSTRAINT "handed_day_day" CHECK("__new_balls"."handed_day" is null or ("__new_balls"."handed_day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("__new_balls"."handed_day") is "__new_balls"."handed_day")),
	CONSTRAINT "version_whole" CHECK((typeof("__new_balls"."version") = 'integer' and "__new_balls"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
INSERT INTO `__new_balls`("id", "lot_id", "mass_mg", "knitter_id", "version") SELECT "id", "lot_id", "mass_mg", "knitter_id", "version" FROM `balls`;--> statement-breakpoint
UPDATE sqlite_sequence SET seq = coalesce((SELECT seq FROM sqlite_sequence WHERE name = 'balls'), seq) WHERE name = '__new_balls';--> statement-breakpoint
DROP TABLE `balls`;--> statement-breakpoint
ALTER TABLE `__new_balls` RENAME TO `balls`;--> statement-breakpoint
PRAGMA foreign_keys=ON;--> statement-breakpoint
CREATE INDEX `balls_lot` ON `balls` (`lot_id`);