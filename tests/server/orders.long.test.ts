import { describe, it } from 'vitest';
import { checkMany, checkOrderForm, checkOrderTable, orderForms, orderTables } from '#tests/server/orders-inputs.ts';

describe('ten thousand inputs, half of them forms and half tables,', () => {
  it('store an order whole or not at all', async () => {
    await checkMany(orderForms, checkOrderForm, 5000);
  }, 900_000);

  it('import a table whole or not at all', async () => {
    await checkMany(orderTables, checkOrderTable, 5000);
  }, 900_000);
});
