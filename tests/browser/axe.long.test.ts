// The same pages and forms as in the quick tests, in every width and scheme.
process.env.EVERY_VIEW = 'yes';
await import('#tests/browser/axe.test.ts');
