CREATE TABLE `passphrase` (
	`id` integer PRIMARY KEY NOT NULL,
	`hash` text NOT NULL,
	CONSTRAINT "only_one" CHECK("passphrase"."id" = 1),
	CONSTRAINT "hash_words" CHECK((typeof("passphrase"."hash") = 'text' and length(trim("passphrase"."hash")) > 0 and length("passphrase"."hash") <= 200))
);
--> statement-breakpoint
CREATE TABLE `sessions` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`token_hash` text NOT NULL,
	`born_ms` integer NOT NULL,
	`last_seen_ms` integer NOT NULL,
	`expires_ms` integer NOT NULL,
	CONSTRAINT "token_hash_words" CHECK((typeof("sessions"."token_hash") = 'text' and length(trim("sessions"."token_hash")) > 0 and length("sessions"."token_hash") <= 200)),
	CONSTRAINT "born_ms_whole" CHECK((typeof("sessions"."born_ms") = 'integer' and "sessions"."born_ms" between 0 and 9007199254740991)),
	CONSTRAINT "last_seen_ms_whole" CHECK((typeof("sessions"."last_seen_ms") = 'integer' and "sessions"."last_seen_ms" between 0 and 9007199254740991)),
	CONSTRAINT "expires_ms_whole" CHECK((typeof("sessions"."expires_ms") = 'integer' and "sessions"."expires_ms" between 0 and 9007199254740991))
);
--> statement-breakpoint
CREATE UNIQUE INDEX `sessions_token_hash_unique` ON `sessions` (`token_hash`);