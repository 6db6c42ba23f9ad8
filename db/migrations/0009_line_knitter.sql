PRAGMA foreign_keys=OFF;--> statement-breakpoint
CREATE TABLE `__new_order_lines` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`order_id` integer NOT NULL,
	`style_id` integer NOT NULL,
	`person` text,
	`size_system` text,
	`size_label` text,
	`band_id` integer,
	`foot_id` integer,
	`fit` text NOT NULL,
	`cuff_height_mm` real,
	`quantity` integer NOT NULL,
	`agreed_cents` integer,
	`knitter_id` integer,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`order_id`) REFERENCES `orders`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`style_id`) REFERENCES `styles`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`band_id`) REFERENCES `size_bands`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`foot_id`) REFERENCES `feet`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`knitter_id`) REFERENCES `knitters`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "person_one_of" CHECK("__new_order_lines"."person" is null or "__new_order_lines"."person" in ('woman', 'man', 'child', 'unknown')),
	CONSTRAINT "size_system_words" CHECK("__new_order_lines"."size_system" is null or (typeof("__new_order_lines"."size_system") = 'text' and length(trim("__new_order_lines"."size_system")) > 0 and length("__new_order_lines"."size_system") <= 200)),
	CONSTRAINT "size_label_words" CHECK("__new_order_lines"."size_label" is null or (typeof("__new_order_lines"."size_label") = 'text' and length(trim("__new_order_lines"."size_label")) > 0 and length("__new_order_lines"."size_label") <= 200)),
	CONSTRAINT "one_size" CHECK(("__new_order_lines"."person" is not null and "__new_order_lines"."size_system" is not null and "__new_order_lines"."size_label" is not null and "__new_order_lines"."band_id" is null and "__new_order_lines"."foot_id" is null) or ("__new_order_lines"."person" is null and "__new_order_lines"."size_system" is null and "__new_order_lines"."size_label" is null and ("__new_order_lines"."band_id" is null) <> ("__new_order_lines"."foot_id" is null))),
	CONSTRAINT "fit_one_of" CHECK("__new_order_lines"."fit" in ('snug', 'usual', 'roomy')),
	CONSTRAINT "cuff_height_mm_measure" CHECK("__new_order_lines"."cuff_height_mm" is null or (typeof("__new_order_lines"."cuff_height_mm") = 'real' and "__new_order_lines"."cuff_height_mm" between 0 and 500)),
	CONSTRAINT "quantity_whole" CHECK((typeof("__new_order_lines"."quantity") = 'integer' and "__new_order_lines"."quantity" between 1 and 999)),
	CONSTRAINT "agreed_cents_whole" CHECK("__new_order_lines"."agreed_cents" is null or (typeof("__new_order_lines"."agreed_cents") = 'integer' and "__new_order_lines"."agreed_cents" between 0 and 100000000000)),
	CONSTRAINT "version_whole" CHECK((typeof("__new_order_lines"."version") = 'integer' and "__new_order_lines"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
INSERT INTO `__new_order_lines`("id", "order_id", "style_id", "person", "size_system", "size_label", "band_id", "foot_id", "fit", "cuff_height_mm", "quantity", "agreed_cents", "version") SELECT "id", "order_id", "style_id", "person", "size_system", "size_label", "band_id", "foot_id", "fit", "cuff_height_mm", "quantity", "agreed_cents", "version" FROM `order_lines`;--> statement-breakpoint
UPDATE sqlite_sequence SET seq = coalesce((SELECT seq FROM sqlite_sequence WHERE name = 'order_lines'), seq) WHERE name = '__new_order_lines';--> statement-breakpoint
DROP TABLE `order_lines`;--> statement-breakpoint
ALTER TABLE `__new_order_lines` RENAME TO `order_lines`;--> statement-breakpoint
PRAGMA foreign_keys=ON;--> statement-breakpoint
CREATE INDEX `order_lines_order` ON `order_lines` (`order_id`);--> statement-breakpoint
CREATE INDEX `order_lines_knitter` ON `order_lines` (`knitter_id`);