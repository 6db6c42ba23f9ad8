PRAGMA foreign_keys=OFF;--> statement-breakpoint
CREATE TABLE `__new_purchase_lines` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`purchase_id` integer NOT NULL,
	`offer_id` integer NOT NULL,
	`ball_mg` integer NOT NULL,
	`balls_per_pack` integer NOT NULL,
	`packs` integer NOT NULL,
	`arrived_packs` integer DEFAULT 0 NOT NULL,
	`price_cents` integer NOT NULL,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`purchase_id`) REFERENCES `purchases`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`offer_id`) REFERENCES `offers`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "ball_mg_whole" CHECK((typeof("__new_purchase_lines"."ball_mg") = 'integer' and "__new_purchase_lines"."ball_mg" between 1 and 1000000000)),
	CONSTRAINT "balls_per_pack_whole" CHECK((typeof("__new_purchase_lines"."balls_per_pack") = 'integer' and "__new_purchase_lines"."balls_per_pack" between 1 and 1000)),
	CONSTRAINT "packs_whole" CHECK((typeof("__new_purchase_lines"."packs") = 'integer' and "__new_purchase_lines"."packs" between 1 and 100000)),
	CONSTRAINT "arrived_packs_whole" CHECK((typeof("__new_purchase_lines"."arrived_packs") = 'integer' and "__new_purchase_lines"."arrived_packs" between 0 and 100000)),
	CONSTRAINT "arrived_of_packs" CHECK("__new_purchase_lines"."arrived_packs" <= "__new_purchase_lines"."packs"),
	CONSTRAINT "price_cents_whole" CHECK((typeof("__new_purchase_lines"."price_cents") = 'integer' and "__new_purchase_lines"."price_cents" between 0 and 100000000000)),
	CONSTRAINT "version_whole" CHECK((typeof("__new_purchase_lines"."version") = 'integer' and "__new_purchase_lines"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
INSERT INTO `__new_purchase_lines`("id", "purchase_id", "offer_id", "ball_mg", "balls_per_pack", "packs", "arrived_packs", "price_cents", "version") SELECT l."id", l."purchase_id", l."offer_id", o."ball_mg", o."balls_per_pack", l."packs", l."arrived_packs", l."price_cents", l."version" FROM `purchase_lines` l JOIN `offers` o ON o."id" = l."offer_id";--> statement-breakpoint
UPDATE sqlite_sequence SET seq = coalesce((SELECT seq FROM sqlite_sequence WHERE name = 'purchase_lines'), seq) WHERE name = '__new_purchase_lines';--> statement-breakpoint
DROP TABLE `purchase_lines`;--> statement-breakpoint
ALTER TABLE `__new_purchase_lines` RENAME TO `purchase_lines`;--> statement-breakpoint
PRAGMA foreign_keys=ON;--> statement-breakpoint
CREATE INDEX `purchase_lines_purchase` ON `purchase_lines` (`purchase_id`);--> statement-breakpoint
CREATE INDEX `purchase_lines_offer` ON `purchase_lines` (`offer_id`);