import { type ChildProcess, spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { createServer } from 'node:net';

async function freePort(): Promise<number> {
  return await new Promise((resolve) => {
    const probe = createServer().listen(0, '127.0.0.1', () => {
      const address = probe.address();
      probe.close(() => resolve(typeof address === 'object' && address ? address.port : 0));
    });
  });
}

export type Served = { readonly address: string; readonly process: ChildProcess; readonly firstAnswerMs: number };

export async function start(script: string, env: Record<string, string>): Promise<Served> {
  const port = await freePort();
  const began = performance.now();
  const child = spawn(
    process.execPath,
    ['--max-old-space-size=192', '--max-semi-space-size=8', '--import', 'tsx', script],
    {
      env: { ...process.env, ...env, PORT: String(port) },
      stdio: ['ignore', 'ignore', 'inherit'],
    },
  );
  const address = `http://127.0.0.1:${port}`;
  for (;;) {
    try {
      const answer = await fetch(`${address}/`);
      await answer.text();
      return { address, process: child, firstAnswerMs: performance.now() - began };
    } catch {
      if (performance.now() - began > 30_000) throw new Error(`${script} did not answer within 30 s`);
      await new Promise((resolve) => setTimeout(resolve, 20));
    }
  }
}

export async function stop({ process: child }: Served): Promise<void> {
  const ended = new Promise((resolve) => child.once('exit', resolve));
  child.kill('SIGTERM');
  await ended;
}

/** Resident memory of a process, MB; read where the system tells it. */
export function residentMb({ process: child }: Served): number {
  const status = readFileSync(`/proc/${child.pid}/status`, 'utf8');
  return Number(/VmRSS:\s+(\d+)/.exec(status)?.[1] ?? Number.NaN) / 1024;
}
