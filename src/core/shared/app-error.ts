/** What can go wrong outside the program's own logic, each with a page of its own. */
export type AppErrorCode = 'notFound' | 'conflict' | 'busy' | 'readOnly' | 'diskFull' | 'newerSchema' | 'solverStopped';

/** A failed operation. The message is a plain sentence for the user: what happened and what to do; the cause is for the log. */
export class AppError extends Error {
  readonly code: AppErrorCode;
  /** For a conflict: the record as somebody else has left it. */
  readonly current: unknown;

  constructor(code: AppErrorCode, message: string, options?: { readonly cause?: unknown; readonly current?: unknown }) {
    super(message, options);
    this.name = 'AppError';
    this.code = code;
    this.current = options?.current;
  }
}
