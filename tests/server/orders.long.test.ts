import { describe, it } from 'vitest';
import { checkMany, checkOrderForm, checkOrderTable, orderForms, orderTables } from '#tests/server/orders-inputs.ts';

describe('ten thousand inputs', () => {
  it('store an order whole or not at all', async () => {
    await checkMany(orderForms, checkOrderForm, 10_000);
  }, 900_000);

  it('import a table whole or not at all', async () => {
    await checkMany(orderTables, checkOrderTable, 10_000);
  }, 900_000);
});
