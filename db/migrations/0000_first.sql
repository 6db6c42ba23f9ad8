CREATE TABLE `batch_lines` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`batch_id` integer NOT NULL,
	`line_id` integer NOT NULL,
	`quantity` integer NOT NULL,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`batch_id`) REFERENCES `batches`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`line_id`) REFERENCES `order_lines`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "quantity_whole" CHECK((typeof("batch_lines"."quantity") = 'integer' and "batch_lines"."quantity" between 1 and 999)),
	CONSTRAINT "version_whole" CHECK((typeof("batch_lines"."version") = 'integer' and "batch_lines"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `batch_lines_once` ON `batch_lines` (`batch_id`,`line_id`);--> statement-breakpoint
CREATE INDEX `batch_lines_line` ON `batch_lines` (`line_id`);--> statement-breakpoint
CREATE TABLE `batches` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`name` text NOT NULL,
	`state` text NOT NULL,
	`started_ms` integer,
	`version` integer DEFAULT 1 NOT NULL,
	CONSTRAINT "name_words" CHECK((typeof("batches"."name") = 'text' and length(trim("batches"."name")) > 0 and length("batches"."name") <= 200)),
	CONSTRAINT "state_one_of" CHECK("batches"."state" in ('gathering', 'started', 'finished')),
	CONSTRAINT "started_ms_whole" CHECK("batches"."started_ms" is null or (typeof("batches"."started_ms") = 'integer' and "batches"."started_ms" between 0 and 9007199254740991)),
	CONSTRAINT "started_has_instant" CHECK(("batches"."state" = 'gathering') = ("batches"."started_ms" is null)),
	CONSTRAINT "version_whole" CHECK((typeof("batches"."version") = 'integer' and "batches"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `batches_one_gathering` ON `batches` (`state`) WHERE "batches"."state" = 'gathering';--> statement-breakpoint
CREATE TABLE `pair_colours` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`pair_id` integer NOT NULL,
	`role` text NOT NULL,
	`strand` integer NOT NULL,
	`yarn_colour_id` integer NOT NULL,
	`lot_id` integer,
	`allotted_mg` integer NOT NULL,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`pair_id`) REFERENCES `pairs`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`yarn_colour_id`) REFERENCES `yarn_colours`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`lot_id`) REFERENCES `lots`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "role_words" CHECK((typeof("pair_colours"."role") = 'text' and length(trim("pair_colours"."role")) > 0 and length("pair_colours"."role") <= 200)),
	CONSTRAINT "strand_whole" CHECK((typeof("pair_colours"."strand") = 'integer' and "pair_colours"."strand" between 0 and 9)),
	CONSTRAINT "allotted_mg_whole" CHECK((typeof("pair_colours"."allotted_mg") = 'integer' and "pair_colours"."allotted_mg" between 0 and 1000000000)),
	CONSTRAINT "version_whole" CHECK((typeof("pair_colours"."version") = 'integer' and "pair_colours"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `pair_colours_place` ON `pair_colours` (`pair_id`,`role`,`strand`);--> statement-breakpoint
CREATE INDEX `pair_colours_lot` ON `pair_colours` (`lot_id`);--> statement-breakpoint
CREATE TABLE `pair_events` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`pair_id` integer NOT NULL,
	`at_ms` integer NOT NULL,
	`event` text NOT NULL,
	`who` text,
	FOREIGN KEY (`pair_id`) REFERENCES `pairs`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "at_ms_whole" CHECK((typeof("pair_events"."at_ms") = 'integer' and "pair_events"."at_ms" between 0 and 9007199254740991)),
	CONSTRAINT "event_words" CHECK((typeof("pair_events"."event") = 'text' and length(trim("pair_events"."event")) > 0 and length("pair_events"."event") <= 200)),
	CONSTRAINT "who_words" CHECK("pair_events"."who" is null or (typeof("pair_events"."who") = 'text' and length(trim("pair_events"."who")) > 0 and length("pair_events"."who") <= 200))
);
--> statement-breakpoint
CREATE INDEX `pair_events_pair` ON `pair_events` (`pair_id`);--> statement-breakpoint
CREATE TABLE `pair_pieces` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`pair_id` integer NOT NULL,
	`piece` text NOT NULL,
	`knitter_id` integer,
	`stage` text DEFAULT 'waiting' NOT NULL,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`pair_id`) REFERENCES `pairs`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`knitter_id`) REFERENCES `knitters`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "piece_words" CHECK((typeof("pair_pieces"."piece") = 'text' and length(trim("pair_pieces"."piece")) > 0 and length("pair_pieces"."piece") <= 200)),
	CONSTRAINT "stage_one_of" CHECK("pair_pieces"."stage" in ('waiting', 'begun', 'done')),
	CONSTRAINT "version_whole" CHECK((typeof("pair_pieces"."version") = 'integer' and "pair_pieces"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `pair_pieces_once` ON `pair_pieces` (`pair_id`,`piece`);--> statement-breakpoint
CREATE INDEX `pair_pieces_knitter` ON `pair_pieces` (`knitter_id`);--> statement-breakpoint
CREATE TABLE `pairs` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`batch_id` integer,
	`line_id` integer,
	`style_version_id` integer NOT NULL,
	`kind` text NOT NULL,
	`spec_json` text NOT NULL,
	`quality` text DEFAULT 'good' NOT NULL,
	`own_yarn` integer DEFAULT false NOT NULL,
	`pinned` integer DEFAULT false NOT NULL,
	`rank` integer NOT NULL,
	`left` text,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`batch_id`) REFERENCES `batches`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`line_id`) REFERENCES `order_lines`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`style_version_id`) REFERENCES `style_versions`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "kind_words" CHECK((typeof("pairs"."kind") = 'text' and length(trim("pairs"."kind")) > 0 and length("pairs"."kind") <= 2000)),
	CONSTRAINT "spec_json_json" CHECK(json_valid("pairs"."spec_json")),
	CONSTRAINT "quality_one_of" CHECK("pairs"."quality" in ('good', 'second')),
	CONSTRAINT "own_yarn_yes_or_no" CHECK("pairs"."own_yarn" in (0, 1)),
	CONSTRAINT "pinned_yes_or_no" CHECK("pairs"."pinned" in (0, 1)),
	CONSTRAINT "rank_whole" CHECK((typeof("pairs"."rank") = 'integer' and "pairs"."rank" between 0 and 9007199254740991)),
	CONSTRAINT "left_one_of" CHECK("pairs"."left" is null or "pairs"."left" in ('handed over', 'sold', 'given', 'lost', 'ripped out')),
	CONSTRAINT "version_whole" CHECK((typeof("pairs"."version") = 'integer' and "pairs"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE INDEX `pairs_batch` ON `pairs` (`batch_id`);--> statement-breakpoint
CREATE INDEX `pairs_line` ON `pairs` (`line_id`);--> statement-breakpoint
CREATE INDEX `pairs_left` ON `pairs` (`left`);--> statement-breakpoint
CREATE TABLE `offers` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`supplier_id` integer NOT NULL,
	`yarn_colour_id` integer NOT NULL,
	`ball_mg` integer NOT NULL,
	`balls_per_pack` integer NOT NULL,
	`price_cents` integer NOT NULL,
	`stock_packs` integer,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`supplier_id`) REFERENCES `suppliers`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`yarn_colour_id`) REFERENCES `yarn_colours`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "ball_mg_whole" CHECK((typeof("offers"."ball_mg") = 'integer' and "offers"."ball_mg" between 1 and 1000000000)),
	CONSTRAINT "balls_per_pack_whole" CHECK((typeof("offers"."balls_per_pack") = 'integer' and "offers"."balls_per_pack" between 1 and 1000)),
	CONSTRAINT "price_cents_whole" CHECK((typeof("offers"."price_cents") = 'integer' and "offers"."price_cents" between 0 and 100000000000)),
	CONSTRAINT "stock_packs_whole" CHECK("offers"."stock_packs" is null or (typeof("offers"."stock_packs") = 'integer' and "offers"."stock_packs" between 0 and 1000000)),
	CONSTRAINT "version_whole" CHECK((typeof("offers"."version") = 'integer' and "offers"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `offers_pack` ON `offers` (`supplier_id`,`yarn_colour_id`,`ball_mg`,`balls_per_pack`);--> statement-breakpoint
CREATE INDEX `offers_yarn_colour` ON `offers` (`yarn_colour_id`);--> statement-breakpoint
CREATE TABLE `purchase_lines` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`purchase_id` integer NOT NULL,
	`offer_id` integer NOT NULL,
	`packs` integer NOT NULL,
	`arrived_packs` integer DEFAULT 0 NOT NULL,
	`price_cents` integer NOT NULL,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`purchase_id`) REFERENCES `purchases`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`offer_id`) REFERENCES `offers`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "packs_whole" CHECK((typeof("purchase_lines"."packs") = 'integer' and "purchase_lines"."packs" between 1 and 100000)),
	CONSTRAINT "arrived_packs_whole" CHECK((typeof("purchase_lines"."arrived_packs") = 'integer' and "purchase_lines"."arrived_packs" between 0 and 100000)),
	CONSTRAINT "arrived_of_packs" CHECK("purchase_lines"."arrived_packs" <= "purchase_lines"."packs"),
	CONSTRAINT "price_cents_whole" CHECK((typeof("purchase_lines"."price_cents") = 'integer' and "purchase_lines"."price_cents" between 0 and 100000000000)),
	CONSTRAINT "version_whole" CHECK((typeof("purchase_lines"."version") = 'integer' and "purchase_lines"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE INDEX `purchase_lines_purchase` ON `purchase_lines` (`purchase_id`);--> statement-breakpoint
CREATE INDEX `purchase_lines_offer` ON `purchase_lines` (`offer_id`);--> statement-breakpoint
CREATE TABLE `purchases` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`supplier_id` integer NOT NULL,
	`state` text NOT NULL,
	`ordered_day` text NOT NULL,
	`expected_day` text NOT NULL,
	`shipping_cents` integer NOT NULL,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`supplier_id`) REFERENCES `suppliers`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "state_one_of" CHECK("purchases"."state" in ('ordered', 'arrived', 'cancelled')),
	CONSTRAINT "ordered_day_day" CHECK(("purchases"."ordered_day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("purchases"."ordered_day") is "purchases"."ordered_day")),
	CONSTRAINT "expected_day_day" CHECK(("purchases"."expected_day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("purchases"."expected_day") is "purchases"."expected_day")),
	CONSTRAINT "expected_after_ordered" CHECK("purchases"."expected_day" >= "purchases"."ordered_day"),
	CONSTRAINT "shipping_cents_whole" CHECK((typeof("purchases"."shipping_cents") = 'integer' and "purchases"."shipping_cents" between 0 and 100000000000)),
	CONSTRAINT "version_whole" CHECK((typeof("purchases"."version") = 'integer' and "purchases"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE INDEX `purchases_state` ON `purchases` (`state`);--> statement-breakpoint
CREATE TABLE `suppliers` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`name` text NOT NULL,
	`shipping_cents` integer NOT NULL,
	`free_from_cents` integer,
	`minimum_cents` integer NOT NULL,
	`delivery_days` integer NOT NULL,
	`rank` integer NOT NULL,
	`version` integer DEFAULT 1 NOT NULL,
	CONSTRAINT "name_words" CHECK((typeof("suppliers"."name") = 'text' and length(trim("suppliers"."name")) > 0 and length("suppliers"."name") <= 200)),
	CONSTRAINT "shipping_cents_whole" CHECK((typeof("suppliers"."shipping_cents") = 'integer' and "suppliers"."shipping_cents" between 0 and 100000000000)),
	CONSTRAINT "free_from_cents_whole" CHECK("suppliers"."free_from_cents" is null or (typeof("suppliers"."free_from_cents") = 'integer' and "suppliers"."free_from_cents" between 0 and 100000000000)),
	CONSTRAINT "minimum_cents_whole" CHECK((typeof("suppliers"."minimum_cents") = 'integer' and "suppliers"."minimum_cents" between 0 and 100000000000)),
	CONSTRAINT "delivery_days_whole" CHECK((typeof("suppliers"."delivery_days") = 'integer' and "suppliers"."delivery_days" between 0 and 365)),
	CONSTRAINT "rank_whole" CHECK((typeof("suppliers"."rank") = 'integer' and "suppliers"."rank" between 0 and 9007199254740991)),
	CONSTRAINT "version_whole" CHECK((typeof("suppliers"."version") = 'integer' and "suppliers"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `suppliers_name_unique` ON `suppliers` (`name`);--> statement-breakpoint
CREATE TABLE `swatches` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`knitter_id` integer,
	`yarn_id` integer NOT NULL,
	`second_yarn_id` integer,
	`strands` integer NOT NULL,
	`needle_mm` real,
	`fabric` text NOT NULL,
	`stitches` real NOT NULL,
	`rows` real NOT NULL,
	`width_mm` real NOT NULL,
	`height_mm` real NOT NULL,
	`mass_mg` integer,
	`washed` integer NOT NULL,
	`made_day` text,
	`left_out_reason` text,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`knitter_id`) REFERENCES `knitters`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`yarn_id`) REFERENCES `yarns`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`second_yarn_id`) REFERENCES `yarns`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "strands_whole" CHECK((typeof("swatches"."strands") = 'integer' and "swatches"."strands" between 1 and 3)),
	CONSTRAINT "two_yarns_two_strands" CHECK("swatches"."second_yarn_id" is null or "swatches"."strands" = 2),
	CONSTRAINT "needle_mm_above_0" CHECK("swatches"."needle_mm" is null or (typeof("swatches"."needle_mm") = 'real' and "swatches"."needle_mm" > 0 and "swatches"."needle_mm" <= 50)),
	CONSTRAINT "fabric_words" CHECK((typeof("swatches"."fabric") = 'text' and length(trim("swatches"."fabric")) > 0 and length("swatches"."fabric") <= 200)),
	CONSTRAINT "stitches_above_0" CHECK((typeof("swatches"."stitches") = 'real' and "swatches"."stitches" > 0 and "swatches"."stitches" <= 1000)),
	CONSTRAINT "rows_above_0" CHECK((typeof("swatches"."rows") = 'real' and "swatches"."rows" > 0 and "swatches"."rows" <= 1000)),
	CONSTRAINT "width_mm_above_0" CHECK((typeof("swatches"."width_mm") = 'real' and "swatches"."width_mm" > 0 and "swatches"."width_mm" <= 2000)),
	CONSTRAINT "height_mm_above_0" CHECK((typeof("swatches"."height_mm") = 'real' and "swatches"."height_mm" > 0 and "swatches"."height_mm" <= 2000)),
	CONSTRAINT "mass_mg_whole" CHECK("swatches"."mass_mg" is null or (typeof("swatches"."mass_mg") = 'integer' and "swatches"."mass_mg" between 1 and 1000000000)),
	CONSTRAINT "washed_yes_or_no" CHECK("swatches"."washed" in (0, 1)),
	CONSTRAINT "made_day_day" CHECK("swatches"."made_day" is null or ("swatches"."made_day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("swatches"."made_day") is "swatches"."made_day")),
	CONSTRAINT "left_out_reason_words" CHECK("swatches"."left_out_reason" is null or (typeof("swatches"."left_out_reason") = 'text' and length(trim("swatches"."left_out_reason")) > 0 and length("swatches"."left_out_reason") <= 200)),
	CONSTRAINT "version_whole" CHECK((typeof("swatches"."version") = 'integer' and "swatches"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE INDEX `swatches_yarn` ON `swatches` (`yarn_id`);--> statement-breakpoint
CREATE INDEX `swatches_knitter` ON `swatches` (`knitter_id`);--> statement-breakpoint
CREATE TABLE `days_off` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`knitter_id` integer,
	`from_day` text NOT NULL,
	`to_day` text NOT NULL,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`knitter_id`) REFERENCES `knitters`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "from_day_day" CHECK(("days_off"."from_day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("days_off"."from_day") is "days_off"."from_day")),
	CONSTRAINT "to_day_day" CHECK(("days_off"."to_day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("days_off"."to_day") is "days_off"."to_day")),
	CONSTRAINT "from_before_to" CHECK("days_off"."from_day" <= "days_off"."to_day"),
	CONSTRAINT "version_whole" CHECK((typeof("days_off"."version") = 'integer' and "days_off"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE INDEX `days_off_knitter` ON `days_off` (`knitter_id`);--> statement-breakpoint
CREATE TABLE `knitter_hours` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`knitter_id` integer NOT NULL,
	`weekday` integer NOT NULL,
	`minutes` integer NOT NULL,
	FOREIGN KEY (`knitter_id`) REFERENCES `knitters`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "weekday_whole" CHECK((typeof("knitter_hours"."weekday") = 'integer' and "knitter_hours"."weekday" between 1 and 7)),
	CONSTRAINT "minutes_whole" CHECK((typeof("knitter_hours"."minutes") = 'integer' and "knitter_hours"."minutes" between 0 and 1440))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `knitter_hours_once` ON `knitter_hours` (`knitter_id`,`weekday`);--> statement-breakpoint
CREATE TABLE `knitter_rates` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`knitter_id` integer NOT NULL,
	`operation` text NOT NULL,
	`value` real NOT NULL,
	FOREIGN KEY (`knitter_id`) REFERENCES `knitters`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "operation_one_of" CHECK("knitter_rates"."operation" in ('stitchesPerMin', 'castOnPerMin', 'twoTogetherPerMin', 'bindOffPerMin', 'turnMin', 'seamMinPer10Cm', 'endMin', 'colourChangeMin', 'drawUpMin', 'setUpMin')),
	CONSTRAINT "value_above_0" CHECK((typeof("knitter_rates"."value") = 'real' and "knitter_rates"."value" > 0 and "knitter_rates"."value" <= 1000))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `knitter_rates_once` ON `knitter_rates` (`knitter_id`,`operation`);--> statement-breakpoint
CREATE TABLE `knitters` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`name` text NOT NULL,
	`hand` text DEFAULT 'usual' NOT NULL,
	`daily_cap_min` integer DEFAULT 240 NOT NULL,
	`pairs_a_month` real,
	`last_day` text,
	`words` text DEFAULT 'british' NOT NULL,
	`active` integer DEFAULT true NOT NULL,
	`version` integer DEFAULT 1 NOT NULL,
	CONSTRAINT "name_words" CHECK((typeof("knitters"."name") = 'text' and length(trim("knitters"."name")) > 0 and length("knitters"."name") <= 200)),
	CONSTRAINT "hand_one_of" CHECK("knitters"."hand" in ('loose', 'usual', 'tight')),
	CONSTRAINT "daily_cap_min_whole" CHECK((typeof("knitters"."daily_cap_min") = 'integer' and "knitters"."daily_cap_min" between 0 and 1440)),
	CONSTRAINT "pairs_a_month_above_0" CHECK("knitters"."pairs_a_month" is null or (typeof("knitters"."pairs_a_month") = 'real' and "knitters"."pairs_a_month" > 0 and "knitters"."pairs_a_month" <= 1000)),
	CONSTRAINT "last_day_day" CHECK("knitters"."last_day" is null or ("knitters"."last_day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("knitters"."last_day") is "knitters"."last_day")),
	CONSTRAINT "words_one_of" CHECK("knitters"."words" in ('british', 'american')),
	CONSTRAINT "active_yes_or_no" CHECK("knitters"."active" in (0, 1)),
	CONSTRAINT "version_whole" CHECK((typeof("knitters"."version") = 'integer' and "knitters"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `knitters_name_unique` ON `knitters` (`name`);--> statement-breakpoint
CREATE TABLE `customers` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`name` text NOT NULL,
	`contact` text,
	`version` integer DEFAULT 1 NOT NULL,
	CONSTRAINT "name_words" CHECK((typeof("customers"."name") = 'text' and length(trim("customers"."name")) > 0 and length("customers"."name") <= 200)),
	CONSTRAINT "contact_words" CHECK("customers"."contact" is null or (typeof("customers"."contact") = 'text' and length(trim("customers"."contact")) > 0 and length("customers"."contact") <= 1000)),
	CONSTRAINT "version_whole" CHECK((typeof("customers"."version") = 'integer' and "customers"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE TABLE `imports` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`content_hash` text NOT NULL,
	`file_name` text NOT NULL,
	`at_ms` integer NOT NULL,
	CONSTRAINT "content_hash_words" CHECK((typeof("imports"."content_hash") = 'text' and length(trim("imports"."content_hash")) > 0 and length("imports"."content_hash") <= 200)),
	CONSTRAINT "file_name_words" CHECK((typeof("imports"."file_name") = 'text' and length(trim("imports"."file_name")) > 0 and length("imports"."file_name") <= 500)),
	CONSTRAINT "at_ms_whole" CHECK((typeof("imports"."at_ms") = 'integer' and "imports"."at_ms" between 0 and 9007199254740991))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `imports_content_hash_unique` ON `imports` (`content_hash`);--> statement-breakpoint
CREATE TABLE `line_colours` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`line_id` integer NOT NULL,
	`role` text NOT NULL,
	`strand` integer NOT NULL,
	`yarn_colour_id` integer NOT NULL,
	FOREIGN KEY (`line_id`) REFERENCES `order_lines`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`yarn_colour_id`) REFERENCES `yarn_colours`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "role_words" CHECK((typeof("line_colours"."role") = 'text' and length(trim("line_colours"."role")) > 0 and length("line_colours"."role") <= 200)),
	CONSTRAINT "strand_whole" CHECK((typeof("line_colours"."strand") = 'integer' and "line_colours"."strand" between 0 and 9))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `line_colours_place` ON `line_colours` (`line_id`,`role`,`strand`);--> statement-breakpoint
CREATE INDEX `line_colours_yarn_colour` ON `line_colours` (`yarn_colour_id`);--> statement-breakpoint
CREATE TABLE `order_lines` (
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
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`order_id`) REFERENCES `orders`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`style_id`) REFERENCES `styles`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`band_id`) REFERENCES `size_bands`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`foot_id`) REFERENCES `feet`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "person_one_of" CHECK("order_lines"."person" is null or "order_lines"."person" in ('woman', 'man', 'child', 'unknown')),
	CONSTRAINT "size_system_words" CHECK("order_lines"."size_system" is null or (typeof("order_lines"."size_system") = 'text' and length(trim("order_lines"."size_system")) > 0 and length("order_lines"."size_system") <= 200)),
	CONSTRAINT "size_label_words" CHECK("order_lines"."size_label" is null or (typeof("order_lines"."size_label") = 'text' and length(trim("order_lines"."size_label")) > 0 and length("order_lines"."size_label") <= 200)),
	CONSTRAINT "one_size" CHECK(("order_lines"."person" is not null and "order_lines"."size_system" is not null and "order_lines"."size_label" is not null and "order_lines"."band_id" is null and "order_lines"."foot_id" is null) or ("order_lines"."person" is null and "order_lines"."size_system" is null and "order_lines"."size_label" is null and ("order_lines"."band_id" is null) <> ("order_lines"."foot_id" is null))),
	CONSTRAINT "fit_one_of" CHECK("order_lines"."fit" in ('snug', 'usual', 'roomy')),
	CONSTRAINT "cuff_height_mm_measure" CHECK("order_lines"."cuff_height_mm" is null or (typeof("order_lines"."cuff_height_mm") = 'real' and "order_lines"."cuff_height_mm" between 0 and 500)),
	CONSTRAINT "quantity_whole" CHECK((typeof("order_lines"."quantity") = 'integer' and "order_lines"."quantity" between 1 and 999)),
	CONSTRAINT "agreed_cents_whole" CHECK("order_lines"."agreed_cents" is null or (typeof("order_lines"."agreed_cents") = 'integer' and "order_lines"."agreed_cents" between 0 and 100000000000)),
	CONSTRAINT "version_whole" CHECK((typeof("order_lines"."version") = 'integer' and "order_lines"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE INDEX `order_lines_order` ON `order_lines` (`order_id`);--> statement-breakpoint
CREATE TABLE `orders` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`number` integer NOT NULL,
	`customer_id` integer,
	`outlet_id` integer NOT NULL,
	`state` text NOT NULL,
	`created_day` text NOT NULL,
	`due_day` text,
	`arrive_by_day` text,
	`valid_until_day` text,
	`promised_day` text,
	`address` text,
	`reference` text,
	`deposit_cents` integer,
	`import_id` integer,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`customer_id`) REFERENCES `customers`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`outlet_id`) REFERENCES `outlets`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`import_id`) REFERENCES `imports`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "number_whole" CHECK((typeof("orders"."number") = 'integer' and "orders"."number" between 1 and 9007199254740991)),
	CONSTRAINT "state_one_of" CHECK("orders"."state" in ('asked', 'agreed', 'cancelled')),
	CONSTRAINT "created_day_day" CHECK(("orders"."created_day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("orders"."created_day") is "orders"."created_day")),
	CONSTRAINT "due_day_day" CHECK("orders"."due_day" is null or ("orders"."due_day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("orders"."due_day") is "orders"."due_day")),
	CONSTRAINT "arrive_by_day_day" CHECK("orders"."arrive_by_day" is null or ("orders"."arrive_by_day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("orders"."arrive_by_day") is "orders"."arrive_by_day")),
	CONSTRAINT "valid_until_day_day" CHECK("orders"."valid_until_day" is null or ("orders"."valid_until_day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("orders"."valid_until_day") is "orders"."valid_until_day")),
	CONSTRAINT "promised_day_day" CHECK("orders"."promised_day" is null or ("orders"."promised_day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("orders"."promised_day") is "orders"."promised_day")),
	CONSTRAINT "address_words" CHECK("orders"."address" is null or (typeof("orders"."address") = 'text' and length(trim("orders"."address")) > 0 and length("orders"."address") <= 1000)),
	CONSTRAINT "reference_words" CHECK("orders"."reference" is null or (typeof("orders"."reference") = 'text' and length(trim("orders"."reference")) > 0 and length("orders"."reference") <= 200)),
	CONSTRAINT "deposit_cents_whole" CHECK("orders"."deposit_cents" is null or (typeof("orders"."deposit_cents") = 'integer' and "orders"."deposit_cents" between 0 and 100000000000)),
	CONSTRAINT "version_whole" CHECK((typeof("orders"."version") = 'integer' and "orders"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `orders_number_unique` ON `orders` (`number`);--> statement-breakpoint
CREATE INDEX `orders_state` ON `orders` (`state`);--> statement-breakpoint
CREATE INDEX `orders_reference` ON `orders` (`customer_id`,`reference`);--> statement-breakpoint
CREATE TABLE `expenses` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`day` text NOT NULL,
	`kind` text NOT NULL,
	`cents` integer NOT NULL,
	`version` integer DEFAULT 1 NOT NULL,
	CONSTRAINT "day_day" CHECK(("expenses"."day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("expenses"."day") is "expenses"."day")),
	CONSTRAINT "kind_words" CHECK((typeof("expenses"."kind") = 'text' and length(trim("expenses"."kind")) > 0 and length("expenses"."kind") <= 200)),
	CONSTRAINT "cents_whole" CHECK((typeof("expenses"."cents") = 'integer' and "expenses"."cents" between 0 and 100000000000)),
	CONSTRAINT "version_whole" CHECK((typeof("expenses"."version") = 'integer' and "expenses"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE TABLE `outlets` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`name` text NOT NULL,
	`kind` text NOT NULL,
	`rank` integer NOT NULL,
	`price_rule` text NOT NULL,
	`price_ratio` real NOT NULL,
	`fixed_price_cents` integer,
	`fee_ratio` real DEFAULT 0 NOT NULL,
	`fee_fixed_cents` integer DEFAULT 0 NOT NULL,
	`tax_ratio` real DEFAULT 0 NOT NULL,
	`tax_included` integer DEFAULT true NOT NULL,
	`rounding` text DEFAULT 'line' NOT NULL,
	`ending_cents` integer,
	`deposit_ratio` real DEFAULT 0 NOT NULL,
	`closed` integer DEFAULT false NOT NULL,
	`version` integer DEFAULT 1 NOT NULL,
	CONSTRAINT "name_words" CHECK((typeof("outlets"."name") = 'text' and length(trim("outlets"."name")) > 0 and length("outlets"."name") <= 200)),
	CONSTRAINT "kind_one_of" CHECK("outlets"."kind" in ('fair', 'order', 'shop', 'gift')),
	CONSTRAINT "rank_whole" CHECK((typeof("outlets"."rank") = 'integer' and "outlets"."rank" between 0 and 9007199254740991)),
	CONSTRAINT "price_rule_one_of" CHECK("outlets"."price_rule" in ('margin', 'markup', 'fixed')),
	CONSTRAINT "price_ratio_measure" CHECK((typeof("outlets"."price_ratio") = 'real' and "outlets"."price_ratio" between 0 and 100)),
	CONSTRAINT "margin_below_1" CHECK("outlets"."price_rule" <> 'margin' or "outlets"."price_ratio" < 1),
	CONSTRAINT "fixed_price_cents_whole" CHECK("outlets"."fixed_price_cents" is null or (typeof("outlets"."fixed_price_cents") = 'integer' and "outlets"."fixed_price_cents" between 0 and 100000000000)),
	CONSTRAINT "fixed_has_price" CHECK(("outlets"."price_rule" = 'fixed') = ("outlets"."fixed_price_cents" is not null)),
	CONSTRAINT "fee_ratio_measure" CHECK((typeof("outlets"."fee_ratio") = 'real' and "outlets"."fee_ratio" between 0 and 1)),
	CONSTRAINT "fee_below_1" CHECK("outlets"."fee_ratio" < 1),
	CONSTRAINT "fee_fixed_cents_whole" CHECK((typeof("outlets"."fee_fixed_cents") = 'integer' and "outlets"."fee_fixed_cents" between 0 and 100000000000)),
	CONSTRAINT "tax_ratio_measure" CHECK((typeof("outlets"."tax_ratio") = 'real' and "outlets"."tax_ratio" between 0 and 1)),
	CONSTRAINT "tax_included_yes_or_no" CHECK("outlets"."tax_included" in (0, 1)),
	CONSTRAINT "rounding_one_of" CHECK("outlets"."rounding" in ('line', 'invoice')),
	CONSTRAINT "ending_cents_whole" CHECK("outlets"."ending_cents" is null or (typeof("outlets"."ending_cents") = 'integer' and "outlets"."ending_cents" between 0 and 99)),
	CONSTRAINT "deposit_ratio_measure" CHECK((typeof("outlets"."deposit_ratio") = 'real' and "outlets"."deposit_ratio" between 0 and 1)),
	CONSTRAINT "closed_yes_or_no" CHECK("outlets"."closed" in (0, 1)),
	CONSTRAINT "version_whole" CHECK((typeof("outlets"."version") = 'integer' and "outlets"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `outlets_name_unique` ON `outlets` (`name`);--> statement-breakpoint
CREATE TABLE `ball_moves` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`ball_id` integer NOT NULL,
	`change_mg` integer NOT NULL,
	`reason` text NOT NULL,
	`day` text NOT NULL,
	`pair_id` integer,
	`purchase_line_id` integer,
	`reverses_id` integer,
	FOREIGN KEY (`ball_id`) REFERENCES `balls`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`pair_id`) REFERENCES `pairs`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`purchase_line_id`) REFERENCES `purchase_lines`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`reverses_id`) REFERENCES `ball_moves`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "change_mg_whole" CHECK((typeof("ball_moves"."change_mg") = 'integer' and "ball_moves"."change_mg" between -1000000000 and 1000000000)),
	CONSTRAINT "reason_one_of" CHECK("ball_moves"."reason" in ('bought', 'given', 'wound off', 'used', 'weighed', 'lost', 'back')),
	CONSTRAINT "change_fits_reason" CHECK("ball_moves"."reverses_id" is not null or ("ball_moves"."reason" in ('bought', 'given') and "ball_moves"."change_mg" > 0) or ("ball_moves"."reason" in ('used', 'lost', 'back') and "ball_moves"."change_mg" < 0) or ("ball_moves"."reason" = 'wound off' and "ball_moves"."change_mg" <> 0) or "ball_moves"."reason" = 'weighed'),
	CONSTRAINT "day_day" CHECK(("ball_moves"."day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("ball_moves"."day") is "ball_moves"."day"))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `ball_moves_reverses_id_unique` ON `ball_moves` (`reverses_id`);--> statement-breakpoint
CREATE INDEX `ball_moves_ball` ON `ball_moves` (`ball_id`);--> statement-breakpoint
CREATE TABLE `balls` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`lot_id` integer NOT NULL,
	`mass_mg` integer NOT NULL,
	`knitter_id` integer,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`lot_id`) REFERENCES `lots`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`knitter_id`) REFERENCES `knitters`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "mass_mg_whole" CHECK((typeof("balls"."mass_mg") = 'integer' and "balls"."mass_mg" between 0 and 1000000000)),
	CONSTRAINT "version_whole" CHECK((typeof("balls"."version") = 'integer' and "balls"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE INDEX `balls_lot` ON `balls` (`lot_id`);--> statement-breakpoint
CREATE TABLE `lots` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`yarn_colour_id` integer NOT NULL,
	`dye_lot` text,
	`donor` text,
	`got_day` text NOT NULL,
	`returnable_until_day` text,
	`paid_cents` integer NOT NULL,
	`bought_mg` integer NOT NULL,
	`worth_cents` integer,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`yarn_colour_id`) REFERENCES `yarn_colours`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "dye_lot_words" CHECK("lots"."dye_lot" is null or (typeof("lots"."dye_lot") = 'text' and length(trim("lots"."dye_lot")) > 0 and length("lots"."dye_lot") <= 200)),
	CONSTRAINT "donor_words" CHECK("lots"."donor" is null or (typeof("lots"."donor") = 'text' and length(trim("lots"."donor")) > 0 and length("lots"."donor") <= 200)),
	CONSTRAINT "got_day_day" CHECK(("lots"."got_day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("lots"."got_day") is "lots"."got_day")),
	CONSTRAINT "returnable_until_day_day" CHECK("lots"."returnable_until_day" is null or ("lots"."returnable_until_day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("lots"."returnable_until_day") is "lots"."returnable_until_day")),
	CONSTRAINT "paid_cents_whole" CHECK((typeof("lots"."paid_cents") = 'integer' and "lots"."paid_cents" between 0 and 100000000000)),
	CONSTRAINT "bought_mg_whole" CHECK((typeof("lots"."bought_mg") = 'integer' and "lots"."bought_mg" between 1 and 1000000000)),
	CONSTRAINT "worth_cents_whole" CHECK("lots"."worth_cents" is null or (typeof("lots"."worth_cents") = 'integer' and "lots"."worth_cents" between 0 and 100000000000)),
	CONSTRAINT "version_whole" CHECK((typeof("lots"."version") = 'integer' and "lots"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE INDEX `lots_yarn_colour` ON `lots` (`yarn_colour_id`);--> statement-breakpoint
CREATE TABLE `reservations` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`batch_id` integer NOT NULL,
	`lot_id` integer NOT NULL,
	`mass_mg` integer NOT NULL,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`batch_id`) REFERENCES `batches`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`lot_id`) REFERENCES `lots`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "mass_mg_whole" CHECK((typeof("reservations"."mass_mg") = 'integer' and "reservations"."mass_mg" between 0 and 1000000000)),
	CONSTRAINT "version_whole" CHECK((typeof("reservations"."version") = 'integer' and "reservations"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `reservations_once` ON `reservations` (`batch_id`,`lot_id`);--> statement-breakpoint
CREATE INDEX `reservations_lot` ON `reservations` (`lot_id`);--> statement-breakpoint
CREATE TABLE `yarn_colours` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`yarn_id` integer NOT NULL,
	`name` text NOT NULL,
	`swatch_hex` text NOT NULL,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`yarn_id`) REFERENCES `yarns`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "name_words" CHECK((typeof("yarn_colours"."name") = 'text' and length(trim("yarn_colours"."name")) > 0 and length("yarn_colours"."name") <= 200)),
	CONSTRAINT "swatch_hex_colours" CHECK("yarn_colours"."swatch_hex" glob '#[0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F]' or "yarn_colours"."swatch_hex" glob '#[0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F] #[0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F]' or "yarn_colours"."swatch_hex" glob '#[0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F] #[0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F] #[0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F]' or "yarn_colours"."swatch_hex" glob '#[0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F] #[0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F] #[0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F] #[0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F][0-9a-fA-F]'),
	CONSTRAINT "version_whole" CHECK((typeof("yarn_colours"."version") = 'integer' and "yarn_colours"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `yarn_colours_name` ON `yarn_colours` (`yarn_id`,`name`);--> statement-breakpoint
CREATE TABLE `yarns` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`name` text NOT NULL,
	`fibre` text,
	`tex` real NOT NULL,
	`ball_mg` integer NOT NULL,
	`category` integer NOT NULL,
	`usual_strands` integer DEFAULT 1 NOT NULL,
	`needle_mm` real,
	`usual_stitches_per_10_cm` real,
	`version` integer DEFAULT 1 NOT NULL,
	CONSTRAINT "name_words" CHECK((typeof("yarns"."name") = 'text' and length(trim("yarns"."name")) > 0 and length("yarns"."name") <= 200)),
	CONSTRAINT "fibre_words" CHECK("yarns"."fibre" is null or (typeof("yarns"."fibre") = 'text' and length(trim("yarns"."fibre")) > 0 and length("yarns"."fibre") <= 200)),
	CONSTRAINT "tex_above_0" CHECK((typeof("yarns"."tex") = 'real' and "yarns"."tex" > 0 and "yarns"."tex" <= 20000)),
	CONSTRAINT "ball_mg_whole" CHECK((typeof("yarns"."ball_mg") = 'integer' and "yarns"."ball_mg" between 1 and 1000000000)),
	CONSTRAINT "category_whole" CHECK((typeof("yarns"."category") = 'integer' and "yarns"."category" between 0 and 7)),
	CONSTRAINT "usual_strands_whole" CHECK((typeof("yarns"."usual_strands") = 'integer' and "yarns"."usual_strands" between 1 and 3)),
	CONSTRAINT "needle_mm_above_0" CHECK("yarns"."needle_mm" is null or (typeof("yarns"."needle_mm") = 'real' and "yarns"."needle_mm" > 0 and "yarns"."needle_mm" <= 50)),
	CONSTRAINT "usual_stitches_per_10_cm_above_0" CHECK("yarns"."usual_stitches_per_10_cm" is null or (typeof("yarns"."usual_stitches_per_10_cm") = 'real' and "yarns"."usual_stitches_per_10_cm" > 0 and "yarns"."usual_stitches_per_10_cm" <= 200)),
	CONSTRAINT "version_whole" CHECK((typeof("yarns"."version") = 'integer' and "yarns"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `yarns_name_unique` ON `yarns` (`name`);--> statement-breakpoint
CREATE TABLE `feet` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`customer_id` integer,
	`name` text,
	`person` text NOT NULL,
	`left_length_mm` real NOT NULL,
	`right_length_mm` real NOT NULL,
	`left_ball_girth_mm` real,
	`right_ball_girth_mm` real,
	`left_heel_ankle_girth_mm` real,
	`right_heel_ankle_girth_mm` real,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`customer_id`) REFERENCES `customers`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "name_words" CHECK("feet"."name" is null or (typeof("feet"."name") = 'text' and length(trim("feet"."name")) > 0 and length("feet"."name") <= 200)),
	CONSTRAINT "person_one_of" CHECK("feet"."person" in ('woman', 'man', 'child', 'unknown')),
	CONSTRAINT "left_length_mm_measure" CHECK((typeof("feet"."left_length_mm") = 'real' and "feet"."left_length_mm" between 50 and 400)),
	CONSTRAINT "right_length_mm_measure" CHECK((typeof("feet"."right_length_mm") = 'real' and "feet"."right_length_mm" between 50 and 400)),
	CONSTRAINT "left_ball_girth_mm_measure" CHECK("feet"."left_ball_girth_mm" is null or (typeof("feet"."left_ball_girth_mm") = 'real' and "feet"."left_ball_girth_mm" between 50 and 600)),
	CONSTRAINT "right_ball_girth_mm_measure" CHECK("feet"."right_ball_girth_mm" is null or (typeof("feet"."right_ball_girth_mm") = 'real' and "feet"."right_ball_girth_mm" between 50 and 600)),
	CONSTRAINT "left_heel_ankle_girth_mm_measure" CHECK("feet"."left_heel_ankle_girth_mm" is null or (typeof("feet"."left_heel_ankle_girth_mm") = 'real' and "feet"."left_heel_ankle_girth_mm" between 50 and 800)),
	CONSTRAINT "right_heel_ankle_girth_mm_measure" CHECK("feet"."right_heel_ankle_girth_mm" is null or (typeof("feet"."right_heel_ankle_girth_mm") = 'real' and "feet"."right_heel_ankle_girth_mm" between 50 and 800)),
	CONSTRAINT "version_whole" CHECK((typeof("feet"."version") = 'integer' and "feet"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE TABLE `size_bands` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`name` text NOT NULL,
	`person` text,
	`from_mm` real NOT NULL,
	`to_mm` real NOT NULL,
	`rank` integer NOT NULL,
	`version` integer DEFAULT 1 NOT NULL,
	CONSTRAINT "name_words" CHECK((typeof("size_bands"."name") = 'text' and length(trim("size_bands"."name")) > 0 and length("size_bands"."name") <= 200)),
	CONSTRAINT "person_one_of" CHECK("size_bands"."person" is null or "size_bands"."person" in ('woman', 'man', 'child', 'unknown')),
	CONSTRAINT "from_mm_measure" CHECK((typeof("size_bands"."from_mm") = 'real' and "size_bands"."from_mm" between 50 and 400)),
	CONSTRAINT "to_mm_measure" CHECK((typeof("size_bands"."to_mm") = 'real' and "size_bands"."to_mm" between 50 and 400)),
	CONSTRAINT "from_before_to" CHECK("size_bands"."from_mm" <= "size_bands"."to_mm"),
	CONSTRAINT "rank_whole" CHECK((typeof("size_bands"."rank") = 'integer' and "size_bands"."rank" between 0 and 9007199254740991)),
	CONSTRAINT "version_whole" CHECK((typeof("size_bands"."version") = 'integer' and "size_bands"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE TABLE `materials` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`name` text NOT NULL,
	`each_cents` integer NOT NULL,
	`version` integer DEFAULT 1 NOT NULL,
	CONSTRAINT "name_words" CHECK((typeof("materials"."name") = 'text' and length(trim("materials"."name")) > 0 and length("materials"."name") <= 200)),
	CONSTRAINT "each_cents_whole" CHECK((typeof("materials"."each_cents") = 'integer' and "materials"."each_cents" between 0 and 100000000000)),
	CONSTRAINT "version_whole" CHECK((typeof("materials"."version") = 'integer' and "materials"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `materials_name_unique` ON `materials` (`name`);--> statement-breakpoint
CREATE TABLE `style_materials` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`style_id` integer NOT NULL,
	`material_id` integer NOT NULL,
	`per_pair` real NOT NULL,
	FOREIGN KEY (`style_id`) REFERENCES `styles`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`material_id`) REFERENCES `materials`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "per_pair_above_0" CHECK((typeof("style_materials"."per_pair") = 'real' and "style_materials"."per_pair" > 0 and "style_materials"."per_pair" <= 10000))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `style_materials_once` ON `style_materials` (`style_id`,`material_id`);--> statement-breakpoint
CREATE INDEX `style_materials_material` ON `style_materials` (`material_id`);--> statement-breakpoint
CREATE TABLE `style_versions` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`style_id` integer NOT NULL,
	`number` integer NOT NULL,
	`format` integer NOT NULL,
	`body_json` text NOT NULL,
	FOREIGN KEY (`style_id`) REFERENCES `styles`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "number_whole" CHECK((typeof("style_versions"."number") = 'integer' and "style_versions"."number" between 1 and 9007199254740991)),
	CONSTRAINT "format_whole" CHECK((typeof("style_versions"."format") = 'integer' and "style_versions"."format" between 1 and 9007199254740991)),
	CONSTRAINT "body_json_json" CHECK(json_valid("style_versions"."body_json"))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `style_versions_number` ON `style_versions` (`style_id`,`number`);--> statement-breakpoint
CREATE TABLE `styles` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`name` text NOT NULL,
	`shipped` integer NOT NULL,
	`current_version_id` integer,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`current_version_id`) REFERENCES `style_versions`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "name_words" CHECK((typeof("styles"."name") = 'text' and length(trim("styles"."name")) > 0 and length("styles"."name") <= 200)),
	CONSTRAINT "shipped_yes_or_no" CHECK("styles"."shipped" in (0, 1)),
	CONSTRAINT "version_whole" CHECK((typeof("styles"."version") = 'integer' and "styles"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `styles_name_unique` ON `styles` (`name`);--> statement-breakpoint
CREATE TABLE `answers` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`problem_hash` text NOT NULL,
	`answer_json` text NOT NULL,
	`bound` real,
	`proven` integer NOT NULL,
	CONSTRAINT "problem_hash_words" CHECK((typeof("answers"."problem_hash") = 'text' and length(trim("answers"."problem_hash")) > 0 and length("answers"."problem_hash") <= 200)),
	CONSTRAINT "answer_json_json" CHECK(json_valid("answers"."answer_json")),
	CONSTRAINT "proven_yes_or_no" CHECK("answers"."proven" in (0, 1))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `answers_problem_hash_unique` ON `answers` (`problem_hash`);--> statement-breakpoint
CREATE TABLE `changes` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`at_ms` integer NOT NULL,
	`who` text,
	`flow` text NOT NULL,
	`table` text NOT NULL,
	`row` integer NOT NULL,
	`before_json` text,
	`after_json` text,
	CONSTRAINT "at_ms_whole" CHECK((typeof("changes"."at_ms") = 'integer' and "changes"."at_ms" between 0 and 9007199254740991)),
	CONSTRAINT "flow_words" CHECK((typeof("changes"."flow") = 'text' and length(trim("changes"."flow")) > 0 and length("changes"."flow") <= 200)),
	CONSTRAINT "table_words" CHECK((typeof("changes"."table") = 'text' and length(trim("changes"."table")) > 0 and length("changes"."table") <= 200)),
	CONSTRAINT "row_whole" CHECK((typeof("changes"."row") = 'integer' and "changes"."row" between 1 and 9007199254740991)),
	CONSTRAINT "before_json_json" CHECK("changes"."before_json" is null or json_valid("changes"."before_json")),
	CONSTRAINT "after_json_json" CHECK("changes"."after_json" is null or json_valid("changes"."after_json")),
	CONSTRAINT "before_or_after" CHECK("changes"."before_json" is not null or "changes"."after_json" is not null)
);
--> statement-breakpoint
CREATE INDEX `changes_row` ON `changes` (`table`,`row`);--> statement-breakpoint
CREATE TABLE `settings` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`name` text NOT NULL,
	`value_json` text NOT NULL,
	CONSTRAINT "name_words" CHECK((typeof("settings"."name") = 'text' and length(trim("settings"."name")) > 0 and length("settings"."name") <= 200)),
	CONSTRAINT "value_json_json" CHECK(json_valid("settings"."value_json"))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `settings_name_unique` ON `settings` (`name`);--> statement-breakpoint
CREATE TABLE `state` (
	`id` integer PRIMARY KEY NOT NULL,
	`born` text NOT NULL,
	`revision` integer NOT NULL,
	CONSTRAINT "only_one" CHECK("state"."id" = 1),
	CONSTRAINT "born_words" CHECK((typeof("state"."born") = 'text' and length(trim("state"."born")) > 0 and length("state"."born") <= 200)),
	CONSTRAINT "revision_whole" CHECK((typeof("state"."revision") = 'integer' and "state"."revision" between 0 and 9007199254740991))
);
