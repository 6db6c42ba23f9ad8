import { describe, it } from 'vitest';
import { checkMany, checkOrderForm, checkOrderTable, orderForms, orderTables } from '#tests/server/orders-inputs.ts';

describe('whatever is sent', () => {
  it('stores an order whole or not at all', async () => {
    await checkMany(orderForms, checkOrderForm, 200);
  }, 60_000);

  it('imports a table whole or not at all', async () => {
    await checkMany(orderTables, checkOrderTable, 200);
  }, 60_000);
});
