PRAGMA foreign_keys=OFF;--> statement-breakpoint
CREATE TABLE `__new_sale_lines` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`sale_id` integer NOT NULL,
	`pair_id` integer,
	`what` text NOT NULL,
	`price_cents` integer NOT NULL,
	`settled_why` text,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`sale_id`) REFERENCES `sales`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`pair_id`) REFERENCES `pairs`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "what_words" CHECK((typeof("__new_sale_lines"."what") = 'text' and length(trim("__new_sale_lines"."what")) > 0 and length("__new_sale_lines"."what") <= 200)),
	CONSTRAINT "price_cents_whole" CHECK((typeof("__new_sale_lines"."price_cents") = 'integer' and "__new_sale_lines"."price_cents" between 0 and 100000000000)),
	CONSTRAINT "settled_why_words" CHECK("__new_sale_lines"."settled_why" is null or (typeof("__new_sale_lines"."settled_why") = 'text' and length(trim("__new_sale_lines"."settled_why")) > 0 and length("__new_sale_lines"."settled_why") <= 200)),
	CONSTRAINT "version_whole" CHECK((typeof("__new_sale_lines"."version") = 'integer' and "__new_sale_lines"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
INSERT INTO `__new_sale_lines`("id", "sale_id", "pair_id", "what", "price_cents", "settled_why", "version") SELECT "id", "sale_id", "pair_id", "what", "price_cents", null, "version" FROM `sale_lines`;--> statement-breakpoint
DROP TABLE `sale_lines`;--> statement-breakpoint
ALTER TABLE `__new_sale_lines` RENAME TO `sale_lines`;--> statement-breakpoint
PRAGMA foreign_keys=ON;--> statement-breakpoint
CREATE INDEX `sale_lines_sale` ON `sale_lines` (`sale_id`);--> statement-breakpoint
CREATE INDEX `sale_lines_pair` ON `sale_lines` (`pair_id`);