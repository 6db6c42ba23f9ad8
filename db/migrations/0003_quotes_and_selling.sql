CREATE TABLE `asked` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`fair_day_id` integer NOT NULL,
	`size` text,
	`colour` text,
	`count` integer NOT NULL,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`fair_day_id`) REFERENCES `fair_days`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "size_words" CHECK("asked"."size" is null or (typeof("asked"."size") = 'text' and length(trim("asked"."size")) > 0 and length("asked"."size") <= 200)),
	CONSTRAINT "colour_words" CHECK("asked"."colour" is null or (typeof("asked"."colour") = 'text' and length(trim("asked"."colour")) > 0 and length("asked"."colour") <= 200)),
	CONSTRAINT "count_whole" CHECK((typeof("asked"."count") = 'integer' and "asked"."count" between 1 and 9999)),
	CONSTRAINT "version_whole" CHECK((typeof("asked"."version") = 'integer' and "asked"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE INDEX `asked_day` ON `asked` (`fair_day_id`);--> statement-breakpoint
CREATE TABLE `fair_days` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`fair_id` integer NOT NULL,
	`day` text NOT NULL,
	`open_minutes` integer,
	`float_cents` integer NOT NULL,
	`cash_cents` integer,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`fair_id`) REFERENCES `fairs`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "day_day" CHECK(("fair_days"."day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("fair_days"."day") is "fair_days"."day")),
	CONSTRAINT "open_minutes_whole" CHECK("fair_days"."open_minutes" is null or (typeof("fair_days"."open_minutes") = 'integer' and "fair_days"."open_minutes" between 1 and 1440)),
	CONSTRAINT "float_cents_whole" CHECK((typeof("fair_days"."float_cents") = 'integer' and "fair_days"."float_cents" between 0 and 100000000000)),
	CONSTRAINT "cash_cents_whole" CHECK("fair_days"."cash_cents" is null or (typeof("fair_days"."cash_cents") = 'integer' and "fair_days"."cash_cents" between 0 and 100000000000)),
	CONSTRAINT "version_whole" CHECK((typeof("fair_days"."version") = 'integer' and "fair_days"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `fair_days_once` ON `fair_days` (`fair_id`,`day`);--> statement-breakpoint
CREATE TABLE `fair_pairs` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`fair_day_id` integer NOT NULL,
	`pair_id` integer NOT NULL,
	`came_home` integer,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`fair_day_id`) REFERENCES `fair_days`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`pair_id`) REFERENCES `pairs`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "came_home_yes_or_no" CHECK("fair_pairs"."came_home" is null or "fair_pairs"."came_home" in (0, 1)),
	CONSTRAINT "version_whole" CHECK((typeof("fair_pairs"."version") = 'integer' and "fair_pairs"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `fair_pairs_once` ON `fair_pairs` (`fair_day_id`,`pair_id`);--> statement-breakpoint
CREATE INDEX `fair_pairs_pair` ON `fair_pairs` (`pair_id`);--> statement-breakpoint
CREATE TABLE `fairs` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`name` text NOT NULL,
	`outlet_id` integer NOT NULL,
	`fee_cents` integer NOT NULL,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`outlet_id`) REFERENCES `outlets`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "name_words" CHECK((typeof("fairs"."name") = 'text' and length(trim("fairs"."name")) > 0 and length("fairs"."name") <= 200)),
	CONSTRAINT "fee_cents_whole" CHECK((typeof("fairs"."fee_cents") = 'integer' and "fairs"."fee_cents" between 0 and 100000000000)),
	CONSTRAINT "version_whole" CHECK((typeof("fairs"."version") = 'integer' and "fairs"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE TABLE `sale_lines` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`sale_id` integer NOT NULL,
	`pair_id` integer,
	`what` text NOT NULL,
	`price_cents` integer NOT NULL,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`sale_id`) REFERENCES `sales`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`pair_id`) REFERENCES `pairs`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "what_words" CHECK((typeof("sale_lines"."what") = 'text' and length(trim("sale_lines"."what")) > 0 and length("sale_lines"."what") <= 200)),
	CONSTRAINT "price_cents_whole" CHECK((typeof("sale_lines"."price_cents") = 'integer' and "sale_lines"."price_cents" between 0 and 100000000000)),
	CONSTRAINT "version_whole" CHECK((typeof("sale_lines"."version") = 'integer' and "sale_lines"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE INDEX `sale_lines_sale` ON `sale_lines` (`sale_id`);--> statement-breakpoint
CREATE INDEX `sale_lines_pair` ON `sale_lines` (`pair_id`);--> statement-breakpoint
CREATE TABLE `sales` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`till_key` text NOT NULL,
	`fair_day_id` integer,
	`outlet_id` integer NOT NULL,
	`day` text NOT NULL,
	`at_ms` integer NOT NULL,
	`how` text NOT NULL,
	`reverses_id` integer,
	FOREIGN KEY (`fair_day_id`) REFERENCES `fair_days`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`outlet_id`) REFERENCES `outlets`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`reverses_id`) REFERENCES `sales`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "till_key_words" CHECK((typeof("sales"."till_key") = 'text' and length(trim("sales"."till_key")) > 0 and length("sales"."till_key") <= 200)),
	CONSTRAINT "day_day" CHECK(("sales"."day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("sales"."day") is "sales"."day")),
	CONSTRAINT "at_ms_whole" CHECK((typeof("sales"."at_ms") = 'integer' and "sales"."at_ms" between 0 and 9007199254740991)),
	CONSTRAINT "how_one_of" CHECK("sales"."how" in ('cash', 'card', 'other'))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `sales_till_key_unique` ON `sales` (`till_key`);--> statement-breakpoint
CREATE UNIQUE INDEX `sales_reverses_id_unique` ON `sales` (`reverses_id`);--> statement-breakpoint
CREATE INDEX `sales_fair_day` ON `sales` (`fair_day_id`);--> statement-breakpoint
CREATE INDEX `sales_day` ON `sales` (`day`);--> statement-breakpoint
CREATE TABLE `extras` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`name` text NOT NULL,
	`cents` integer NOT NULL,
	`minutes` integer NOT NULL,
	`material_cents` integer NOT NULL,
	`version` integer DEFAULT 1 NOT NULL,
	CONSTRAINT "name_words" CHECK((typeof("extras"."name") = 'text' and length(trim("extras"."name")) > 0 and length("extras"."name") <= 200)),
	CONSTRAINT "cents_whole" CHECK((typeof("extras"."cents") = 'integer' and "extras"."cents" between 0 and 100000000000)),
	CONSTRAINT "minutes_whole" CHECK((typeof("extras"."minutes") = 'integer' and "extras"."minutes" between 0 and 10000)),
	CONSTRAINT "material_cents_whole" CHECK((typeof("extras"."material_cents") = 'integer' and "extras"."material_cents" between 0 and 100000000000)),
	CONSTRAINT "version_whole" CHECK((typeof("extras"."version") = 'integer' and "extras"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `extras_name_unique` ON `extras` (`name`);--> statement-breakpoint
CREATE TABLE `order_extras` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`order_id` integer NOT NULL,
	`name` text NOT NULL,
	`cents` integer NOT NULL,
	`minutes` integer NOT NULL,
	`material_cents` integer NOT NULL,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`order_id`) REFERENCES `orders`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "name_words" CHECK((typeof("order_extras"."name") = 'text' and length(trim("order_extras"."name")) > 0 and length("order_extras"."name") <= 200)),
	CONSTRAINT "cents_whole" CHECK((typeof("order_extras"."cents") = 'integer' and "order_extras"."cents" between 0 and 100000000000)),
	CONSTRAINT "minutes_whole" CHECK((typeof("order_extras"."minutes") = 'integer' and "order_extras"."minutes" between 0 and 10000)),
	CONSTRAINT "material_cents_whole" CHECK((typeof("order_extras"."material_cents") = 'integer' and "order_extras"."material_cents" between 0 and 100000000000)),
	CONSTRAINT "version_whole" CHECK((typeof("order_extras"."version") = 'integer' and "order_extras"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE INDEX `order_extras_order` ON `order_extras` (`order_id`);--> statement-breakpoint
CREATE TABLE `payments` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`order_id` integer NOT NULL,
	`day` text NOT NULL,
	`kind` text NOT NULL,
	`cents` integer NOT NULL,
	`how` text NOT NULL,
	`reverses_id` integer,
	FOREIGN KEY (`order_id`) REFERENCES `orders`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`reverses_id`) REFERENCES `payments`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "day_day" CHECK(("payments"."day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("payments"."day") is "payments"."day")),
	CONSTRAINT "kind_one_of" CHECK("payments"."kind" in ('deposit', 'balance', 'returned')),
	CONSTRAINT "cents_whole" CHECK((typeof("payments"."cents") = 'integer' and "payments"."cents" between 1 and 100000000000)),
	CONSTRAINT "how_one_of" CHECK("payments"."how" in ('cash', 'card', 'transfer', 'other'))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `payments_reverses_id_unique` ON `payments` (`reverses_id`);--> statement-breakpoint
CREATE INDEX `payments_order` ON `payments` (`order_id`);--> statement-breakpoint
CREATE INDEX `payments_day` ON `payments` (`day`);--> statement-breakpoint
CREATE TABLE `placements` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`pair_id` integer NOT NULL,
	`outlet_id` integer NOT NULL,
	`placed_day` text NOT NULL,
	`price_cents` integer NOT NULL,
	`share_ratio` real NOT NULL,
	`sold_day` text,
	`back_day` text,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`pair_id`) REFERENCES `pairs`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`outlet_id`) REFERENCES `outlets`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "placed_day_day" CHECK(("placements"."placed_day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("placements"."placed_day") is "placements"."placed_day")),
	CONSTRAINT "price_cents_whole" CHECK((typeof("placements"."price_cents") = 'integer' and "placements"."price_cents" between 0 and 100000000000)),
	CONSTRAINT "share_ratio_measure" CHECK((typeof("placements"."share_ratio") = 'real' and "placements"."share_ratio" between 0 and 1)),
	CONSTRAINT "sold_day_day" CHECK("placements"."sold_day" is null or ("placements"."sold_day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("placements"."sold_day") is "placements"."sold_day")),
	CONSTRAINT "back_day_day" CHECK("placements"."back_day" is null or ("placements"."back_day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("placements"."back_day") is "placements"."back_day")),
	CONSTRAINT "one_end" CHECK("placements"."sold_day" is null or "placements"."back_day" is null),
	CONSTRAINT "version_whole" CHECK((typeof("placements"."version") = 'integer' and "placements"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `placements_open` ON `placements` (`pair_id`) WHERE "placements"."sold_day" is null and "placements"."back_day" is null;--> statement-breakpoint
CREATE INDEX `placements_outlet` ON `placements` (`outlet_id`);--> statement-breakpoint
CREATE TABLE `shop_payments` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`outlet_id` integer NOT NULL,
	`day` text NOT NULL,
	`cents` integer NOT NULL,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`outlet_id`) REFERENCES `outlets`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "day_day" CHECK(("shop_payments"."day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("shop_payments"."day") is "shop_payments"."day")),
	CONSTRAINT "cents_whole" CHECK((typeof("shop_payments"."cents") = 'integer' and "shop_payments"."cents" between 1 and 100000000000)),
	CONSTRAINT "version_whole" CHECK((typeof("shop_payments"."version") = 'integer' and "shop_payments"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE INDEX `shop_payments_outlet` ON `shop_payments` (`outlet_id`);--> statement-breakpoint
CREATE TABLE `postage_bands` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`name` text NOT NULL,
	`up_to_g` integer NOT NULL,
	`cents` integer NOT NULL,
	`days` integer NOT NULL,
	`version` integer DEFAULT 1 NOT NULL,
	CONSTRAINT "name_words" CHECK((typeof("postage_bands"."name") = 'text' and length(trim("postage_bands"."name")) > 0 and length("postage_bands"."name") <= 200)),
	CONSTRAINT "up_to_g_whole" CHECK((typeof("postage_bands"."up_to_g") = 'integer' and "postage_bands"."up_to_g" between 1 and 100000)),
	CONSTRAINT "cents_whole" CHECK((typeof("postage_bands"."cents") = 'integer' and "postage_bands"."cents" between 0 and 100000000000)),
	CONSTRAINT "days_whole" CHECK((typeof("postage_bands"."days") = 'integer' and "postage_bands"."days" between 0 and 365)),
	CONSTRAINT "version_whole" CHECK((typeof("postage_bands"."version") = 'integer' and "postage_bands"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `postage_bands_once` ON `postage_bands` (`name`,`up_to_g`);--> statement-breakpoint
CREATE TABLE `price_groups` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`outlet_id` integer NOT NULL,
	`style_id` integer NOT NULL,
	`name` text NOT NULL,
	`from_mm` real NOT NULL,
	`to_mm` real NOT NULL,
	`price_cents` integer NOT NULL,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`outlet_id`) REFERENCES `outlets`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`style_id`) REFERENCES `styles`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "name_words" CHECK((typeof("price_groups"."name") = 'text' and length(trim("price_groups"."name")) > 0 and length("price_groups"."name") <= 200)),
	CONSTRAINT "from_mm_measure" CHECK((typeof("price_groups"."from_mm") = 'real' and "price_groups"."from_mm" between 50 and 400)),
	CONSTRAINT "to_mm_measure" CHECK((typeof("price_groups"."to_mm") = 'real' and "price_groups"."to_mm" between 50 and 400)),
	CONSTRAINT "to_after_from" CHECK("price_groups"."to_mm" >= "price_groups"."from_mm"),
	CONSTRAINT "price_cents_whole" CHECK((typeof("price_groups"."price_cents") = 'integer' and "price_groups"."price_cents" between 0 and 100000000000)),
	CONSTRAINT "version_whole" CHECK((typeof("price_groups"."version") = 'integer' and "price_groups"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
CREATE INDEX `price_groups_outlet` ON `price_groups` (`outlet_id`);--> statement-breakpoint
CREATE TABLE `prices_seen` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`day` text NOT NULL,
	`place` text NOT NULL,
	`what` text NOT NULL,
	`cents` integer NOT NULL,
	`version` integer DEFAULT 1 NOT NULL,
	CONSTRAINT "day_day" CHECK(("prices_seen"."day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("prices_seen"."day") is "prices_seen"."day")),
	CONSTRAINT "place_words" CHECK((typeof("prices_seen"."place") = 'text' and length(trim("prices_seen"."place")) > 0 and length("prices_seen"."place") <= 200)),
	CONSTRAINT "what_words" CHECK((typeof("prices_seen"."what") = 'text' and length(trim("prices_seen"."what")) > 0 and length("prices_seen"."what") <= 200)),
	CONSTRAINT "cents_whole" CHECK((typeof("prices_seen"."cents") = 'integer' and "prices_seen"."cents" between 0 and 100000000000)),
	CONSTRAINT "version_whole" CHECK((typeof("prices_seen"."version") = 'integer' and "prices_seen"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
PRAGMA foreign_keys=OFF;--> statement-breakpoint
CREATE TABLE `__new_orders` (
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
	`holds` integer DEFAULT false NOT NULL,
	`postage_cents` integer,
	`post_days` integer,
	`posted_day` text,
	`cancelled_day` text,
	`remarks` text,
	`import_id` integer,
	`version` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`customer_id`) REFERENCES `customers`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`outlet_id`) REFERENCES `outlets`(`id`) ON UPDATE no action ON DELETE restrict,
	FOREIGN KEY (`import_id`) REFERENCES `imports`(`id`) ON UPDATE no action ON DELETE restrict,
	CONSTRAINT "number_whole" CHECK((typeof("__new_orders"."number") = 'integer' and "__new_orders"."number" between 1 and 9007199254740991)),
	CONSTRAINT "state_one_of" CHECK("__new_orders"."state" in ('asked', 'agreed', 'cancelled')),
	CONSTRAINT "created_day_day" CHECK(("__new_orders"."created_day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("__new_orders"."created_day") is "__new_orders"."created_day")),
	CONSTRAINT "due_day_day" CHECK("__new_orders"."due_day" is null or ("__new_orders"."due_day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("__new_orders"."due_day") is "__new_orders"."due_day")),
	CONSTRAINT "arrive_by_day_day" CHECK("__new_orders"."arrive_by_day" is null or ("__new_orders"."arrive_by_day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("__new_orders"."arrive_by_day") is "__new_orders"."arrive_by_day")),
	CONSTRAINT "valid_until_day_day" CHECK("__new_orders"."valid_until_day" is null or ("__new_orders"."valid_until_day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("__new_orders"."valid_until_day") is "__new_orders"."valid_until_day")),
	CONSTRAINT "promised_day_day" CHECK("__new_orders"."promised_day" is null or ("__new_orders"."promised_day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("__new_orders"."promised_day") is "__new_orders"."promised_day")),
	CONSTRAINT "address_words" CHECK("__new_orders"."address" is null or (typeof("__new_orders"."address") = 'text' and length(trim("__new_orders"."address")) > 0 and length("__new_orders"."address") <= 1000)),
	CONSTRAINT "reference_words" CHECK("__new_orders"."reference" is null or (typeof("__new_orders"."reference") = 'text' and length(trim("__new_orders"."reference")) > 0 and length("__new_orders"."reference") <= 200)),
	CONSTRAINT "deposit_cents_whole" CHECK("__new_orders"."deposit_cents" is null or (typeof("__new_orders"."deposit_cents") = 'integer' and "__new_orders"."deposit_cents" between 0 and 100000000000)),
	CONSTRAINT "holds_yes_or_no" CHECK("__new_orders"."holds" in (0, 1)),
	CONSTRAINT "postage_cents_whole" CHECK("__new_orders"."postage_cents" is null or (typeof("__new_orders"."postage_cents") = 'integer' and "__new_orders"."postage_cents" between 0 and 100000000000)),
	CONSTRAINT "post_days_whole" CHECK("__new_orders"."post_days" is null or (typeof("__new_orders"."post_days") = 'integer' and "__new_orders"."post_days" between 0 and 365)),
	CONSTRAINT "posted_day_day" CHECK("__new_orders"."posted_day" is null or ("__new_orders"."posted_day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("__new_orders"."posted_day") is "__new_orders"."posted_day")),
	CONSTRAINT "cancelled_day_day" CHECK("__new_orders"."cancelled_day" is null or ("__new_orders"."cancelled_day" glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' and date("__new_orders"."cancelled_day") is "__new_orders"."cancelled_day")),
	CONSTRAINT "remarks_words" CHECK("__new_orders"."remarks" is null or (typeof("__new_orders"."remarks") = 'text' and length(trim("__new_orders"."remarks")) > 0 and length("__new_orders"."remarks") <= 2000)),
	CONSTRAINT "version_whole" CHECK((typeof("__new_orders"."version") = 'integer' and "__new_orders"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
INSERT INTO `__new_orders`("id", "number", "customer_id", "outlet_id", "state", "created_day", "due_day", "arrive_by_day", "valid_until_day", "promised_day", "address", "reference", "deposit_cents", "import_id", "version") SELECT "id", "number", "customer_id", "outlet_id", "state", "created_day", "due_day", "arrive_by_day", "valid_until_day", "promised_day", "address", "reference", "deposit_cents", "import_id", "version" FROM `orders`;--> statement-breakpoint
UPDATE sqlite_sequence SET seq = coalesce((SELECT seq FROM sqlite_sequence WHERE name = 'orders'), seq) WHERE name = '__new_orders';--> statement-breakpoint
DROP TABLE `orders`;--> statement-breakpoint
ALTER TABLE `__new_orders` RENAME TO `orders`;--> statement-breakpoint
PRAGMA foreign_keys=ON;--> statement-breakpoint
CREATE UNIQUE INDEX `orders_number_unique` ON `orders` (`number`);--> statement-breakpoint
CREATE INDEX `orders_state` ON `orders` (`state`);--> statement-breakpoint
CREATE INDEX `orders_reference` ON `orders` (`customer_id`,`reference`);--> statement-breakpoint
CREATE TABLE `__new_outlets` (
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
	`second_off_ratio` real DEFAULT 0.3 NOT NULL,
	`terms` text,
	`least_pairs` integer,
	`shop_share_ratio` real DEFAULT 0 NOT NULL,
	`closed` integer DEFAULT false NOT NULL,
	`version` integer DEFAULT 1 NOT NULL,
	CONSTRAINT "name_words" CHECK((typeof("__new_outlets"."name") = 'text' and length(trim("__new_outlets"."name")) > 0 and length("__new_outlets"."name") <= 200)),
	CONSTRAINT "kind_one_of" CHECK("__new_outlets"."kind" in ('fair', 'order', 'shop', 'gift')),
	CONSTRAINT "rank_whole" CHECK((typeof("__new_outlets"."rank") = 'integer' and "__new_outlets"."rank" between 0 and 9007199254740991)),
	CONSTRAINT "price_rule_one_of" CHECK("__new_outlets"."price_rule" in ('margin', 'markup', 'fixed')),
	CONSTRAINT "price_ratio_measure" CHECK((typeof("__new_outlets"."price_ratio") = 'real' and "__new_outlets"."price_ratio" between 0 and 100)),
	CONSTRAINT "margin_below_1" CHECK("__new_outlets"."price_rule" <> 'margin' or "__new_outlets"."price_ratio" < 1),
	CONSTRAINT "fixed_price_cents_whole" CHECK("__new_outlets"."fixed_price_cents" is null or (typeof("__new_outlets"."fixed_price_cents") = 'integer' and "__new_outlets"."fixed_price_cents" between 0 and 100000000000)),
	CONSTRAINT "fixed_has_price" CHECK(("__new_outlets"."price_rule" = 'fixed') = ("__new_outlets"."fixed_price_cents" is not null)),
	CONSTRAINT "fee_ratio_measure" CHECK((typeof("__new_outlets"."fee_ratio") = 'real' and "__new_outlets"."fee_ratio" between 0 and 1)),
	CONSTRAINT "fee_below_1" CHECK("__new_outlets"."fee_ratio" < 1),
	CONSTRAINT "fee_fixed_cents_whole" CHECK((typeof("__new_outlets"."fee_fixed_cents") = 'integer' and "__new_outlets"."fee_fixed_cents" between 0 and 100000000000)),
	CONSTRAINT "tax_ratio_measure" CHECK((typeof("__new_outlets"."tax_ratio") = 'real' and "__new_outlets"."tax_ratio" between 0 and 1)),
	CONSTRAINT "tax_included_yes_or_no" CHECK("__new_outlets"."tax_included" in (0, 1)),
	CONSTRAINT "rounding_one_of" CHECK("__new_outlets"."rounding" in ('line', 'invoice')),
	CONSTRAINT "ending_cents_whole" CHECK("__new_outlets"."ending_cents" is null or (typeof("__new_outlets"."ending_cents") = 'integer' and "__new_outlets"."ending_cents" between 0 and 99)),
	CONSTRAINT "deposit_ratio_measure" CHECK((typeof("__new_outlets"."deposit_ratio") = 'real' and "__new_outlets"."deposit_ratio" between 0 and 1)),
	CONSTRAINT "second_off_ratio_measure" CHECK((typeof("__new_outlets"."second_off_ratio") = 'real' and "__new_outlets"."second_off_ratio" between 0 and 1)),
	CONSTRAINT "terms_one_of" CHECK("__new_outlets"."terms" is null or "__new_outlets"."terms" in ('wholesale', 'sale or return')),
	CONSTRAINT "least_pairs_whole" CHECK("__new_outlets"."least_pairs" is null or (typeof("__new_outlets"."least_pairs") = 'integer' and "__new_outlets"."least_pairs" between 1 and 10000)),
	CONSTRAINT "shop_share_ratio_measure" CHECK((typeof("__new_outlets"."shop_share_ratio") = 'real' and "__new_outlets"."shop_share_ratio" between 0 and 1)),
	CONSTRAINT "closed_yes_or_no" CHECK("__new_outlets"."closed" in (0, 1)),
	CONSTRAINT "version_whole" CHECK((typeof("__new_outlets"."version") = 'integer' and "__new_outlets"."version" between 1 and 9007199254740991))
);
--> statement-breakpoint
INSERT INTO `__new_outlets`("id", "name", "kind", "rank", "price_rule", "price_ratio", "fixed_price_cents", "fee_ratio", "fee_fixed_cents", "tax_ratio", "tax_included", "rounding", "ending_cents", "deposit_ratio", "closed", "version") SELECT "id", "name", "kind", "rank", "price_rule", "price_ratio", "fixed_price_cents", "fee_ratio", "fee_fixed_cents", "tax_ratio", "tax_included", "rounding", "ending_cents", "deposit_ratio", "closed", "version" FROM `outlets`;--> statement-breakpoint
UPDATE sqlite_sequence SET seq = coalesce((SELECT seq FROM sqlite_sequence WHERE name = 'outlets'), seq) WHERE name = '__new_outlets';--> statement-breakpoint
DROP TABLE `outlets`;--> statement-breakpoint
ALTER TABLE `__new_outlets` RENAME TO `outlets`;--> statement-breakpoint
CREATE UNIQUE INDEX `outlets_name_unique` ON `outlets` (`name`);