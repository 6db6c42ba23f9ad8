import type { Context } from 'hono';
import type { AppEnv } from '#server/app.ts';
import { type FormBody, textOf } from '#server/forms/fields.ts';
import { renderPage } from '#server/render.tsx';
import { FinishPage, type FinishPageProps } from '#views/pages/batch/finish-page.tsx';

/** Asks whether to finish a pair all the same; the answer is the same press with what it said, and that it is sure. */
export function renderFinish(
  c: Context<AppEnv>,
  asked: Pick<FinishPageProps, 'purpose' | 'pairId' | 'missing'>,
  body: FormBody,
) {
  const said = ['step', 'version', 'back', 'piece', 'slipper'].filter((name) => textOf(body, name) !== '');
  const fields = Object.fromEntries(said.map((name) => [name, textOf(body, name)]));
  return renderPage(c, <FinishPage {...asked} action={c.req.path} fields={fields} />, 422);
}
