import type { Hono } from 'hono';
import type { AppEnv } from '#server/app.ts';

/** Sends a form as a browser on one of our own pages would; several values of one name as a list. */
export async function postForm(
  app: Hono<AppEnv>,
  path: string,
  fields: Readonly<Record<string, string | readonly string[]>>,
  headers: Readonly<Record<string, string>> = {},
): Promise<Response> {
  const body = new URLSearchParams();
  for (const [name, value] of Object.entries(fields)) {
    for (const each of typeof value === 'string' ? [value] : value) body.append(name, each);
  }
  return app.request(path, {
    method: 'POST',
    body,
    headers: { Origin: 'http://localhost', 'Content-Type': 'application/x-www-form-urlencoded', ...headers },
  });
}

/** What stands in a box of a page; undefined where there is no such box. */
export function boxOf(html: string, name: string): string | undefined {
  const box = (html.match(/<input[^>]*>/g) ?? []).find((each) => each.includes(` name="${name}"`));
  return box && (/ value="([^"]*)"/.exec(box)?.[1] ?? '');
}

/** The answers to all that a page asks about: what ticking its boxes sends. */
export function answersOn(html: string): Record<string, string> {
  const boxes = html.match(/<input type="checkbox" name="sure-[^>]*>/g) ?? [];
  const plain = (text = '') => text.replaceAll('&quot;', '"').replaceAll('&#39;', "'").replaceAll('&amp;', '&');
  return Object.fromEntries(
    boxes.map((box) => [/name="([^"]*)"/.exec(box)![1]!, plain(/value="([^"]*)"/.exec(box)?.[1])]),
  );
}

/** Sends a form, and says yes to whatever it asks about. */
export async function postSurely(
  app: Hono<AppEnv>,
  path: string,
  fields: Readonly<Record<string, string | readonly string[]>>,
): Promise<Response> {
  const answer = await postForm(app, path, fields);
  if (answer.status !== 422) return answer;
  return postForm(app, path, { ...fields, ...answersOn(await answer.text()) });
}
