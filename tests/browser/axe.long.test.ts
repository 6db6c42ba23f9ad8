// Every page and every faulty form, in every width and scheme.
process.env.THOROUGH = 'yes';
await import('#tests/browser/axe.test.ts');
