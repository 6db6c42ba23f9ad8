import { describe, expect, it } from 'vitest';
import { returnPath, signInPath } from '#server/session/return-path.ts';

describe('returnPath', () => {
  it.each(['/orders', '/orders/7?show=late', '/working/method', '/?kept=a.db'])('goes back to %s', (path) => {
    expect(returnPath(path)).toBe(path);
  });

  it.each([
    undefined,
    '',
    'orders',
    'https://elsewhere.example/',
    '//elsewhere.example',
    '///elsewhere.example',
    '/\\elsewhere.example',
    '\\\\elsewhere.example',
    '/\t/elsewhere.example',
    '/\n/elsewhere.example',
    '/.//elsewhere.example',
    '/x/..//elsewhere.example',
    ' //elsewhere.example',
    'javascript:alert(1)',
    '/sign-in',
    '/sign-in?to=/sign-in',
    '/sign-out',
  ])('goes to the first page rather than %j', (asked) => {
    expect(returnPath(asked)).toBe('/');
  });
});

describe('signInPath', () => {
  it('carries the page along', () => {
    expect(signInPath('/orders/7?show=late&x=1')).toBe('/sign-in?to=%2Forders%2F7%3Fshow%3Dlate%26x%3D1');
    expect(signInPath('/')).toBe('/sign-in');
  });
});
