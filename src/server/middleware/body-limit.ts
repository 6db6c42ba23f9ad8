import { bodyLimit } from 'hono/body-limit';
import { createMiddleware } from 'hono/factory';
import type { AppEnv } from '#server/app.ts';
import { answerRefusal } from '#server/errors.ts';
import { isReading } from '#server/middleware/origin.ts';

const bodyLimitBytes = 2 * 1024 * 1024;

const limit = bodyLimit({
  maxSize: bodyLimitBytes,
  onError: (c) =>
    answerRefusal(c, 413, {
      title: 'That is too much at once',
      sentence: 'Nothing was changed. A form or file may hold up to 2 MB: send it in smaller parts.',
    }),
});

/** Reads no more than 2 MB of a form; measured on writes alone, because the check costs reading pages dearly. */
export const limitBody = createMiddleware<AppEnv>(async function limitBody(c, next) {
  return isReading(c) ? next() : limit(c, next);
});
