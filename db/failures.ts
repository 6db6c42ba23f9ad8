import { LibsqlError } from '@libsql/client';
import { AppError } from '#core/shared/app-error.ts';

// drizzle wraps the driver's error, and its message holds every value of the statement: read the cause, show neither.
function findDriverError(error: unknown): LibsqlError | null {
  for (let each = error; each instanceof Error; each = each.cause as unknown) {
    if (each instanceof LibsqlError) return each;
  }
  return null;
}

const spoilingCodes = ['SQLITE_BUSY', 'SQLITE_LOCKED', 'SQLITE_READONLY', 'SQLITE_FULL', 'SQLITE_IOERR'];

/** Whether the connection that met this error must not be used again. */
export function isPoisoned(error: unknown): boolean {
  const code = findDriverError(error)?.code;
  return code !== undefined && spoilingCodes.includes(code);
}

/** Whether a query lost its connection to a reconnect, and may be asked again. */
export function wasClosedUnderway(error: unknown): boolean {
  return findDriverError(error)?.code === 'CLIENT_CLOSED';
}

const cannotOpen = 'The workshop file cannot be opened. Check that its folder exists and may be written to.';

// The native driver throws this one without a code.
function isOpenFailure(error: unknown): boolean {
  return error instanceof Error && /unable to open/i.test(error.message);
}

/** The database's trouble in a sentence for people; whatever is not known comes back as it is. */
export function explainFailure(error: unknown): unknown {
  if (error instanceof AppError) return error;
  const driverError = findDriverError(error);
  if (!driverError) return isOpenFailure(error) ? new AppError('readOnly', cannotOpen, { cause: error }) : error;
  // The driver's own error is the cause: drizzle's would carry the values of the statement into the log.
  const more = { cause: driverError };
  const details = `${driverError.extendedCode ?? ''} ${driverError.message}`;
  switch (driverError.code) {
    case 'SQLITE_BUSY':
    case 'SQLITE_LOCKED':
      return new AppError(
        'busy',
        'Another program is using the workshop file. Nothing was saved; wait a moment and try again.',
        more,
      );
    case 'SQLITE_READONLY':
    case 'SQLITE_PERM':
      return new AppError(
        'readOnly',
        'The workshop file may only be read, so nothing was saved. Allow writing to the file and its folder, then try again.',
        more,
      );
    case 'SQLITE_CANTOPEN':
      return new AppError('readOnly', cannotOpen, more);
    case 'SQLITE_FULL':
      return new AppError('diskFull', 'The disk is full, so nothing was saved. Free some space and try again.', more);
    case 'SQLITE_CONSTRAINT':
      if (/UNIQUE/.test(details)) {
        return new AppError('conflict', 'That is there already. Choose another name or change the one there is.', more);
      }
      if (/FOREIGN ?KEY/.test(details)) {
        return new AppError('conflict', 'Something else still needs this, or what it belongs to is gone.', more);
      }
      return error;
    default:
      return error;
  }
}
