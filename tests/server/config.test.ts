import { describe, expect, it } from 'vitest';
import { readConfig } from '#server/config.ts';

describe('readConfig', () => {
  it('serves this machine alone when nothing is set', () => {
    expect(readConfig({})).toEqual({
      ok: true,
      value: { host: '127.0.0.1', port: 4173, publicUrl: null, databaseUrl: 'file:.data/workshop.db' },
    });
  });

  it('takes what is set, and an empty variable as none', () => {
    const env = { HOST: '::1', PORT: '8080', PUBLIC_URL: 'https://Knitting.example/', DATABASE_URL: '' };
    expect(readConfig(env)).toEqual({
      ok: true,
      value: { host: '::1', port: 8080, publicUrl: 'https://knitting.example', databaseUrl: 'file:.data/workshop.db' },
    });
  });

  it('lists every fault at once', () => {
    const result = readConfig({ HOST: '0.0.0.0', PORT: '4173x', PUBLIC_URL: 'knitting.example', DATABASE_URL: 'x.db' });
    expect(result.ok ? [] : result.problems.map((problem) => problem.path)).toEqual([
      'HOST',
      'PORT',
      'PUBLIC_URL',
      'DATABASE_URL',
    ]);
  });

  it('says why another address than this machine is refused', () => {
    const result = readConfig({ HOST: '192.168.1.20' });
    expect(result.ok ? '' : result.problems[0]?.message).toContain('no passphrase yet');
  });

  it.each(['0', '65536', '-1', '1e3', '80.5'])('refuses port %s', (port) => {
    expect(readConfig({ PORT: port }).ok).toBe(false);
  });

  it.each(['ftp://knitting.example', 'https://knitting.example/shop', 'https://user@knitting.example', 'file:'])(
    'refuses %s as a public address',
    (url) => expect(readConfig({ PUBLIC_URL: url }).ok).toBe(false),
  );
});
