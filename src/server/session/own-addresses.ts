import { isIP } from 'node:net';
import { networkInterfaces } from 'node:os';
import type { Config } from '#server/config.ts';

type Interfaces = ReturnType<typeof networkInterfaces>;

const everyAddress = ['0.0.0.0', '::'];
const loopbackHosts = ['127.0.0.1', 'localhost', '::1'];

/**
 * The addresses beyond loopback at which a program that listens at `host` is reached, as a browser writes them: all of
 * this machine's on a network for `0.0.0.0` and `::`, else the one. Addresses that hold on one cable alone (`fe80:...`)
 * cannot be typed into a browser and are left out.
 */
export function ownAddresses(host: string, interfaces: Interfaces = networkInterfaces()): readonly string[] {
  if (loopbackHosts.includes(host)) return [];
  const inBrowser = (address: string) => (isIP(address) === 6 ? new URL(`http://[${address}]`).hostname : address);
  if (!everyAddress.includes(host)) return [inBrowser(host)];
  return Object.values(interfaces)
    .flatMap((each) => each ?? [])
    .filter(
      ({ internal, address, family }) =>
        !internal && !address.startsWith('fe80:') && (host === '::' || family === 'IPv4'),
    )
    .map(({ address }) => inBrowser(address));
}

/** The addresses to open, the shortest way first, each with the words for whom it is. */
export function addressesToOpen(
  { host, port, publicUrl }: Pick<Config, 'host' | 'port' | 'publicUrl'>,
  interfaces?: Interfaces,
): readonly string[] {
  const isEvery = everyAddress.includes(host);
  const isLoopback = loopbackHosts.includes(host);
  const here = isEvery ? ['127.0.0.1'] : isLoopback ? [host === '::1' ? '[::1]' : host] : [];
  return [
    ...here.map((name) => `http://${name}:${port}`),
    ...ownAddresses(host, interfaces).map((name) => `http://${name}:${port} (from the home network)`),
    ...(publicUrl === null ? [] : [`${publicUrl} (from outside)`]),
  ];
}
