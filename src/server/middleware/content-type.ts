import { createMiddleware } from 'hono/factory';
import type { AppEnv } from '#server/app.ts';
import { answerRefusal } from '#server/errors.ts';
import { isReading } from '#server/middleware/origin.ts';

const formTypes = ['application/x-www-form-urlencoded', 'multipart/form-data'];

/** Takes forms alone; other kinds of body could be sent across sites without the browser asking first. */
export const checkContentType = createMiddleware<AppEnv>(async function checkContentType(c, next) {
  if (isReading(c)) return next();
  const type = (c.req.header('content-type') ?? '').split(';')[0]!.trim().toLowerCase();
  if (formTypes.includes(type)) return next();
  return answerRefusal(c, 415, {
    title: 'That is not a form',
    sentence: 'Nothing was changed. Send the page’s own form, or a file chosen in it.',
  });
});
