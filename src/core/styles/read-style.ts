import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import { type StyleBody, styleFormat } from '#core/styles/style.ts';

/**
 * Reads a style body from JSON text. Older formats would be raised here step by step; a newer one is refused.
 *
 * @param text JSON of a style body, with its `format`
 * @returns the body, or what is wrong with it
 * @example readStyle('{}').ok // => false
 */
export function readStyle(text: string): Result<StyleBody> {
  let body: unknown;
  try {
    body = JSON.parse(text);
  } catch {
    return refuse({ code: 'style-json', path: 'body', message: 'This is not a style: the text is not JSON.' });
  }
  if (typeof body !== 'object' || body === null || !('format' in body) || typeof body.format !== 'number') {
    return refuse({ code: 'style-format', path: 'format', message: 'This is not a style: it has no format number.' });
  }
  if (body.format > styleFormat) {
    const message = `This style is of format ${body.format}, newer than this program knows (${styleFormat}).`;
    return refuse({ code: 'style-newer', path: 'format', message });
  }
  return succeed(body as StyleBody);
}
