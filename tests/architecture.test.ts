import { describe, expect, it } from 'vitest';
import { faultOf } from '#tests/support/import-rules.ts';
import { importsIn } from '#tests/support/imports.ts';
import { sourceFilesIn } from '#tests/support/source-files.ts';

const files = ['src', 'db', 'views'].flatMap(sourceFilesIn);

/** Every import of a source text that its place does not allow. */
function faultsOf(path: string, text: string): string[] {
  return importsIn(text)
    .map((imported) => faultOf(path, imported))
    .filter((fault) => fault !== null);
}

describe('imports point inward', () => {
  it('in every source file', () => {
    expect(files.length).toBeGreaterThan(20);
    expect(files.flatMap(({ path, text }) => faultsOf(path, text))).toEqual([]);
  });

  it.each([
    ['src/core/pricing/price.ts', "import { open } from '#db/open.ts';"],
    ['src/core/pricing/price.ts', "import { readFileSync } from 'node:fs';"],
    ['src/core/pricing/price.ts', "import { addDays } from 'date-fns';"],
    ['src/core/pricing/price.ts', "import { z } from 'zod';"],
    ['src/core/pricing/price.ts', "export { open } from '#db/open.ts';"],
    ['src/core/pricing/price.ts', "import type { Context } from 'hono';"],
    ['src/core/pricing/price.ts', "const fs = await import('node:fs');"],
    ['src/core/pricing/price.ts', "import {\n  one,\n  two,\n} from '#flows/a.ts';"],
    ['src/core/pricing/price.ts', "import { netOf } from './outlet.ts';"],
    ['src/core/pricing/price.ts', "import { netOf } from '#core/pricing/outlet';"],
    ['db/stores/outlets.ts', "import { netOf } from '#core/pricing/price.ts';"],
    ['db/stores/outlets.ts', "import { createApp } from '#server/app.ts';"],
    ['db/stores/outlets.ts', "import { type Outlet, netOf } from '#core/pricing/outlet.ts';"],
    ['src/flows/add-order.ts', "import { createApp } from '#server/app.ts';"],
    ['src/flows/add-order.ts', "import { html } from 'hono/html';"],
    ['src/flows/add-order.ts', "import { Layout } from '#views/layout.tsx';"],
    ['views/pages/prices.tsx', "import { netOf } from '#core/pricing/price.ts';"],
    ['views/pages/prices.tsx', "import type { Store } from '#db/store.ts';"],
    ['src/server/routes/prices.tsx', "import { eq } from 'drizzle-orm';"],
    ['src/commands/plan.ts', "import { createApp } from '#server/app.ts';"],
    ['src/commands/setup.mjs', "import { z } from 'zod';"],
    ['src/solver/search.ts', "import highs from 'highs';"],
    ['src/other.ts', "import { createApp } from '#server/app.ts';"],
  ])('sees that %s must not hold %s', (path, text) => {
    expect(faultsOf(path, text)).toHaveLength(1);
  });

  it.each([
    ['src/core/shared/calendar.ts', "import { addDays } from 'date-fns';"],
    ['src/core/pricing/price.ts', "import type { Outlet } from '#core/pricing/outlet.ts';"],
    ['src/core/pricing/price.ts', "// import { open } from '#db/open.ts';"],
    ['src/core/pricing/price.ts', "/**\n * import { open } from '#db/open.ts';\n */"],
    ['db/stores/outlets.ts', "import type { Outlet } from '#core/pricing/outlet.ts';"],
    ['db/stores/outlets.ts', "import { type Outlet, type PriceRule } from '#core/pricing/outlet.ts';"],
    ['db/stores/outlets.ts', "import { splitCents } from '#core/shared/money.ts';"],
    ['views/pages/prices.tsx', "import { formatCents } from '#core/shared/format.ts';"],
    ['src/flows/add-order.ts', "import { netOf } from '#core/pricing/price.ts';"],
    ['src/main.ts', "import { createApp } from '#server/app.ts';"],
  ])('lets %s hold %s', (path, text) => {
    expect(faultsOf(path, text)).toEqual([]);
  });
});
