import { describe, expect, it } from 'vitest';
import { isReachedByOthers, readConfig } from '#server/config.ts';

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
    const result = readConfig({
      HOST: 'knit.example',
      PORT: '4173x',
      PUBLIC_URL: 'knitting.example',
      DATABASE_URL: 'x.db',
    });
    expect(result.ok ? [] : result.problems.map((problem) => problem.path)).toEqual([
      'HOST',
      'PORT',
      'PUBLIC_URL',
      'DATABASE_URL',
    ]);
  });

  it.each(['0.0.0.0', '192.168.1.20', '::', 'localhost'])('listens at %s when told to', (host) => {
    expect(readConfig({ HOST: host })).toMatchObject({ ok: true, value: { host } });
  });

  it.each(['knit.example', '192.168.1', '0', '*', '192.168.1.20:4173'])('refuses %s as HOST', (host) => {
    expect(readConfig({ HOST: host }).ok).toBe(false);
  });

  it.each(['0', '65536', '-1', '1e3', '80.5'])('refuses port %s', (port) => {
    expect(readConfig({ PORT: port }).ok).toBe(false);
  });

  it.each(['ftp://knitting.example', 'https://knitting.example/shop', 'https://user@knitting.example', 'file:'])(
    'refuses %s as a public address',
    (url) => expect(readConfig({ PUBLIC_URL: url }).ok).toBe(false),
  );
});

describe('isReachedByOthers', () => {
  it.each([
    ['127.0.0.1', null, false],
    ['localhost', null, false],
    ['::1', null, false],
    ['127.0.0.1', 'http://localhost:8080', false],
    ['127.0.0.1', 'http://[::1]:8080', false],
    ['0.0.0.0', null, true],
    ['::', null, true],
    ['192.168.1.20', null, true],
    // Something on this machine passes on what is sent there.
    ['127.0.0.1', 'https://knitting.example', true],
  ])('listening at %s with the public address %s: %s', (host, publicUrl, isReached) => {
    expect(isReachedByOthers({ host, publicUrl })).toBe(isReached);
  });
});
