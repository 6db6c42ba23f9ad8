// The same ways as in the quick tests, without scripts.
process.env.THOROUGH = 'yes';
await import('#tests/browser/walk.test.ts');
await import('#tests/browser/quote.test.ts');
await import('#tests/browser/selling.test.ts');
