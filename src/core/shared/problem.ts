/** One thing wrong with what was entered: a stable code, the field it belongs to, and a sentence that says what to do. */
export type Problem = {
  readonly code: string;
  readonly path: string;
  readonly message: string;
  /** Odd, yet possible: it stands once somebody said that it is right. */
  readonly question?: Question;
};

export type Question = {
  /** What is said by ticking it: "Yes, they paid €80.00". */
  readonly yes: string;
  /** What was asked about, so that an answer holds for that alone. */
  readonly about: string;
  readonly isAnswered: boolean;
};

/** An expected outcome is a value: either the thing asked for, or every problem at once. */
export type Result<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/**
 * The outcome that worked.
 *
 * @example succeed(3) // => { ok: true, value: 3 }
 */
export function succeed<T>(value: T): Result<T> {
  return { ok: true, value };
}

/**
 * The outcome that did not, with every problem at once.
 *
 * @example refuse({ code: 'a', path: 'b', message: 'c' }).ok // => false
 */
export function refuse(...problems: readonly Problem[]): { readonly ok: false; readonly problems: readonly Problem[] } {
  return { ok: false, problems };
}
