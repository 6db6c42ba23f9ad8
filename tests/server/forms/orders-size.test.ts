import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { filledForm, type OrdersWorkshop, openOrdersWorkshop } from '#tests/server/orders-workshop.ts';
import { postForm } from '#tests/support/form.ts';

let opened: OrdersWorkshop;
beforeEach(async () => {
  opened = await openOrdersWorkshop();
});
afterEach(() => opened.workshop.discard());

describe('a size typed into the form of an order', () => {
  it.each([
    ['woman', '24.5', 'For a foot of 24.5 cm choose “measured feet”.'],
    ['child', '5', 'For a child of 5 years choose “a child’s age”.'],
    ['woman', 'M', 'For a band, like 38/39 or M, choose “a band”; for the length of the foot choose “measured feet”.'],
    ['woman', '38/39', 'For a band, like 38/39 or M, choose “a band”;'],
    ['woman', 'abc', 'For a band, like 38/39 or M, choose “a band”;'],
  ])('of a %s, EU %s: says what was likely meant, at the field', async (person, label, hint) => {
    const answer = await postForm(opened.app, '/orders', { ...filledForm(opened), person, system: 'EU', label });
    const page = await answer.text();
    expect(answer.status).toBe(422);
    expect(page).toContain('href="#field-label"');
    expect(page).toContain(`You typed “${label}”. ${hint}`);
    expect(page).toContain(`value="${label}"`);
  });

  it('says no more than what is wrong where nothing is likely', async () => {
    const answer = await postForm(opened.app, '/orders', { ...filledForm(opened), system: 'EU', label: '99' });
    expect(await answer.text()).not.toMatch(/You typed “99”\. For/);
  });
});
