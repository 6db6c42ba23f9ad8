import { describe, expect, it } from 'vitest';
import { addressesToOpen, ownAddresses } from '#server/session/own-addresses.ts';

const one = (address: string, family: 'IPv4' | 'IPv6', internal = false) => ({
  address,
  family,
  internal,
  netmask: '',
  mac: '',
  cidr: null,
  ...(family === 'IPv6' ? { scopeid: 0 } : {}),
});
const interfaces = {
  lo: [one('127.0.0.1', 'IPv4', true), one('::1', 'IPv6', true)],
  wifi: [one('192.168.1.20', 'IPv4'), one('fe80::1', 'IPv6'), one('2001:db8::7', 'IPv6')],
} as Parameters<typeof ownAddresses>[1];

describe('ownAddresses', () => {
  it.each([
    ['127.0.0.1', []],
    ['localhost', []],
    ['::1', []],
    ['0.0.0.0', ['192.168.1.20']],
    ['::', ['192.168.1.20', '[2001:db8::7]']],
    ['192.168.1.20', ['192.168.1.20']],
    ['2001:DB8:0::7', ['[2001:db8::7]']],
  ])('listening at %s: %j', (host, addresses) => {
    expect(ownAddresses(host, interfaces)).toEqual(addresses);
  });
});

describe('addressesToOpen', () => {
  it('names this machine alone where it listens there', () => {
    expect(addressesToOpen({ host: '::1', port: 4173, publicUrl: null }, interfaces)).toEqual(['http://[::1]:4173']);
  });

  it('names what a phone can open, and the public address', () => {
    const publicUrl = 'https://knitting.example';
    expect(addressesToOpen({ host: '0.0.0.0', port: 4173, publicUrl }, interfaces)).toEqual([
      'http://127.0.0.1:4173',
      'http://192.168.1.20:4173 (from the home network)',
      'https://knitting.example (from outside)',
    ]);
  });
});
