CREATE TABLE `pair_rows` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`pair_id` integer NOT NULL,
	`piece` text NOT NULL,
	`slipper` integer NOT NULL,
	`rows_done` integer DEFAULT 0 NOT NULL,
	`ticks_json` text DEFAULT '[]' NOT NULL,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`pair_id`) REFERENCES `pairs`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "piece_words" CHECK((typeof("pair_rows"."piece") = 'text' and length(trim("pair_rows"."piece")) > 0 and length("pair_rows"."piece") <= 200)),
	CONSTRAINT "slipper_whole" CHECK((typeof("pair_rows"."slipper") = 'integer' and "pair_rows"."slipper" between 1 and 2)),
	CONSTRAINT "rows_done_whole" CHECK((typeof("pair_rows"."rows_done") = 'integer' and "pair_rows"."rows_done" between 0 and 9999)),
	CONSTRAINT "ticks_json_json" CHECK(json_valid("pair_rows"."ticks_json")),
	CONSTRAINT "version_whole" CHECK((typeof("pair_rows"."version") = 'integer' and "pair_rows"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `pair_rows_once` ON `pair_rows` (`pair_id`,`piece`,`slipper`);