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

/** A copy of a workshop is a whole database: years of work are some 10 MB. */
const copyPath = '/settings/copy';
const copyLimitBytes = 32 * 1024 * 1024;

const limitCopy = bodyLimit({
  maxSize: copyLimitBytes,
  onError: (c) =>
    answerRefusal(c, 413, {
      title: 'That file is too large',
      sentence:
        'Nothing was changed. A copy opened here may hold up to 32 MB; a larger one is put back with the program stopped, by replacing its file.',
    }),
});

/** Forms with a file say themselves that it is too large, and keep what was typed; what is larger yet is not read. */
const filePaths: readonly string[] = ['/orders/import', '/buying/prices/import', '/styles/import'];
const fileLimitBytes = 16 * 1024 * 1024;

const limitFile = bodyLimit({
  maxSize: fileLimitBytes,
  onError: (c) =>
    answerRefusal(
      c,
      413,
      {
        title: 'That file is too large',
        sentence: 'Nothing was changed. A file may have up to 2 MB: split it, and send the parts one after the other.',
      },
      { href: c.req.path, words: 'Back to the form' },
    ),
});

/** Reads no more than 2 MB of a form (16 MB with a file, 32 MB of a copy); measured on writes alone, because the check costs reading pages dearly. */
export const limitBody = createMiddleware<AppEnv>(async function limitBody(c, next) {
  if (isReading(c)) return next();
  if (c.req.path === copyPath) return limitCopy(c, next);
  return filePaths.includes(c.req.path) ? limitFile(c, next) : limit(c, next);
});
